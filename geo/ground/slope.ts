import type { Grid } from '../raster/grid.ts';
import { outFor, rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { extendedCell, type EdgeRule } from './horn-gradient.ts';

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
  const perEast = 1 / (8 * ground.cellWidth);
  const perNorth = 1 / (8 * ground.cellHeight);
  const band = rowsPerBand(width);
  for (let row = 0; row < height; row++) {
    const start = row * width;
    if (row > 0 && row < height - 1 && width > 2) {
      out[start] = NaN;
      out[start + width - 1] = NaN;
      insideRow(ground.data, start, width, perEast, perNorth, out);
    } else {
      out.fill(NaN, start, start + width);
    }
    if (edges === 'extended') extendRow(ground, row, east, north, out);
    if ((row + 1) % band === 0) yield { share: (row + 1) / height, doing: 'slope' };
  }
  return out;
}

/**
 * Cells 1 to width-2 of a row with a row on either side: the arithmetic of `hornGradientRow` and
 * the steepness in one pass, a quarter faster than by way of its two rows (a test holds them equal).
 */
function insideRow(
  z: Float32Array,
  start: number,
  width: number,
  perEast: number,
  perNorth: number,
  out: Float32Array,
): void {
  let above = z[start - width]!;
  let below = z[start + width]!;
  let sumWest = above + 2 * z[start]! + below;
  let dropWest = above - below;
  above = z[start - width + 1]!;
  let middle = z[start + 1]!;
  below = z[start + width + 1]!;
  let sumHere = above + 2 * middle + below;
  let dropHere = above - below;
  const end = start + width - 1;
  for (let cell = start + 1; cell < end; cell++) {
    above = z[cell + 1 - width]!;
    const level = z[cell + 1]!;
    below = z[cell + 1 + width]!;
    const sumEast = above + 2 * level + below;
    const dropEast = above - below;
    const e = (sumEast - sumWest) * perEast;
    const n = (dropWest + 2 * dropHere + dropEast) * perNorth;
    out[cell] = middle === middle ? Math.sqrt(e * e + n * n) : NaN;
    sumWest = sumHere;
    sumHere = sumEast;
    dropWest = dropHere;
    dropHere = dropEast;
    middle = level;
  }
}

function extendRow(
  ground: Grid,
  row: number,
  east: Float64Array,
  north: Float64Array,
  out: Float32Array,
): void {
  const { data, width } = ground;
  for (let column = 0; column < width; column++) {
    const cell = row * width + column;
    if (out[cell] === out[cell] || data[cell] !== data[cell]) continue;
    extendedCell(ground, row, column, east, north);
    const e = east[column]!;
    const n = north[column]!;
    out[cell] = Math.sqrt(e * e + n * n);
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
