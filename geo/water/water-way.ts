import type { Grid } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import { endsAt } from './flow-lines.ts';
import { flowPointers } from './flow-pointers.ts';
import { NO_DATA, pointerSteps } from './pointer-codes.ts';

type Filled = Pick<Grid, 'data' | 'width' | 'height' | 'cellWidth' | 'cellHeight'>;

/**
 * The cells that water passes from some cell of a filled ground on, that cell first, until it leaves
 * the grid: the steepest of eight ways (O'Callaghan & Mark 1984), over flats the shortest. One path
 * for each cell of `from`; none from a cell without data. Row-major, row 0 north; NaN no data.
 * Example: on a plane that falls south the path from a cell goes straight down its column.
 */
export function* waterWays(filled: Filled, from: readonly number[]): Work<number[][]> {
  const pointers = yield* flowPointers(filled, new Uint8Array(filled.data.length));
  const steps = pointerSteps(filled.width);
  const { cellWidth, cellHeight } = filled;
  const diagonal = Math.hypot(cellWidth, cellHeight);
  const runs = [diagonal, cellHeight, diagonal, cellWidth, cellWidth, diagonal, cellHeight, diagonal]; // prettier-ignore
  return from.map((start) => {
    const cells: number[] = [];
    if (pointers[start] === undefined || pointers[start] === NO_DATA) return cells;
    for (let cell = start; ;) {
      cells.push(cell);
      if (endsAt(pointers[cell]!)) return cells;
      let best = pointers[cell]!;
      let steepest = 0;
      for (const [k, step] of steps.entries()) {
        const fall = (filled.data[cell]! - filled.data[cell + step]!) / runs[k]!;
        if (!(fall > steepest)) continue;
        steepest = fall;
        best = k;
      }
      cell += steps[best]!;
    }
  });
}
