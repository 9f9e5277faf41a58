import type { CellField } from '../raster/cell-window.ts';
import { eachCoveredRun, type CoveredCells } from '../raster/covered-cells.ts';

export interface CellValue {
  readonly value: number;
  readonly row: number;
  readonly column: number;
}

/**
 * Least and greatest value over covered cells and where they are. Only cells at least half covered
 * speak, so that a cell which an outline merely brushes does not lend its value to the plot; where
 * no cell with data is half covered (a sliver), every touched one does. Ties: the cell with the
 * lowest row, then column. NaN cells are left out; null when none is left.
 */
export function extremesOf(
  field: CellField,
  covered: CoveredCells,
): { readonly least: CellValue; readonly greatest: CellValue } | null {
  return search(field, covered, 0.5) ?? search(field, covered, 0);
}

function search(field: CellField, covered: CoveredCells, leastShare: number) {
  let least: CellValue | null = null;
  let greatest: CellValue | null = null;
  // By runs: a look at each cell through the closure made this the slowest part of a plot.
  eachCoveredRun(covered, field, (data, from, to, share, row, column) => {
    if (share < leastShare) return;
    let low = from;
    let high = from;
    for (let i = from + 1; i < to; i++) {
      if (data[i]! < data[low]!) low = i;
      if (data[i]! > data[high]!) high = i;
    }
    const lowCell = { value: data[low]!, row, column: column + low - from };
    const highCell = { value: data[high]!, row, column: column + high - from };
    if (least === null || lowCell.value < least.value || isEarlier(lowCell, least)) {
      least = lowCell;
    }
    if (greatest === null || highCell.value > greatest.value || isEarlier(highCell, greatest)) {
      greatest = highCell;
    }
  });
  return least === null || greatest === null ? null : { least, greatest };
}

/** Of equal value, and before the other in row, then column. */
function isEarlier(cell: CellValue, other: CellValue): boolean {
  if (cell.value !== other.value || cell.row > other.row) return false;
  return cell.row < other.row || cell.column < other.column;
}
