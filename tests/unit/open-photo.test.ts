import { beforeAll, describe, expect, test } from 'vitest';
import { openPhoto, type ReadPhoto } from '../../app/workers/open-photo.ts';
import { openPhotoPlane } from '../../app/workers/photo-plane.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { decodeHere } from '../../geo/formats/geotiff/decode-block.ts';
import { readRasterHeader } from '../../geo/formats/geotiff/raster-header.ts';
import { readPhoto } from '../../geo/formats/geotiff/read-photo.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import { turnPhoto } from '../../geo/raster/turn-photo.ts';
import { finish } from '../../geo/work.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { toTiff, valueOf } from '../geotiff-samples.ts';

/** Truth is GDAL: what it reads of the same files, where it puts their corners, how it warps them. */

const width = 120;
const height = 90;
let gdal: Gdal;
let input: string;

/** A smooth picture, so that an interpolated pixel is told from a shifted one. */
const shade = (band: number, column: number, row: number) =>
  Math.round(128 + 60 * Math.sin(column / 17 + band) + 55 * Math.cos(row / 13 - band * 0.7));

beforeAll(async () => {
  gdal = await openGdal();
  const cells = width * height;
  const raw = new Uint8Array(4 * cells);
  for (let i = 0; i < cells; i++) {
    const [column, row] = [i % width, Math.floor(i / width)];
    for (let band = 0; band < 3; band++) raw[band * cells + i] = shade(band, column, row);
    raw[3 * cells + i] = column < 12 ? 0 : 255;
  }
  const header = `ENVI\nsamples = ${width}\nlines = ${height}\nbands = 4\nheader offset = 0\ndata type = 1\ninterleave = bsq\n`;
  gdal.write('scene.hdr', new TextEncoder().encode(header));
  input = gdal.write('scene.bin', raw);
});

async function open(bytes: Uint8Array): Promise<ReadPhoto> {
  const opening = await openGround([memorySource('photo.tif', bytes)]);
  if (opening.kind !== 'photo') throw new Error(JSON.stringify(opening));
  return valueOf(await openPhoto(opening.photo, { decoder: decodeHere }));
}

const rgb = ['-b', '1', '-b', '2', '-b', '3', '-co', 'PHOTOMETRIC=RGB'];

describe('a photo in any system', () => {
  // System, west, north, cell size in its own unit, all invented places.
  const places: [string, number, number, number][] = [
    ['EPSG:26918', 501_000, 4_000_000, 0.5],
    ['EPSG:6346', 501_000, 4_000_000, 0.5],
    ['EPSG:32615', 342_000, 4_651_000, 0.3],
    // North Carolina, US survey feet; Michigan South, international feet.
    ['EPSG:2264', 2_000_000, 600_000, 1],
    ['EPSG:2253', 13_000_000, 400_000, 1],
    ['EPSG:4326', -75, 36.14, 5e-6],
    ['EPSG:4269', -75, 36.14, 5e-6],
    ['EPSG:3857', -8_348_900, 4_319_900, 0.6],
    ['EPSG:5070', 1_500_000, 1_800_000, 1],
  ];
  test.each(places)(
    '%s: pixels are GDAL’s, and corners lie where GDAL puts them',
    async (system, west, north, cell) => {
      const east = west + width * cell;
      const south = north - height * cell;
      const bounds = [west, north, east, south].map(String);
      const bytes = await toTiff(
        gdal,
        input,
        [
          ...rgb,
          '-a_srs',
          system,
          '-a_ullr',
          ...bounds,
          '-co',
          'COMPRESS=DEFLATE',
          '-co',
          'TILED=YES',
          '-co',
          'BLOCKXSIZE=64',
          '-co',
          'BLOCKYSIZE=64',
        ],
        'photo.tif',
      );
      const { record, pixels } = await open(bytes);
      expect([record.width, record.height]).toEqual([width, height]);
      let wrong = 0;
      for (let i = 0; i < width * height; i++) {
        for (let k = 0; k < 3; k++) {
          if (pixels[4 * i + k] !== shade(k, i % width, Math.floor(i / width))) wrong++;
        }
        if (pixels[4 * i + 3] !== 255) wrong++;
      }
      expect(wrong).toBe(0);
      const plane = openPhotoPlane(record);
      const corners: [number, number][] = [
        [0, 0],
        [width, 0],
        [width / 2, height / 3],
        [width, height],
      ];
      // Degrees on the system's own datum: NAD83 and WGS84 are taken as one.
      const degrees = /^EPSG:(32|4326|3857)/.test(system) ? 'OGC:CRS84' : 'OGC:CRS83';
      const truth = await gdal.transform(
        corners.map(([column, row]) => [west + column * cell, north - row * cell]),
        system,
        degrees,
      );
      corners.forEach(([column, row], i) => {
        const [lng, lat] = plane.toLngLat(
          record.west + column * record.cellWidth,
          record.north - row * record.cellHeight,
        );
        const [tlng, tlat] = truth[i]!;
        // A hundredth of a 0.3 m pixel is 3e-8 degree.
        expect(Math.hypot(lng - tlng, lat - tlat)).toBeLessThan(3e-8);
      });
    },
  );
});

