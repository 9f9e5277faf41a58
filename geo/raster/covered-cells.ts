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
 * Calls `visit` for every covered cell with data: whole cells first, row by row, then the partial
 * ones. Cells outside the field's window count as without data. `value` is the field's number,
 * `share` 1 or the partial share. Returns the summed share of the cells without data.
 */
export function eachCoveredCell(
  covered: CoveredCells,
  { data, window: w }: CellField,
  visit: (value: number, share: number, row: number, column: number) => void,
): number {
  let missing = 0;
  const { whole, partial } = covered;
  for (let i = 0; i < whole.count; i++) {
    const row = whole.row[i]!;
    const start = Math.max(whole.start[i]!, w.column);
    const end = Math.min(whole.end[i]!, w.column + w.width);
    const length = whole.end[i]! - whole.start[i]!;
    if (row < w.row || row >= w.row + w.height || end <= start) {
      missing += length;
      continue;
    }
    missing += length - (end - start);
    const offset = (row - w.row) * w.width - w.column;
    for (let column = start; column < end; column++) {
      const value = data[offset + column]!;
      if (value === value) visit(value, 1, row, column);
      else missing++;
    }
  }
  for (let i = 0; i < partial.count; i++) {
    const row = partial.row[i]! - w.row;
    const column = partial.column[i]! - w.column;
    const inside = row >= 0 && row < w.height && column >= 0 && column < w.width;
    const value = inside ? data[row * w.width + column]! : NaN;
    if (value === value) visit(value, partial.share[i]!, partial.row[i]!, partial.column[i]!);
    else missing += partial.share[i]!;
  }
  return missing;
}
