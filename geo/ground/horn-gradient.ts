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

/**
 * Rise of the ground per metre toward grid east and grid north, for one row of cells.
 * Source: Horn 1981, Proc. IEEE 69:14-47 (third-order weights 1 2 1).
 * `ground.data` row-major, row 0 north, NaN no data; cells may be rectangular.
 * Writes `east[column]` and `north[column]`, both at least `ground.width` long; NaN in either
 * means that the cell has no gradient. Throws RangeError for a row outside the grid.
 * Example: rows 50 45 50 / 30 30 30 / 8 10 10 at 5 m give east 0.05, north 3.8 at the middle.
 */
export function hornGradientRow(
  ground: Grid,
  row: number,
  edges: EdgeRule,
  east: Float64Array,
  north: Float64Array,
): void {
  const { data, width, height, cellWidth, cellHeight } = ground;
  if (!(row >= 0 && row < height)) throw new RangeError(`row ${row} of a grid of ${height} rows`);
  east[0] = NaN;
  east[width - 1] = NaN;
  if (row > 0 && row < height - 1 && width > 2) {
    insideRow(data, row * width, width, 1 / (8 * cellWidth), 1 / (8 * cellHeight), east, north);
  } else {
    east.fill(NaN, 0, width);
  }
  if (edges === 'extended') extendRow(ground, row, east, north);
}

/** Cells 1 to width-2 of a row that has a row on either side. */
function insideRow(
  z: Float32Array,
  start: number,
  width: number,
  perEast: number,
  perNorth: number,
  east: Float64Array,
  north: Float64Array,
): void {
  let above = z[start - width]!;
  let below = z[start + width]!;
  let sumWest = above + 2 * z[start]! + below;
  let dropWest = above - below;
  above = z[start - width + 1]!;
  let middle = z[start + 1]!;
  below = z[start + width + 1]!;
  let sumHere = above + 2 * middle + below;
  let dropHere = above - below;
  for (let column = 1; column < width - 1; column++) {
    const next = start + column + 1;
    above = z[next - width]!;
    const level = z[next]!;
    below = z[next + width]!;
    const sumEast = above + 2 * level + below;
    const dropEast = above - below;
    // The middle height has no weight of its own, but a cell without data has no slope.
    east[column] = middle === middle ? (sumEast - sumWest) * perEast : NaN;
    north[column] = (dropWest + 2 * dropHere + dropEast) * perNorth;
    sumWest = sumHere;
    sumHere = sumEast;
    dropWest = dropHere;
    dropHere = dropEast;
    middle = level;
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

/**
 * Gradient of one cell by the `extended` rule, written at `east[column]` and `north[column]`.
 * The cell must have data.
 */
export function extendedCell(
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
