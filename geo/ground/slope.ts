import type { Grid } from '../raster/grid.ts';
import { outFor, rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import {
  columnsOfThree,
  hornGradientRow,
  hornRow,
  type EdgeRule,
  type HornRow,
} from './horn-gradient.ts';

export interface SlopeOptions {
  /** Default `no-data`, as GDAL. */
  readonly edges?: EdgeRule;
  /** Filled and returned when given; as long as the grid. */
  readonly out?: Float32Array;
}

/**
 * Slope of every cell as rise over run (0.02 is 2 %), from its 3×3 window.
 * Source: Horn 1981, Proc. IEEE 69:14-47; equals `gdaldem slope` (its percent / 100).
 * Row-major, row 0 north; NaN where the cell has no data; rim and neighbours of no data as
 * `edges` says. Throws RangeError when `out` has another length than the grid.
 * Example: 50 45 50 / 30 30 30 / 8 10 10 at 5 m gives 3.800329 (75.257658°) at the middle.
 */
export function* slopeHorn(ground: Grid, options: SlopeOptions = {}): Work<Float32Array> {
  const { width, height } = ground;
  const out = outFor(width * height, options.out);
  const edges = options.edges ?? 'no-data';
  const gradient = hornRow(width);
  const band = rowsPerBand(width);
  for (let row = 0; row < height; row += band) {
    const end = Math.min(height, row + band);
    slopeRows(ground, row, end, edges, gradient, out);
    yield { share: end / height, doing: 'slope' };
  }
  return out;
}

/** A plain function per band: loops drawn into a generator's own code run half as fast. */
function slopeRows(
  ground: Grid,
  from: number,
  to: number,
  edges: EdgeRule,
  gradient: HornRow,
  out: Float32Array,
): void {
  const { data, width, height, cellWidth, cellHeight } = ground;
  const { sum, drop } = gradient;
  for (let row = from; row < to; row++) {
    if (edges === 'no-data' && row > 0 && row < height - 1) {
      // The same numbers without the way over a gradient: a third less time.
      columnsOfThree(data, row * width, width, sum, drop);
      steepnessOfColumns(sum, drop, width, cellWidth, cellHeight, out, row * width);
    } else {
      hornGradientRow(ground, row, edges, gradient);
      steepnessRow(gradient, width, out, row * width);
    }
  }
}

function steepnessOfColumns(
  sum: Float64Array,
  drop: Float64Array,
  width: number,
  cellWidth: number,
  cellHeight: number,
  out: Float32Array,
  start: number,
): void {
  const perEast = 1 / (8 * cellWidth);
  const perNorth = 1 / (8 * cellHeight);
  let sumBefore = sum[0]!;
  let sumHere = sum[1]!;
  let dropBefore = drop[0]!;
  let dropHere = drop[1]!;
  out[start] = NaN;
  for (let column = 1; column < width - 1; column++) {
    const sumAfter = sum[column + 1]!;
    const dropAfter = drop[column + 1]!;
    const east = (sumAfter - sumBefore) * perEast;
    // A cell without data has no slope: adds 0 or NaN.
    const north = (dropBefore + 2 * dropHere + dropAfter) * perNorth + (sumHere - sumHere);
    out[start + column] = Math.sqrt(east * east + north * north);
    sumBefore = sumHere;
    sumHere = sumAfter;
    dropBefore = dropHere;
    dropHere = dropAfter;
  }
  out[start + width - 1] = NaN;
}

function steepnessRow(
  { east, north }: HornRow,
  width: number,
  out: Float32Array,
  start: number,
): void {
  for (let column = 0; column < width; column++) {
    const e = east[column]!;
    const n = north[column]!;
    out[start + column] = Math.sqrt(e * e + n * n);
  }
}

/** Rise over run to degrees from level. Example: 1 is 45. */
export function slopeDegrees(riseOverRun: number): number {
  return (Math.atan(riseOverRun) * 180) / Math.PI;
}

/** Rise over run to percent. Example: 0.022 is 2.2. */
export function slopePercent(riseOverRun: number): number {
  return riseOverRun * 100;
}
