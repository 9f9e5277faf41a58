import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { makePhoto, PHOTO_COLUMNS, PHOTO_ROWS } from '../../fixtures/generator/photo/make-photo.ts';
import { makeSurfaces } from '../../fixtures/generator/terrain.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { readPhoto } from '../../geo/formats/geotiff/read-photo.ts';
import { readRasterHeader } from '../../geo/formats/geotiff/raster-header.ts';
import { openGdal } from '../gdal.ts';

/**
 * The photo of the demo is what its generator draws. JPEG encoders may differ between machines, so
 * the pixels that went in are held by their hash, and the files only to what JPEG loses.
 */
const readDemo = (name: string) =>
  readFileSync(new URL(`../../fixtures/demo/${name}`, import.meta.url));

let drawn: Uint8Array;
beforeAll(() => {
  drawn = makePhoto(makeSurfaces().ground);
}, 600_000);

describe('the photo', () => {
  it('is drawn the same, pixel for pixel', () => {
    const hash = createHash('sha256').update(drawn).digest('hex');
    expect(hash).toBe(readDemo('photo.sha256').toString().trim());
  });

  it('comes out of its GeoTIFF as it was drawn, in its place', async () => {
    const source = memorySource('photo.tif', new Uint8Array(readDemo('photo.tif')));
    const header = await readRasterHeader(source);
    if (!header.ok) throw new Error(header.problem.what);
    expect(header.value.purpose).toBe('photo');
    expect(header.value.levels.map((l) => [l.width, l.height])).toEqual([
      [1800, 1440],
      [900, 720],
      [450, 360],
      [225, 180],
    ]);
    const photo = await readPhoto(source, header.value);
    if (!photo.ok) throw new Error(photo.problem.what);
    const { affine, pixels, width, height } = photo.value;
    expect([width, height]).toEqual([PHOTO_COLUMNS, PHOTO_ROWS]);
    expect([affine.a, affine.e, affine.c, affine.f]).toEqual([0.5, -0.5, 500_000, 4_000_720]);
    expect(meanDifference((k, band) => pixels[4 * k + band])).toBeLessThan(JPEG_LOSS);
  }, 300_000);

  it('comes out of its plain JPEG as it was drawn, read by GDAL', async () => {
    const gdal = await openGdal();
    const red = await gdal.band(gdal.write('photo.jpg', readDemo('photo.jpg')));
    expect([red.width, red.height]).toEqual([PHOTO_COLUMNS, PHOTO_ROWS]);
    expect(meanDifference((k, band) => (band === 0 ? red.data[k] : NaN))).toBeLessThan(JPEG_LOSS);
  }, 300_000);
});

/** Levels of 255, on average, that quality 72 with halved colour costs leafy detail. */
const JPEG_LOSS = 9;

/** Mean absolute difference from what was drawn, over the bands that the reader has. */
function meanDifference(read: (k: number, band: number) => number): number {
  let sum = 0;
  let count = 0;
  for (let k = 0; k < drawn.length / 3; k++) {
    for (let band = 0; band < 3; band++) {
      const off = Math.abs(read(k, band) - drawn[3 * k + band]);
      if (Number.isNaN(off)) continue;
      sum += off;
      count++;
    }
  }
  return sum / count;
}