test('RGBA keeps its clear border', async () => {
  const bytes = await toTiff(
    gdal,
    input,
    [
      '-co',
      'PHOTOMETRIC=RGB',
      '-co',
      'ALPHA=YES',
      '-a_srs',
      'EPSG:26918',
      '-a_ullr',
      '501000',
      '4000000',
      '501120',
      '3999910',
    ],
    'rgba.tif',
  );
  const { pixels } = await open(bytes);
  let wrong = 0;
  for (let i = 0; i < width * height; i++) {
    if (pixels[4 * i + 3] !== (i % width < 12 ? 0 : 255)) wrong++;
  }
  expect(wrong).toBe(0);
});

test('too large a photo is read from the overview that GDAL made', async () => {
  const [across, down] = [1400, 1100];
  const raw = new Uint8Array(3 * across * down);
  for (let i = 0; i < raw.length; i++) {
    const at = i % (across * down);
    raw[i] = shade(Math.floor(i / (across * down)), at % across, Math.floor(at / across));
  }
  const header = `ENVI\nsamples = ${across}\nlines = ${down}\nbands = 3\nheader offset = 0\ndata type = 1\ninterleave = bsq\n`;
  gdal.write('large.hdr', new TextEncoder().encode(header));
  const cog = await gdal.run(
    'gdal_translate',
    gdal.write('large.bin', raw),
    // prettier-ignore
    ['-of', 'COG', '-co', 'COMPRESS=DEFLATE', '-co', 'OVERVIEW_RESAMPLING=AVERAGE', '-colorinterp', 'red,green,blue', '-a_srs', 'EPSG:26918', '-a_ullr', '501000', '4000000', '501700', '3999450'],
    'large.tif',
  );
  const source = memorySource('large.tif', gdal.read(cog).slice());
  const photo = valueOf(
    await readPhoto(source, valueOf(await readRasterHeader(source)), { mostPixels: 500_000 }),
  );
  expect([photo.width, photo.height, photo.reduction]).toEqual([700, 550, 2]);
  expect(photo.affine).toMatchObject({ a: 1, e: -1, c: 501_000, f: 4_000_000 });
  let worst = 0;
  for (const band of [1, 2, 3]) {
    const level = await gdal.run(
      'gdal_translate',
      cog,
      ['-of', 'GTiff', '-ovr', '0', '-b', String(band)],
      'level.tif',
    );
    const theirs = await gdal.band(level);
    expect([theirs.width, theirs.height]).toEqual([700, 550]);
    theirs.data.forEach((value, i) => {
      worst = Math.max(worst, Math.abs(value - photo.pixels[4 * i + band - 1]!));
    });
  }
  expect(worst).toBe(0);
});

