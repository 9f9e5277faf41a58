import { readElevation, type RawElevation } from '../geo/formats/geotiff/read-elevation.ts';
import { readRasterHeader, type RasterHeader } from '../geo/formats/geotiff/raster-header.ts';
import { memorySource } from '../geo/formats/byte-source.ts';
import type { Result } from '../geo/result.ts';
import type { Gdal } from './gdal.ts';
import { seeded } from './seeded.ts';

/** Small rasters that GDAL turns into GeoTIFFs of every kind. */

export const WIDTH = 147;
export const HEIGHT = 91;

/** Rough ground from 180 to 230 with a block of `hole` in it, in GDAL's own file system. */
export function writeGround(
  gdal: Gdal,
  name: string,
  hole: number,
  { bands = 1, width = WIDTH, height = HEIGHT } = {},
): string {
  const random = seeded(20_250_301);
  const cells = width * height;
  const data = new Float32Array(cells * bands);
  for (let i = 0; i < data.length; i++) {
    const column = i % width;
    const row = Math.floor((i % cells) / width);
    const inHole = column > 60 && column < 90 && row > 20 && row < 50;
    const ground = 200 + 20 * Math.sin(column / 17) * Math.cos(row / 11) + random() * 5;
    data[i] = inHole ? hole : ground + 7 * Math.floor(i / cells);
  }
  const header =
    `ENVI\nsamples = ${width}\nlines = ${height}\nbands = ${bands}\nheader offset = 0\n` +
    'data type = 4\ninterleave = bsq\nbyte order = 0\n';
  gdal.write(`${name}.hdr`, new TextEncoder().encode(header));
  return gdal.write(`${name}.bin`, new Uint8Array(data.buffer));
}

export const UTM_PLACE = [
  '-a_srs',
  'EPSG:26916',
  '-a_ullr',
  '500100',
  '4900200',
  '500247',
  '4900109',
];

export function creation(options: string): string[] {
  return options
    .split(' ')
    .filter(Boolean)
    .flatMap((option) => ['-co', option]);
}

export async function toTiff(
  gdal: Gdal,
  input: string,
  args: readonly string[],
  name: string,
): Promise<Uint8Array> {
  return gdal
    .read(await gdal.run('gdal_translate', input, ['-of', 'GTiff', ...args], name))
    .slice();
}

/** The value, or an error that says the problem. */
export function valueOf<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(`${result.problem.code}: ${result.problem.what}`);
  return result.value;
}

export async function readBack(
  bytes: Uint8Array,
): Promise<{ header: RasterHeader; raw: RawElevation }> {
  const source = memorySource('sample.tif', bytes);
  const header = valueOf(await readRasterHeader(source));
  return { header, raw: valueOf(await readElevation(source, header)) };
}
