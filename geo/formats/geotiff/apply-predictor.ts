/**
 * Floating-point predictor of one row of a tile (Adobe Photoshop TIFF Technical Note 3): the bytes
 * of 32-bit floats in four planes, most significant first, then each as its difference from the one
 * before. `out` is filled with `cells * 4` bytes from `at`.
 */
export function predictFloatRow(
  words: Uint32Array,
  from: number,
  cells: number,
  out: Uint8Array,
  at: number,
): void {
  for (let i = 0; i < cells; i++) {
    const word = words[from + i]!;
    out[at + i] = word >>> 24;
    out[at + cells + i] = word >>> 16;
    out[at + 2 * cells + i] = word >>> 8;
    out[at + 3 * cells + i] = word;
  }
  for (let i = at + 4 * cells - 1; i > at; i--) out[i] -= out[i - 1]!;
}
