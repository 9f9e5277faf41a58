/**
 * LZW as TIFF packs it (TIFF 6.0 section 13): codes of 9 to 12 bits, most significant bit first,
 * the width growing one code early. A new string is always the one just written and the byte after
 * it, so the table holds only where in `out` it stands and how long it is. Stops at the end code, the
 * end of `packed` or when `out` is full.
 *
 * @returns how many bytes of `out` were written
 * @throws Error on a code that the table cannot hold yet
 */
export function unpackLzw(packed: Uint8Array, out: Uint8Array): number {
  const start = new Int32Array(4097);
  const length = new Int32Array(4097);
  const room = out.length;
  let next = 258;
  let width = 9;
  let previousStart = -1;
  let previousLength = 0;
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
      previousStart = -1;
      continue;
    }
    const isFirst = previousStart < 0;
    if (!isFirst && next < 4096) {
      start[next] = previousStart;
      length[next] = previousLength + 1;
      next++;
      if (next >= (1 << width) - 1 && width < 12) width++;
    }
    previousStart = written;
    if (code < 256) {
      if (written >= room) return room;
      out[written++] = code;
      previousLength = 1;
      continue;
    }
    if (isFirst || code >= next) throw new Error(`LZW code ${code} before its time (${next})`);
    const from = start[code];
    const count = Math.min(length[code], room - written);
    // Forward and byte by byte: the string may reach into what is being written.
    for (let i = 0; i < count; i++) out[written + i] = out[from + i];
    written += count;
    if (written >= room) return room;
    previousLength = count;
  }
}
