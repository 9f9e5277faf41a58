import type { CellField } from '../raster/cell-window.ts';
import { eachCoveredRun, type CoveredCells } from '../raster/covered-cells.ts';
import { coveredPercentiles } from '../raster/covered-percentiles.ts';
import { extremesOf, type CellValue } from './covered-extremes.ts';

export interface SlopeStats {
  /** Summed shares of the cells with a slope, and of those without. */
  readonly dataCells: number;
  readonly missingCells: number;
  /** Rise over run. */
  readonly median: number;
  readonly percentile90: number;
  readonly greatest: CellValue;
  /** Square metres in each class, gentlest first; one more than there are limits. */
  readonly classAreasSquareMeters: readonly number[];
}

/**
 * Slopes over covered cells: median, 90th percentile (as `coveredPercentiles` defines them),
 * greatest (as `extremesOf` says) and the area in each class. `limits` are the upper ends of the
 * classes, rise over run, rising; a slope equal to a limit is in the gentler class, the last class
 * is open. A cell's area is its share times `cellAreaSquareMeters` (its true ground area), so the
 * classes sum to the area with data. NaN cells are left out; null when no cell has a slope.
 * Throws RangeError for limits that do not rise.
 */
export function slopeStats(
  slopes: CellField,
  covered: CoveredCells,
  limits: readonly number[],
  cellAreaSquareMeters: number,
): SlopeStats | null {
  for (let i = 1; i < limits.length; i++) {
    if (!(limits[i]! > limits[i - 1]!)) throw new RangeError(`class limits ${limits.join(', ')}`);
  }
  // Slopes are 32-bit numbers, so a limit is met by what it becomes in 32 bits.
  const ends = Float32Array.from(limits);
  const classCells = new Float64Array(limits.length + 1);
  let dataCells = 0;
  const missingCells = eachCoveredRun(covered, slopes, (data, from, to, share) => {
    for (let i = from; i < to; i++) {
      let index = 0;
      while (index < ends.length && data[i]! > ends[index]!) index++;
      classCells[index]! += share;
    }
    dataCells += share * (to - from);
  });
  const extremes = extremesOf(slopes, covered);
  if (extremes === null) return null;
  const [median, percentile90] = coveredPercentiles(slopes, covered, [0.5, 0.9]);
  return {
    dataCells,
    missingCells,
    median: median!,
    percentile90: percentile90!,
    greatest: extremes.greatest,
    classAreasSquareMeters: Array.from(classCells, (cells) => cells * cellAreaSquareMeters),
  };
}
