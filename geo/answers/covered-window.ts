import type { CellWindow } from '../raster/cell-window.ts';
import { wholeCells, type CoveredCells } from '../raster/covered-cells.ts';

/** The rectangle of cells that a coverage touches; null where it touches none. */
export function coveredWindow({ whole, partial }: CoveredCells): CellWindow | null {
  let left = Infinity;
  let right = -Infinity;
  let top = Infinity;
  let bottom = -Infinity;
  const widen = (row: number, from: number, to: number) => {
    if (row < top) top = row;
    if (row > bottom) bottom = row;
    if (from < left) left = from;
    if (to > right) right = to;
  };
  for (let i = 0; i < whole.count; i++) widen(whole.row[i]!, whole.start[i]!, whole.end[i]!);
  for (let i = 0; i < partial.count; i++) {
    widen(partial.row[i]!, partial.column[i]!, partial.column[i]! + 1);
  }
  if (left === Infinity) return null;
  return { column: left, row: top, width: right - left, height: bottom - top + 1 };
}

/** The rectangle round several; null where all are. */
export function windowRound(windows: readonly (CellWindow | null)[]): CellWindow | null {
  const some = windows.filter((w) => w !== null);
  if (some.length === 0) return null;
  const column = Math.min(...some.map((w) => w.column));
  const row = Math.min(...some.map((w) => w.row));
  return {
    column,
    row,
    width: Math.max(...some.map((w) => w.column + w.width)) - column,
    height: Math.max(...some.map((w) => w.row + w.height)) - row,
  };
}

/** Every cell of a rectangle widened by so many columns and rows, as far as the grid goes. */
export function cellsRound(
  place: { readonly width: number; readonly height: number },
  window: CellWindow,
  columns: number,
  rows: number,
): CoveredCells {
  const top = Math.max(0, window.row - rows);
  const count = Math.min(place.height, window.row + window.height + rows) - top;
  const start = Math.max(0, window.column - columns);
  const end = Math.min(place.width, window.column + window.width + columns);
  return wholeCells({
    count,
    row: Int32Array.from({ length: count }, (_, i) => top + i),
    start: new Int32Array(count).fill(start),
    end: new Int32Array(count).fill(end),
  });
}
