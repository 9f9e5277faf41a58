import type { Grid } from '../raster/grid.ts';
import { outFor, rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { hornGradientRow, hornRow, type EdgeRule, type HornRow } from './horn-gradient.ts';
import type { SlopeOptions } from './slope.ts';

/**
 * Which way the ground of every cell faces downhill: degrees clockwise from grid north, 0 up to
 * (not including) 360; add the grid's convergence for a true bearing.
 * Source: Horn 1981, Proc. IEEE 69:14-47. Equals `gdaldem aspect` on square cells; on rectangular
 * cells GDAL 3 leaves the cell's shape out and this does not.
 * Row-major, row 0 north; NaN where the cell has no data or is exactly level (GDAL writes -9999);
 * rim and neighbours of no data as `edges` says. Throws RangeError when `out` has another length.
 * Example: rows 101 92 85 / 101 92 85 / 101 91 84 give 92.642545 at the middle.
 */
export function* aspectHorn(ground: Grid, options: SlopeOptions = {}): Work<Float32Array> {
  const { width, height } = ground;
  const out = outFor(width * height, options.out);
  const edges = options.edges ?? 'no-data';
  const gradient = hornRow(width);
  const band = Math.max(1, rowsPerBand(width) >> 1);
  for (let row = 0; row < height; row += band) {
    const end = Math.min(height, row + band);
    aspectRows(ground, row, end, edges, gradient, out);
    yield { share: end / height, doing: 'aspect' };
  }
  return out;
}

function aspectRows(
  ground: Grid,
  from: number,
  to: number,
  edges: EdgeRule,
  gradient: HornRow,
  out: Float32Array,
): void {
  for (let row = from; row < to; row++) {
    hornGradientRow(ground, row, edges, gradient);
    facingRow(gradient, ground.width, out, row * ground.width);
  }
}

function facingRow(
  { east, north }: HornRow,
  width: number,
  out: Float32Array,
  start: number,
): void {
  for (let column = 0; column < width; column++) {
    out[start + column] = downhillBearing(east[column]!, north[column]!);
    // A hair under 360 rounds up to it in 32 bits.
    if (out[start + column] === 360) out[start + column] = 0;
  }
}

/**
 * Grid bearing, degrees 0 to 360, that a surface rising by `east` and `north` (rise over run)
 * falls toward; NaN where it is level or unknown. Example: (0.05, 0) falls toward 270.
 */
export function downhillBearing(east: number, north: number): number {
  if (east === 0 && north === 0) return NaN;
  const degrees = (Math.atan2(-east, -north) * 180) / Math.PI;
  return degrees < 0 ? degrees + 360 : degrees + 0;
}
