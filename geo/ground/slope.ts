import type { Grid } from '../raster/grid.ts';
import { outFor, rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { hornGradientRow, type EdgeRule } from './horn-gradient.ts';

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
  const east = new Float64Array(width);
  const north = new Float64Array(width);
  const band = rowsPerBand(width);
  for (let row = 0; row < height; row++) {
    hornGradientRow(ground, row, edges, east, north);
    steepnessRow(east, north, width, out, row * width);
    if ((row + 1) % band === 0) yield { share: (row + 1) / height, doing: 'slope' };
  }
  return out;
}

function steepnessRow(
  east: Float64Array,
  north: Float64Array,
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
