/**
 * How many rows of a grid make one band of long work: about 130,000 cells, a few milliseconds of
 * a light kernel, so a slice of 16 ms holds several and a stop is heard at once. At least 1.
 */
export function rowsPerBand(width: number): number {
  return Math.max(1, Math.floor(131_072 / Math.max(1, width)));
}

/** `out` checked for length, or a new array. Throws RangeError when the length is wrong. */
export function outFor(cells: number, out: Float32Array | undefined): Float32Array {
  if (out === undefined) return new Float32Array(cells);
  if (out.length !== cells) throw new RangeError(`out holds ${out.length} cells, not ${cells}`);
  return out;
}
