import type { CellField } from '../raster/cell-window.ts';
import { eachCoveredCell, type CoveredCells } from '../raster/covered-cells.ts';

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
  eachCoveredCell(covered, field, (value, share, row, column) => {
    if (share < leastShare) return;
    if (least === null || value < least.value || (value === least.value && before(least))) {
      least = { value, row, column };
    }
    if (
      greatest === null ||
      value > greatest.value ||
      (value === greatest.value && before(greatest))
    ) {
      greatest = { value, row, column };
    }
    function before(other: CellValue): boolean {
      return row < other.row || (row === other.row && column < other.column);
    }
  });
  return least === null || greatest === null ? null : { least, greatest };
}
