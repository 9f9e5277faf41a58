/**
 * PackBits (TIFF 6.0 section 9): a count byte, then a literal run or one byte to repeat.
 *
 * @returns how many bytes of `out` were written; stops when either side runs out
 */
export function unpackPackBits(packed: Uint8Array, out: Uint8Array): number {
  let at = 0;
  let written = 0;
  while (at < packed.length && written < out.length) {
    const head = packed[at++];
    if (head < 128) {
      const run = Math.min(head + 1, packed.length - at, out.length - written);
      out.set(packed.subarray(at, at + run), written);
      at += head + 1;
      written += run;
    } else if (head > 128) {
      if (at >= packed.length) break;
      const run = Math.min(257 - head, out.length - written);
      out.fill(packed[at++], written, written + run);
      written += run;
    }
  }
  return written;
}
