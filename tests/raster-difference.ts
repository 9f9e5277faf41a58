/** The largest difference between two rasters and where it is; NaN must meet NaN. */
export interface RasterDifference {
  readonly largest: number;
  readonly index: number;
  /** Cells where one has data and the other has none. */
  readonly dataMismatches: number;
  /** Cells with data in both. */
  readonly compared: number;
}

/** A loop, because `toEqual` on rasters takes minutes. Throws RangeError on unequal lengths. */
export function rasterDifference(
  ours: ArrayLike<number>,
  theirs: ArrayLike<number>,
  difference: (a: number, b: number) => number = (a, b) => Math.abs(a - b),
): RasterDifference {
  if (ours.length !== theirs.length) {
    throw new RangeError(`rasters of ${ours.length} and ${theirs.length} cells`);
  }
  let largest = 0;
  let index = -1;
  let dataMismatches = 0;
  let compared = 0;
  for (let i = 0; i < ours.length; i++) {
    const a = ours[i]!;
    const b = theirs[i]!;
    if (Number.isNaN(a) !== Number.isNaN(b)) {
      if (dataMismatches++ === 0 && index < 0) index = i;
      continue;
    }
    if (Number.isNaN(a)) continue;
    compared++;
    const d = difference(a, b);
    if (d > largest) {
      largest = d;
      index = i;
    }
  }
  return { largest, index, dataMismatches, compared };
}
