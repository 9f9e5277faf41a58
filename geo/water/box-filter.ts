/** A box filter with a fraction of a cell at either end. */
export interface Box {
  /** Whole cells to either side of the middle. */
  readonly reach: number;
  /** Weight of one more cell at either end, 0 to 1. */
  readonly end: number;
}

/**
 * The box that, passed three times, spreads like a Gaussian of a deviation (cells): its variance is
 * a third of the Gaussian's, met exactly by the ends. Null for less than half a cell.
 * Example: deviation 5 gives a box of 8 cells to either side and a bit (variance 25 / 3 thrice).
 */
export function boxOf(deviationCells: number): Box | null {
  if (!(deviationCells >= 0.5)) return null;
  const variance = (deviationCells * deviationCells) / 3;
  // A box of r whole cells to either side has variance r (r + 1) / 3.
  const reach = Math.floor((Math.sqrt(1 + 12 * variance) - 1) / 2);
  const cells = 2 * reach + 1;
  const next = (reach + 1) ** 2;
  const whole = (reach * (reach + 1) * cells) / 3;
  return { reach, end: (whole - variance * cells) / (2 * (variance - next)) };
}

/** Means along rows, going on round from one end to the other. `out` is another array. */
export function boxAlongRows(
  data: Float32Array,
  width: number,
  height: number,
  { reach, end }: Box,
  out: Float32Array,
): void {
  const weight = 1 / (2 * reach + 1 + 2 * end);
  for (let row = 0; row < height; row++) {
    const start = row * width;
    let sum = 0;
    for (let i = -reach; i <= reach; i++) sum += data[start + around(i, width)]!;
    let behind = around(-reach - 1, width);
    let ahead = around(reach + 1, width);
    for (let column = 0; column < width; column++) {
      const last = data[start + behind]!;
      const next = data[start + ahead]!;
      out[start + column] = (sum + end * (last + next)) * weight;
      behind = behind + 1 === width ? 0 : behind + 1;
      ahead = ahead + 1 === width ? 0 : ahead + 1;
      sum += next - data[start + behind]!;
    }
  }
}

/** Means down columns, going on round from the last row to the first. `out` is another array. */
export function boxDownColumns(
  data: Float32Array,
  width: number,
  height: number,
  { reach, end }: Box,
  out: Float32Array,
): void {
  const weight = 1 / (2 * reach + 1 + 2 * end);
  const sums = new Float64Array(width);
  for (let i = -reach; i <= reach; i++) {
    const start = around(i, height) * width;
    for (let column = 0; column < width; column++) sums[column]! += data[start + column]!;
  }
  for (let row = 0; row < height; row++) {
    const start = row * width;
    const behind = around(row - reach - 1, height) * width;
    const ahead = around(row + reach + 1, height) * width;
    const leaving = around(row - reach, height) * width;
    for (let column = 0; column < width; column++) {
      const sum = sums[column]!;
      const next = data[ahead + column]!;
      out[start + column] = (sum + end * (data[behind + column]! + next)) * weight;
      sums[column] = sum + next - data[leaving + column]!;
    }
  }
}

const around = (i: number, length: number): number => ((i % length) + length) % length;
