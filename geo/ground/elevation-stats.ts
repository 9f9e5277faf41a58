import type { CellField } from '../raster/cell-window.ts';
import { eachCoveredRun, type CoveredCells } from '../raster/covered-cells.ts';
import { coveredPercentiles } from '../raster/covered-percentiles.ts';
import { extremesOf, type CellValue } from './covered-extremes.ts';

export interface ElevationStats {
  /** Summed shares of the cells with data, and of those without. */
  readonly dataCells: number;
  readonly missingCells: number;
  readonly lowest: CellValue;
  readonly highest: CellValue;
  readonly meanMeters: number;
  /** In the order asked for. */
  readonly percentilesMeters: readonly number[];
}

/**
 * Heights over covered cells: lowest and highest with their cells, mean weighed by share, and
 * percentiles (0 to 1) as `coveredPercentiles` defines them. Metres; NaN cells are left out and
 * counted in `missingCells`. Lowest and highest as `extremesOf` says. Null when no cell has data.
 */
export function elevationStats(
  heights: CellField,
  covered: CoveredCells,
  percentiles: readonly number[] = [],
): ElevationStats | null {
  let dataCells = 0;
  let sum = 0;
  const missingCells = eachCoveredRun(covered, heights, (data, from, to, share) => {
    let runSum = 0;
    for (let i = from; i < to; i++) runSum += data[i]!;
    dataCells += share * (to - from);
    sum += share * runSum;
  });
  const extremes = extremesOf(heights, covered);
  if (extremes === null) return null;
  return {
    dataCells,
    missingCells,
    lowest: extremes.least,
    highest: extremes.greatest,
    meanMeters: sum / dataCells,
    percentilesMeters:
      percentiles.length === 0 ? [] : coveredPercentiles(heights, covered, percentiles),
  };
}
