/**
 * Short names for what an answer read, so that a result can be found again when its inputs return.
 */

const known = new WeakMap<object, string>();

/**
 * Name of a plain value: equal values have equal names; two different ones share a name with a
 * chance of about 2^-53. Objects are taken as immutable: their name is remembered.
 */
export function fingerprint(value: unknown): string {
  if (typeof value !== 'object' || value === null) return hashText(String(JSON.stringify(value)));
  let name = known.get(value);
  if (name === undefined) {
    name = hashText(JSON.stringify(value));
    known.set(value, name);
  }
  return name;
}

/** Two 32-bit multiplicative hashes over the characters, mixed as MurmurHash3's finaliser does. */
export function hashText(text: string): string {
  let a = 0x9e3779b9;
  let b = 0x85ebca6b;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    a = Math.imul(a ^ code, 0xcc9e2d51);
    a = (a << 13) | (a >>> 19);
    b = Math.imul(b ^ code, 0x1b873593);
    b = (b << 17) | (b >>> 15);
  }
  a = Math.imul(a ^ (a >>> 16) ^ text.length, 0x85ebca6b);
  b = Math.imul(b ^ (b >>> 16) ^ a, 0xc2b2ae35);
  a ^= b >>> 13;
  return (((b >>> 0) & 0x1fffff) * 4294967296 + (a >>> 0)).toString(36);
}
