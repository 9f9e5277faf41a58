import type { Grid } from '../raster/grid.ts';

/**
 * Per column, over the rows of a window around one row: the sum of the heights, their first moment
 * about the middle row (rows counted southward) and how many cells are missing (those add 0).
 * Heights are 32-bit numbers and the sums 64-bit, so adding and taking away again is exact for
 * ground whose heights are of one order.
 */
export interface ColumnSums {
  readonly sum: Float64Array;
  readonly moment: Float64Array;
  readonly missing: Int32Array;
}

export function columnBuffers(columns: number): ColumnSums {
  return {
    sum: new Float64Array(columns),
    moment: new Float64Array(columns),
    missing: new Int32Array(columns),
  };
}

/** Sets every column to "all `rows` cells missing". */
export function clearColumns({ sum, moment, missing }: ColumnSums, rows: number): void {
  sum.fill(0);
  moment.fill(0);
  missing.fill(rows);
}

/** Sums around `row`; column 0 of the sums is `firstColumn` of the grid, which may be off it. */
export function startColumns(
  ground: Grid,
  sums: ColumnSums,
  firstColumn: number,
  row: number,
  halfDown: number,
): void {
  for (let offset = -halfDown; offset <= halfDown; offset++) {
    if (row + offset < 0 || row + offset >= ground.height) continue;
    const { from, to, start } = overlap(ground, sums, firstColumn, row + offset);
    addRow(ground.data, start, from, to, offset, sums);
  }
}

/** Moves sums around `row - 1` to `row`. */
export function rollColumns(
  ground: Grid,
  sums: ColumnSums,
  firstColumn: number,
  row: number,
  halfDown: number,
): void {
  const leaving = row - 1 - halfDown;
  const entering = row + halfDown;
  const { from, to } = overlap(ground, sums, firstColumn, row);
  if (leaving >= 0) {
    const { start } = overlap(ground, sums, firstColumn, leaving);
    takeRow(ground.data, start, from, to, -halfDown, sums);
  }
  shiftMoments(sums, from, to);
  if (entering < ground.height) {
    const { start } = overlap(ground, sums, firstColumn, entering);
    addRow(ground.data, start, from, to, halfDown, sums);
  }
}

/** Columns of the sums that lie on the grid, and the data index of column 0 in `row`. */
function overlap(ground: Grid, sums: ColumnSums, firstColumn: number, row: number) {
  const from = Math.max(0, -firstColumn);
  const to = Math.min(sums.sum.length, ground.width - firstColumn);
  return { from, to, start: row * ground.width + firstColumn };
}

function addRow(
  z: Float32Array,
  start: number,
  from: number,
  to: number,
  offset: number,
  { sum, moment, missing }: ColumnSums,
): void {
  for (let i = from; i < to; i++) {
    const height = z[start + i]!;
    if (height !== height) continue;
    sum[i]! += height;
    moment[i]! += offset * height;
    missing[i]!--;
  }
}

function takeRow(
  z: Float32Array,
  start: number,
  from: number,
  to: number,
  offset: number,
  { sum, moment, missing }: ColumnSums,
): void {
  for (let i = from; i < to; i++) {
    const height = z[start + i]!;
    if (height !== height) continue;
    sum[i]! -= height;
    moment[i]! -= offset * height;
    missing[i]!++;
  }
}

/** The middle goes one row south: every row left counts one less. */
function shiftMoments({ sum, moment }: ColumnSums, from: number, to: number): void {
  for (let i = from; i < to; i++) moment[i]! -= sum[i]!;
}
