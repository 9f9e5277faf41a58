import type { Grid } from './grid.ts';
import type { Work } from '../work.ts';
import { rowsPerBand } from './row-bands.ts';

/**
 * Ever coarser copies of a grid: each cell of level n is the mean of the cells with data among the
 * 2^n × 2^n below it in the grid itself, so a cell half without data weighs half in the next level
 * and the overall mean stays. Cells double in size from the same north-west corner; where a size
 * is odd the last row or column reaches past the rim and holds what is there. NaN only where all
 * cells below are NaN. The grid itself is not in the list; ends at a level that fits in
 * `smallestSide` × `smallestSide`. Means are taken in 64 bits and stored in 32.
 */
export function* overviews(grid: Grid, smallestSide = 64): Work<readonly Grid[]> {
  if (!(smallestSide >= 1)) throw new RangeError(`smallest side ${smallestSide} is below 1`);
  const levels: Grid[] = [];
  let finer = grid;
  // Cells with data below each cell; null stands for "1 where there is data", the grid itself.
  let counts: Float32Array | null = null;
  while (Math.max(finer.width, finer.height) > smallestSide) {
    const { width, height } = finer;
    const coarser: Grid = {
      ...finer,
      width: (width + 1) >> 1,
      height: (height + 1) >> 1,
      cellWidth: finer.cellWidth * 2,
      cellHeight: finer.cellHeight * 2,
      cellGroundAreaSquareMeters: finer.cellGroundAreaSquareMeters * 4,
      data: new Float32Array(((width + 1) >> 1) * ((height + 1) >> 1)),
    };
    const below: Float32Array = new Float32Array(coarser.data.length);
    const band = Math.max(1, rowsPerBand(width) >> 1);
    for (let row = 0; row < coarser.height; row += band) {
      const end = Math.min(coarser.height, row + band);
      averageRows(finer, counts, coarser, below, row, end);
      yield { share: end / coarser.height, doing: 'overviews' };
    }
    levels.push(coarser);
    finer = coarser;
    counts = below;
  }
  return levels;
}

function averageRows(
  finer: Grid,
  counts: Float32Array | null,
  coarser: Grid,
  below: Float32Array,
  from: number,
  to: number,
): void {
  for (let row = from; row < to; row++) averageRow(finer, counts, coarser, below, row);
}

function averageRow(
  finer: Grid,
  counts: Float32Array | null,
  coarser: Grid,
  below: Float32Array,
  row: number,
): void {
  const { data, width, height } = finer;
  const rows = Math.min(2, height - 2 * row);
  for (let column = 0; column < coarser.width; column++) {
    const columns = Math.min(2, width - 2 * column);
    let sum = 0;
    let weight = 0;
    for (let r = 0; r < rows; r++) {
      for (let c = 0; c < columns; c++) {
        const index = (2 * row + r) * width + 2 * column + c;
        const value = data[index]!;
        if (value !== value) continue;
        const w = counts === null ? 1 : counts[index]!;
        sum += w * value;
        weight += w;
      }
    }
    const index = row * coarser.width + column;
    coarser.data[index] = weight > 0 ? sum / weight : NaN;
    below[index] = weight;
  }
}
