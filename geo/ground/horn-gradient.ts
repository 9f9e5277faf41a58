import type { Grid } from '../raster/grid.ts';

/**
 * What is done where the 3×3 window is not whole (rim of the grid, beside no data):
 * - `no-data`: the cell has none, as `gdaldem` without -compute_edges.
 * - `extended`: the missing neighbour is put where the opposite one, mirrored through the cell,
 *   would be; where both of a pair are missing, a corner follows from the sides and a side takes
 *   the cell's own height. A plane keeps its exact slope up to the rim.
 * A cell without data of its own has none either way.
 */
export type EdgeRule = 'no-data' | 'extended';

/** Rows that the gradient of one row is worked in; made once, used for every row. */
export interface HornRow {
  /** Rise per metre toward grid east and north, per column; NaN in either: no gradient. */
  readonly east: Float64Array;
  readonly north: Float64Array;
  /** Of each column of three: weighted sum, and upper less lower. */
  readonly sum: Float64Array;
  readonly drop: Float64Array;
}

export function hornRow(width: number): HornRow {
  return {
    east: new Float64Array(width),
    north: new Float64Array(width),
    sum: new Float64Array(width),
    drop: new Float64Array(width),
  };
}

/**
 * Rise of the ground per metre toward grid east and north, for one row of cells.
 * Source: Horn 1981, Proc. IEEE 69:14-47 (third-order weights 1 2 1).
 * `ground.data` row-major, row 0 north, NaN no data; cells may be rectangular. Writes `into.east`
 * and `into.north`. Throws RangeError for a row outside the grid.
 * Two short passes over rows that stay in cache run twice as fast as one with everything in hand.
 * Example: rows 50 45 50 / 30 30 30 / 8 10 10 at 5 m give east 0.05, north 3.8 at the middle.
 */
export function hornGradientRow(ground: Grid, row: number, edges: EdgeRule, into: HornRow): void {
  const { data, width, height, cellWidth, cellHeight } = ground;
  const { east, north, sum, drop } = into;
  if (!(row >= 0 && row < height)) throw new RangeError(`row ${row} of a grid of ${height} rows`);
  east[0] = NaN;
  east[width - 1] = NaN;
  if (row > 0 && row < height - 1) {
    columnsOfThree(data, row * width, width, sum, drop);
    gradients(sum, drop, width, 1 / (8 * cellWidth), 1 / (8 * cellHeight), east, north);
  } else {
    east.fill(NaN, 0, width);
  }
  if (edges === 'extended') extendRow(ground, row, east, north);
}

/** Weighted sum and drop of each column of three heights round a row that has both neighbours. */
export function columnsOfThree(
  z: Float32Array,
  start: number,
  width: number,
  sum: Float64Array,
  drop: Float64Array,
): void {
  for (let column = 0; column < width; column++) {
    const above = z[start + column - width]!;
    const below = z[start + column + width]!;
    sum[column] = above + 2 * z[start + column]! + below;
    drop[column] = above - below;
  }
}

function gradients(
  sum: Float64Array,
  drop: Float64Array,
  width: number,
  perEast: number,
  perNorth: number,
  east: Float64Array,
  north: Float64Array,
): void {
  for (let column = 1; column < width - 1; column++) {
    const here = sum[column]!;
    east[column] = (sum[column + 1]! - sum[column - 1]!) * perEast;
    const fall = drop[column - 1]! + 2 * drop[column]! + drop[column + 1]!;
    // The middle height has no weight of its own, but a cell without data has no slope: adds 0
    // or NaN.
    north[column] = fall * perNorth + (here - here);
  }
}

function extendRow(ground: Grid, row: number, east: Float64Array, north: Float64Array): void {
  const { data, width } = ground;
  for (let column = 0; column < width; column++) {
    const height = data[row * width + column]!;
    if (height !== height) continue;
    const known = east[column]! + north[column]!;
    if (known === known) continue;
    extendedCell(ground, row, column, east, north);
  }
}

function extendedCell(
  { data, width, height, cellWidth, cellHeight }: Grid,
  row: number,
  column: number,
  east: Float64Array,
  north: Float64Array,
): void {
  for (let k = 0; k < 9; k++) {
    const r = row + Math.floor(k / 3) - 1;
    const c = column + (k % 3) - 1;
    w[k] = r < 0 || r >= height || c < 0 || c >= width ? NaN : data[r * width + c]!;
  }
  const middle = w[4]!;
  fillPair(1, 7, middle, middle);
  fillPair(3, 5, middle, middle);
  fillPair(0, 8, w[3]! + w[1]! - middle, w[5]! + w[7]! - middle);
  fillPair(2, 6, w[5]! + w[1]! - middle, w[3]! + w[7]! - middle);
  east[column] = (w[2]! + 2 * w[5]! + w[8]! - w[0]! - 2 * w[3]! - w[6]!) / (8 * cellWidth);
  north[column] = (w[0]! + 2 * w[1]! + w[2]! - w[6]! - 2 * w[7]! - w[8]!) / (8 * cellHeight);
}

/** Window heights of the cell being extended; one cell at a time, so one buffer serves. */
const w = new Float64Array(9);

/** Mirrors the one that is there; takes the two given heights when neither is. */
function fillPair(a: number, b: number, aElse: number, bElse: number): void {
  const hasA = !Number.isNaN(w[a]!);
  const hasB = !Number.isNaN(w[b]!);
  if (hasA && hasB) return;
  if (hasA) w[b] = 2 * w[4]! - w[a]!;
  else if (hasB) w[a] = 2 * w[4]! - w[b]!;
  else {
    w[a] = aElse;
    w[b] = bElse;
  }
}