describe('a photo that lies askew', () => {
  /** Cells of 1 m, turned; GDAL keeps such a place as a matrix. */
  async function askew(degrees: number, mirrored: boolean) {
    const turn = (degrees * Math.PI) / 180;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    const down = mirrored ? -1 : 1;
    const affine = [501_000, cos, down * -sin, 4_000_000, -sin, down * -cos];
    const bands = [1, 2, 3]
      .map(
        (
          band,
        ) => `<VRTRasterBand dataType="Byte" band="${band}"><ColorInterp>${['Red', 'Green', 'Blue'][band - 1]}</ColorInterp>
        <SimpleSource><SourceFilename relativeToVRT="0">${input}</SourceFilename><SourceBand>${band}</SourceBand></SimpleSource></VRTRasterBand>`,
      )
      .join('');
    const vrt = `<VRTDataset rasterXSize="${width}" rasterYSize="${height}"><SRS>EPSG:26918</SRS><GeoTransform>${affine.join(',')}</GeoTransform>${bands}</VRTDataset>`;
    const path = gdal.write(`askew-${degrees}-${mirrored}.vrt`, new TextEncoder().encode(vrt));
    return toTiff(gdal, path, ['-co', 'PHOTOMETRIC=RGB'], `askew${degrees}${mirrored}.tif`);
  }

  test.each([
    [17, false],
    [-63, false],
    [180, false],
    [90, true],
    [0, true],
  ])('by %s°, mirrored %s: it comes out as GDAL warps it', async (degrees, mirrored) => {
    const bytes = await askew(degrees, mirrored);
    const { record, pixels } = await open(bytes);
    expect(record.notes.join()).toMatch(/turned north-up/);
    const plane = openPhotoPlane(record);
    const [lng, lat] = plane.toLngLat(record.west, record.north);
    const [corner] = await gdal.transform([[lng, lat]], 'OGC:CRS83', 'EPSG:26918');
    const [west, north] = corner!;
    const path = gdal.write(`turned-${degrees}.tif`, bytes);
    const warped = await gdal.run(
      'gdalwarp',
      path,
      ['-of', 'GTiff', '-r', 'bilinear', '-dstalpha', '-te',
        String(west), String(north - record.height), String(west + record.width), String(north),
        '-ts', String(record.width), String(record.height),
      ], // prettier-ignore
      'warped.tif',
    );
    let worst = 0;
    let compared = 0;
    for (const band of [1, 2, 3]) {
      const one = await gdal.run(
        'gdal_translate',
        warped,
        ['-of', 'GTiff', '-b', String(band)],
        'one.tif',
      );
      const alpha = await gdal.band(
        await gdal.run('gdal_translate', warped, ['-of', 'GTiff', '-b', '4'], 'a.tif'),
      );
      const theirs = await gdal.band(one);
      theirs.data.forEach((value, i) => {
        if (alpha.data[i] !== 255 || pixels[4 * i + 3] !== 255) return;
        compared++;
        worst = Math.max(worst, Math.abs(value - pixels[4 * i + band - 1]!));
      });
    }
    expect(compared).toBeGreaterThan(0.9 * 3 * width * height);
    // Both interpolate bilinearly and round; GDAL's weights are of single precision.
    expect(worst).toBeLessThanOrEqual(1);
  });

  test('turned by 90° it swaps its sides; too large a frame gets larger cells', () => {
    const picture = {
      width: 100,
      height: 50,
      pixels: new Uint8ClampedArray(4 * 5000).fill(200),
      affine: { a: 0, b: -1, c: 0, d: -1, e: 0, f: 0 },
    };
    const run = (most: number) => finish(turnPhoto(picture, most));
    const turned = run(1e6);
    expect([turned.width, turned.height, turned.affine]).toEqual([
      50,
      100,
      { a: 1, b: 0, c: -50, d: 0, e: -1, f: 0 },
    ]);
    expect(turned.pixels.every((value) => value === 200)).toBe(true);
    const small = run(1250);
    expect([small.width, small.height]).toEqual([25, 50]);
    expect(() =>
      turnPhoto({ ...picture, affine: { a: 1, b: 1, c: 0, d: 1, e: 1, f: 0 } }, 9).next(),
    ).toThrow(RangeError);
  });
});

// A raster lies on the earth or is refused; a place that only a damaged file can have is no crash.
test.each([
  ['without end', { c: 1e300 }],
  ['of cells without size', { a: 1e-300, e: -1e-300 }],
  ['turned and without end', { b: 1e300, d: 0.1 }],
  ['of cells larger than the earth', { a: 1e12 }],
])('a photo %s is refused as nowhere', async (_, damage) => {
  const place = ['-a_srs', 'EPSG:26918', '-a_ullr', '501000', '4000000', '501120', '3999910'];
  const source = memorySource('p.tif', await toTiff(gdal, input, [...rgb, ...place], 'p.tif'));
  const header = valueOf(await readRasterHeader(source));
  const affine = { ...header.affine, ...damage };
  const photo = { stored: 'geotiff', source, header: { ...header, affine } } as const;
  const opened = await openPhoto({ ...photo, crs: valueOf(header.crs) }, { decoder: decodeHere });
  expect(opened.ok ? opened.value.record : opened.problem.code).toBe('placement-impossible');
});

test('a photo sheared almost to a line takes no more memory than it may', () => {
  const affine = { a: 1, b: 0, c: 0, d: 0, e: -1e-14, f: 0 };
  const line = { width: 100, height: 50, affine, pixels: new Uint8ClampedArray(4 * 100 * 50) };
  const turned = finish(turnPhoto(line, 5000));
  expect(turned.width * turned.height).toBeLessThanOrEqual(5000);
});
