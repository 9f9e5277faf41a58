import { expectWindowInside, wholeWindow, type CellWindow } from '../raster/cell-window.ts';
import type { Grid } from '../raster/grid.ts';
import { outFor, rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { downhillBearing } from './aspect.ts';
import { clearColumns, columnBuffers, rollColumns, startColumns } from './plane-columns.ts';
import type { ColumnSums } from './plane-columns.ts';
import { fitPartWindow } from './plane-part-window.ts';

/** Odd numbers of cells across and down that one plane is laid through. */
export interface PlaneWindow {
  readonly columns: number;
  readonly rows: number;
}

export interface PlaneSlopeOptions {
  /** Default `planeWindow(ground)`. */
  readonly size?: PlaneWindow;
  /** Filled with rise over run and returned when given; as long as the window of cells. */
  readonly out?: Float32Array;
  /**
   * Filled, when given, with the grid bearing that each plane falls toward, degrees clockwise from
   * grid north; NaN where level.
   */
  readonly fallsToward?: Float32Array;
}

/**
 * The window of a slope that a dozer feels: the most cells (odd) that stay within 5 m, at least 3.
 * 1 m cells give 5 × 5 (the steadier choice: survey noise weighs a third of what it does at 3 × 3),
 * 0.5 m give 9, 1.5 m and coarser give 3. A hundredth over 5 m is let pass, so that cells of 1 m
 * that come out of a foot grid keep their 5.
 */
export function planeWindow(ground: Pick<Grid, 'cellWidth' | 'cellHeight'>): PlaneWindow {
  return { columns: oddWithin(5.05 / ground.cellWidth), rows: oddWithin(5.05 / ground.cellHeight) };
}

function oddWithin(cells: number): number {
  return Math.max(3, 2 * Math.floor((cells - 1) / 2) + 1);
}

/**
 * Slope, rise over run, of the least-squares plane through the window around each cell of a
 * rectangle of the grid: for a plot's answers, at once (a 3-acre plot in a few milliseconds).
 * Source: ordinary least squares on a regular lattice. Row-major, row 0 north.
 * NaN where the cell has no data. A window that is not whole (rim, holes) takes the cells it has,
 * when they are at least as many as a corner of the grid leaves: (columns+1)/2 × (rows+1)/2; else
 * NaN. Throws RangeError for an even size, a rectangle off the grid, a wrong length of `out`.
 * Example: a plane that rises 2 m in 100 m gives 0.02 everywhere, rim and corners too.
 */
export function planeSlopeIn(
  ground: Grid,
  cells: CellWindow,
  options: PlaneSlopeOptions = {},
): Float32Array {
  const run = prepare(ground, cells, options);
  slopeRows(run, 0, cells.height);
  return run.out;
}

/** As `planeSlopeIn`, for the whole grid, yielding per band of rows. */
export function* planeSlope(ground: Grid, options: PlaneSlopeOptions = {}): Work<Float32Array> {
  const run = prepare(ground, wholeWindow(ground), options);
  const band = Math.max(1, rowsPerBand(ground.width) >> 1);
  for (let row = 0; row < ground.height; row += band) {
    const end = Math.min(ground.height, row + band);
    slopeRows(run, row, end);
    yield { share: end / ground.height, doing: 'slope' };
  }
  return run.out;
}

interface Run {
  readonly ground: Grid;
  readonly cells: CellWindow;
  readonly halfAcross: number;
  readonly halfDown: number;
  readonly columns: ColumnSums;
  readonly east: Float64Array;
  readonly north: Float64Array;
  readonly out: Float32Array;
  readonly fallsToward: Float32Array | null;
}

function prepare(ground: Grid, cells: CellWindow, options: PlaneSlopeOptions): Run {
  const size = options.size ?? planeWindow(ground);
  for (const n of [size.columns, size.rows]) {
    if (!Number.isInteger(n) || n < 3 || n % 2 === 0) {
      throw new RangeError(`a plane window of ${size.columns} by ${size.rows} cells`);
    }
  }
  expectWindowInside(cells, ground);
  const halfAcross = (size.columns - 1) / 2;
  return {
    ground,
    cells,
    halfAcross,
    halfDown: (size.rows - 1) / 2,
    columns: columnBuffers(cells.width + 2 * halfAcross),
    east: new Float64Array(cells.width),
    north: new Float64Array(cells.width),
    out: outFor(cells.width * cells.height, options.out),
    fallsToward:
      options.fallsToward === undefined
        ? null
        : outFor(cells.width * cells.height, options.fallsToward),
  };
}

/** Rows `from` up to `to` of the rectangle; sums start afresh, so no rounding gathers over bands. */
function slopeRows(run: Run, from: number, to: number): void {
  const { ground, cells, columns, halfAcross, halfDown, east, north } = run;
  for (let row = from; row < to; row++) {
    if (row === from) {
      clearColumns(columns, 2 * halfDown + 1);
      startColumns(ground, columns, cells.column - halfAcross, cells.row + row, halfDown);
    } else {
      rollColumns(ground, columns, cells.column - halfAcross, cells.row + row, halfDown);
    }
    gradientsOfRow(columns, cells.width, halfAcross, halfDown, ground, east, north);
    completeRow(run, row);
    if (run.fallsToward !== null) fallRow(run, run.fallsToward, row * cells.width);
  }
}

/**
 * Gradients by running sums along a row: S = sum, M = first moment about the centre column, R =
 * first moment about the centre row. NaN where anything is missing in the window.
 */
function gradientsOfRow(
  { sum, moment, missing }: ColumnSums,
  width: number,
  halfAcross: number,
  halfDown: number,
  { cellWidth, cellHeight }: Grid,
  east: Float64Array,
  north: Float64Array,
): void {
  const across = 2 * halfAcross + 1;
  const perEast = 1 / ((2 * halfDown + 1) * spread(halfAcross) * cellWidth);
  const perNorth = -1 / (across * spread(halfDown) * cellHeight);
  let s = 0;
  let m = 0;
  let r = 0;
  let gaps = 0;
  for (let i = 0; i < across; i++) {
    s += sum[i]!;
    m += (i - halfAcross) * sum[i]!;
    r += moment[i]!;
    gaps += missing[i]!;
  }
  for (let column = 0; ; column++) {
    east[column] = gaps === 0 ? m * perEast : NaN;
    north[column] = gaps === 0 ? r * perNorth : NaN;
    if (column === width - 1) return;
    const leaving = sum[column]!;
    const entering = sum[column + across]!;
    m += (halfAcross + 1) * leaving - s + halfAcross * entering;
    s += entering - leaving;
    r += moment[column + across]! - moment[column]!;
    gaps += missing[column + across]! - missing[column]!;
  }
}

/** Sum of squares of -half..half. */
function spread(half: number): number {
  return (half * (half + 1) * (2 * half + 1)) / 3;
}

function completeRow({ ground, cells, halfAcross, halfDown, east, north, out }: Run, row: number) {
  const start = row * cells.width;
  for (let column = 0; column < cells.width; column++) {
    if (east[column] !== east[column]) {
      const [atRow, atColumn] = [cells.row + row, cells.column + column];
      fitPartWindow(ground, atRow, atColumn, halfAcross, halfDown, east, north, column);
    }
    const e = east[column]!;
    const n = north[column]!;
    out[start + column] = Math.sqrt(e * e + n * n);
  }
}

function fallRow({ cells, east, north }: Run, fallsToward: Float32Array, start: number): void {
  for (let column = 0; column < cells.width; column++) {
    const e = east[column]!;
    const n = north[column]!;
    // Gentler than this is rounding of the sums, not a fall.
    const level = Math.abs(e) + Math.abs(n) < 1e-9;
    fallsToward[start + column] = level ? NaN : downhillBearing(e, n);
    if (fallsToward[start + column] === 360) fallsToward[start + column] = 0;
  }
}
