import type { Grid } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { hornGradientRow, hornRow, type EdgeRule, type HornRow } from './horn-gradient.ts';

export interface HillshadeOptions {
  /** Where the light comes from, degrees clockwise from grid north. Default 315. */
  readonly azimuthDegrees?: number;
  /** Height of the light over the horizon, degrees. Default 45. */
  readonly altitudeDegrees?: number;
  /** Heights are multiplied by this before shading. Default 1. */
  readonly zFactor?: number;
  /**
   * `one` light at the azimuth, or `four` at 225, 270, 315 and 360 degrees, each weighed by how
   * far it grazes the slope: softer, and no face goes black. Default `one`.
   */
  readonly lights?: 'one' | 'four';
  /** Default `no-data`, as GDAL. */
  readonly edges?: EdgeRule;
  /** Filled and returned when given; as long as the grid. */
  readonly out?: Uint8Array;
}

/**
 * Relief shading of every cell: 1 (turned from the light) to 255 (facing it), 0 is no data.
 * Sources: Horn 1981, Proc. IEEE 69:14-47 for the gradient and the matt surface; Mark 1992, USGS
 * Open-File Report 92-422 for four lights. One light equals `gdaldem hillshade`. Four lights do
 * not equal its -multidirectional, whose weights stand a quarter turn from Mark's (GDAL 3.6).
 * Row-major, row 0 north. Throws RangeError when `out` has another length than the grid.
 * Example: level ground under a light at 45 degrees is 1 + 254 sin 45° = 181.
 */
export function* hillshade(ground: Grid, options: HillshadeOptions = {}): Work<Uint8Array> {
  const { width, height } = ground;
  const out = options.out ?? new Uint8Array(width * height);
  if (out.length !== width * height) {
    throw new RangeError(`out holds ${out.length} cells, not ${width * height}`);
  }
  const edges = options.edges ?? 'no-data';
  const altitude = ((options.altitudeDegrees ?? 45) * Math.PI) / 180;
  const azimuth = ((options.azimuthDegrees ?? 315) * Math.PI) / 180;
  const light: Light = {
    four: options.lights === 'four',
    zFactor: options.zFactor ?? 1,
    flank: Math.cos(altitude) * 254,
    east: Math.sin(azimuth) * Math.cos(altitude) * 254,
    north: Math.cos(azimuth) * Math.cos(altitude) * 254,
    up: Math.sin(altitude) * 254,
  };
  const gradient = hornRow(width);
  const band = rowsPerBand(width);
  for (let row = 0; row < height; row += band) {
    const end = Math.min(height, row + band);
    shadeRows(ground, row, end, edges, light, gradient, out);
    yield { share: end / height, doing: 'relief' };
  }
  return out;
}

/** Components of the light times 254; `flank` is its level part. */
interface Light {
  readonly four: boolean;
  readonly zFactor: number;
  readonly flank: number;
  readonly east: number;
  readonly north: number;
  readonly up: number;
}

function shadeRows(
  ground: Grid,
  from: number,
  to: number,
  edges: EdgeRule,
  light: Light,
  gradient: HornRow,
  out: Uint8Array,
): void {
  const { width } = ground;
  for (let row = from; row < to; row++) {
    hornGradientRow(ground, row, edges, gradient);
    if (light.four) fourLightsRow(gradient, width, light, out, row * width);
    else oneLightRow(gradient, width, light, out, row * width);
  }
}

/** Cosine between the surface's upright and the light, times 254. */
function oneLightRow(
  { east, north }: HornRow,
  width: number,
  light: Light,
  out: Uint8Array,
  start: number,
): void {
  const { zFactor, east: lightEast, north: lightNorth, up: lightUp } = light;
  for (let column = 0; column < width; column++) {
    const e = zFactor * east[column]!;
    const n = zFactor * north[column]!;
    const lit = (lightUp - e * lightEast - n * lightNorth) / Math.sqrt(1 + e * e + n * n);
    out[start + column] = toByte(lit);
  }
}

const half = Math.SQRT1_2;

/** Mean of four single-light shades with weights sin²(bearing the ground faces - azimuth). */
function fourLightsRow(
  { east, north }: HornRow,
  width: number,
  { zFactor, flank, up: lightUp }: Light,
  out: Uint8Array,
  start: number,
): void {
  for (let column = 0; column < width; column++) {
    const e = zFactor * east[column]!;
    const n = zFactor * north[column]!;
    const steep = e * e + n * n;
    if (steep === 0) {
      out[start + column] = toByte(lightUp);
      continue;
    }
    // Weights times steepness squared; those of opposite quarter-turns add up to `steep`.
    const weight225 = steep / 2 - e * n;
    const weight270 = n * n;
    const weight315 = steep / 2 + e * n;
    const weight360 = e * e;
    const lit =
      weight225 * Math.max(0, lightUp + (e + n) * half * flank) +
      weight270 * Math.max(0, lightUp + e * flank) +
      weight315 * Math.max(0, lightUp + (e - n) * half * flank) +
      weight360 * Math.max(0, lightUp - n * flank);
    out[start + column] = toByte(lit / (2 * steep) / Math.sqrt(1 + steep));
  }
}

/** 1 to 255, rounded half up from 32 bits as GDAL's conversion to bytes does; NaN gives 0. */
function toByte(lit: number): number {
  if (lit !== lit) return 0;
  return Math.floor(Math.fround(lit <= 0 ? 1 : 1 + lit) + 0.5);
}
