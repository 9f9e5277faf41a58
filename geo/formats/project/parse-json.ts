/** Deeper than any plan goes; what is deeper would only overflow whoever walks it. */
const MOST_DEPTH = 64;

/** The value of a JSON text, or undefined where it is none or nested deeper than 64. Never throws. */
export function parseJson(text: string): unknown {
  if (depthOf(text) > MOST_DEPTH) return undefined;
  try {
    return JSON.parse(text.replace(/^\ufeff/, ''));
  } catch {
    return undefined;
  }
}

/** Deepest nesting of brackets outside of strings. */
function depthOf(text: string): number {
  let depth = 0;
  let deepest = 0;
  let inString = false;
  for (let i = 0; i < text.length; i++) {
    const letter = text.charCodeAt(i);
    if (inString) {
      if (letter === 0x5c) i++;
      else if (letter === 0x22) inString = false;
    } else if (letter === 0x22) inString = true;
    else if (letter === 0x7b || letter === 0x5b) deepest = Math.max(deepest, ++depth);
    else if (letter === 0x7d || letter === 0x5d) depth--;
  }
  return deepest;
}
