/**
 * LZW as TIFF packs it (TIFF 6.0 section 13): codes of 9 to 12 bits, most significant bit first,
 * the width growing one code early. Strings are written backwards from their last byte, so a code
 * costs its length and no more. Stops at the end code, the end of `packed` or when `out` is full.
 *
 * @returns how many bytes of `out` were written
 * @throws Error on a code that the table cannot hold yet
 */
export function unpackLzw(packed: Uint8Array, out: Uint8Array): number {
  const prefix = new Uint16Array(4097);
  const last = new Uint8Array(4097);
  const first = new Uint8Array(4097);
  const length = new Uint16Array(4097);
  for (let i = 0; i < 256; i++) {
    last[i] = i;
    first[i] = i;
    length[i] = 1;
  }
  let next = 258;
  let width = 9;
  let previous = -1;
  let held = 0;
  let heldBits = 0;
  let at = 0;
  let written = 0;
  for (;;) {
    while (heldBits < width) {
      if (at >= packed.length) return written;
      held = (held << 8) | packed[at++];
      heldBits += 8;
    }
    heldBits -= width;
    const code = (held >>> heldBits) & ((1 << width) - 1);
    if (code === 257) return written;
    if (code === 256) {
      next = 258;
      width = 9;
      previous = -1;
      continue;
    }
    if (previous >= 0) {
      if (code > next) throw new Error(`LZW code ${code} before its time (${next})`);
      if (next < 4096) {
        prefix[next] = previous;
        first[next] = first[previous];
        length[next] = length[previous] + 1;
        last[next] = code === next ? first[previous] : first[code];
        next++;
        if (next >= (1 << width) - 1 && width < 12) width++;
      } else if (code >= next) throw new Error(`LZW code ${code} past the table`);
    } else if (code > 255) throw new Error(`LZW starts with code ${code}`);
    const end = written + length[code];
    if (end > out.length) return out.length;
    let walk = code;
    for (let i = end - 1; i >= written; i--) {
      out[i] = last[walk];
      walk = prefix[walk];
    }
    written = end;
    previous = code;
  }
}
