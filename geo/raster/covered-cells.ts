import type { CellField } from './cell-window.ts';

/** Runs of cells in rows: `row[i]`, columns from `start[i]` up to but not including `end[i]`. */
export interface CellSpans {
  readonly count: number;
  readonly row: Int32Array;
  readonly start: Int32Array;
  readonly end: Int32Array;
}

/** Cells that count in part: `share[i]`, above 0 and below 1, of the cell's area. */
export interface PartialCells {
  readonly count: number;
  readonly row: Int32Array;
  readonly column: Int32Array;
  readonly share: Float64Array;
}

/** Which cells of a grid count, and how much: whole ones as spans, the rest one by one. */
export interface CoveredCells {
  readonly whole: CellSpans;
  readonly partial: PartialCells;
}

const noPartialCells: PartialCells = {
  count: 0,
  row: new Int32Array(0),
  column: new Int32Array(0),
  share: new Float64Array(0),
};

/** A mask as covered cells: every cell of it whole. */
export function wholeCells(spans: CellSpans): CoveredCells {
  return { whole: spans, partial: noPartialCells };
}

/** Number of cells in a set of spans. */
export function spanCells(spans: CellSpans): number {
  let cells = 0;
  for (let i = 0; i < spans.count; i++) cells += spans.end[i]! - spans.start[i]!;
  return cells;
}

/**
 * What is done with a run of covered cells that all have data and count alike: cells
 * `data[from]` up to but not including `data[to]`, the first one at `row`, `column` of the grid.
 */
export type RunVisitor = (
  data: Float32Array,
  from: number,
  to: number,
  share: number,
  row: number,
  column: number,
) => void;

/**
 * Calls `visit` for every run of covered cells with data: whole cells first, row by row, then the
 * partial ones, each a run of its own. Runs, not cells, so that sums stay in the visitor's own
 * loop. Cells outside the field's window count as without data. Returns the summed share of the
 * cells without data.
 */
export function eachCoveredRun(
  { whole, partial }: CoveredCells,
  { data, window: w }: CellField,
  visit: RunVisitor,
): number {
  let missing = 0;
  for (let i = 0; i < whole.count; i++) {
    const row = whole.row[i]!;
    const start = Math.max(whole.start[i]!, w.column);
    const end = Math.min(whole.end[i]!, w.column + w.width);
    const length = whole.end[i]! - whole.start[i]!;
    if (row < w.row || row >= w.row + w.height || end <= start) {
      missing += length;
      continue;
    }
    const offset = (row - w.row) * w.width - w.column;
    missing += length - runsWithData(data, offset, start, end, row, visit);
  }
  for (let i = 0; i < partial.count; i++) {
    const row = partial.row[i]! - w.row;
    const column = partial.column[i]! - w.column;
    const index = row * w.width + column;
    const inside = row >= 0 && row < w.height && column >= 0 && column < w.width;
    if (inside && data[index] === data[index]) {
      visit(data, index, index + 1, partial.share[i]!, partial.row[i]!, partial.column[i]!);
    } else missing += partial.share[i]!;
  }
  return missing;
}

/** Splits columns `start` to `end` of one row at cells without data; returns the cells with. */
function runsWithData(
  data: Float32Array,
  offset: number,
  start: number,
  end: number,
  row: number,
  visit: RunVisitor,
): number {
  let cells = 0;
  for (let column = start; column < end;) {
    const from = column;
    while (column < end && data[offset + column] === data[offset + column]) column++;
    if (column > from) visit(data, offset + from, offset + column, 1, row, from);
    cells += column - from;
    column++;
  }
  return cells;
}
