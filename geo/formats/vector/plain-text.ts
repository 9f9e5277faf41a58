/** Ends of elements that begin a new line when a page is shown. */
const BREAKS = new Set(['br', 'p', 'div', 'tr', 'li', 'ul', 'ol', 'table', 'h1', 'h2', 'h3', 'hr']);
const SILENT = new Set(['script', 'style', 'head', 'title']);
const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
  nbsp: ' ',
};

/**
 * The words of a description that may be markup, as plain text: tags out, scripts and styles out
 * with what stands in them, a line per row or paragraph, cells of a row joined by ": ". Text without
 * a tag comes back trimmed and otherwise unchanged. One pass, whatever the input. Never throws.
 * Example: `<tr><td>Acres</td><td>3.1</td></tr>` gives "Acres: 3.1".
 */
export function plainText(text: string): string {
  if (!/<[a-zA-Z!/]/.test(text)) return text.trim();
  const pieces: string[] = [];
  let silent: string | null = null;
  let at = 0;
  while (at < text.length) {
    const open = text.indexOf('<', at);
    if (silent === null) pieces.push(decodeEntities(text.slice(at, open < 0 ? undefined : open)));
    if (open < 0) break;
    const isComment = text.startsWith('<!--', open);
    const end = isComment ? text.indexOf('-->', open + 4) : text.indexOf('>', open);
    if (end < 0) break;
    const tag = /^<(\/?)([a-zA-Z0-9]{1,20})/.exec(text.slice(open, open + 24));
    const name = tag?.[2].toLowerCase() ?? '';
    const isEnd = tag?.[1] === '/';
    if (silent !== null) silent = isEnd && name === silent ? null : silent;
    else if (SILENT.has(name) && !isEnd) silent = name;
    else if (BREAKS.has(name)) pieces.push('\n');
    else if ((name === 'td' || name === 'th') && isEnd) pieces.push('\t');
    at = end + (isComment ? 3 : 1);
  }
  return pieces
    .join('')
    .split('\n')
    .map(joinCells)
    .filter((line) => line !== '')
    .join('\n');
}

function joinCells(line: string): string {
  return line
    .split('\t')
    .map((cell) => cell.split(/\s/).filter(Boolean).join(' '))
    .filter((cell) => cell !== '')
    .join(': ');
}

function decodeEntities(text: string): string {
  return text.replace(/&(#\d{1,7}|#x[0-9a-f]{1,6}|[a-z]{2,6});/gi, (whole, name: string) => {
    if (name[0] !== '#') return ENTITIES[name.toLowerCase()] ?? whole;
    const code = /^#x/i.test(name) ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1));
    const isShown = code >= 32 && code <= 0x10ffff && !(code >= 0xd800 && code <= 0xdfff);
    return isShown ? String.fromCodePoint(code) : ' ';
  });
}

/**
 * A name on one line, as the file has it: markup stays as the letters it is made of, control
 * characters and runs of blanks become one blank, at most 200 letters.
 */
export function plainName(text: string): string {
  return text
    .slice(0, 2000)
    .split(/[\s\p{Cc}]/u)
    .filter(Boolean)
    .join(' ')
    .slice(0, 200);
}
