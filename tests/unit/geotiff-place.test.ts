import { beforeAll, describe, expect, test } from 'vitest';
import { toGrid, type GridChoices, type PlacedGrid } from '../../geo/formats/geotiff/to-grid.ts';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { frameFor } from '../../geo/frame/open-frame.ts';
import { finish } from '../../geo/work.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { readBack, toTiff, valueOf } from '../geotiff-samples.ts';
import { rasterDifference } from '../raster-difference.ts';

// Where cells end up. References: GDAL's own geotransform of the file, and gdalwarp (bilinear, exact
// transformer) for everything that is resampled.

let gdal: Gdal;
/** A smooth hill of 120 × 90 cells, so that a shift of a twentieth of a cell would show. */
let hill: string;
beforeAll(async () => {
  gdal = await openGdal();
  const data = new Float32Array(120 * 90);
  for (let i = 0; i < data.length; i++) {
    const column = i % 120;
    const row = Math.floor(i / 120);
    data[i] = 300 + 25 * Math.sin(column / 13) * Math.cos(row / 9) + column / 5;
  }
  const header =
    'ENVI\nsamples = 120\nlines = 90\nbands = 1\nheader offset = 0\ndata type = 4\ninterleave = bsq\nbyte order = 0\n';
  gdal.write('hill.hdr', new TextEncoder().encode(header));
  hill = gdal.write('hill.bin', new Uint8Array(data.buffer));
});

async function grid(bytes: Uint8Array, choices: GridChoices = {}): Promise<PlacedGrid> {
  const { header, raw } = await readBack(bytes);
  return valueOf(finish(toGrid(header, raw, choices)));
}

const place = (epsg: number, west: number, north: number, east: number, south: number) => [
  '-a_srs',
  `EPSG:${epsg}`,
  '-a_ullr',
  ...[west, north, east, south].map(String),
];
const METRES = { verticalUnit: 'metre' } as const;

describe('cells kept as they are', () => {
  test('UTM metres: same numbers, same corner', async () => {
    const bytes = await toTiff(
      gdal,
      hill,
      place(26916, 500100, 4900200, 500220, 4900110),
      'utm.tif',
    );
    const { grid: g, notes } = await grid(bytes, METRES);
    expect(g).toMatchObject({ west: 500100, north: 4900200, cellWidth: 1, cellHeight: 1 });
    expect(g.frame.epsg).toBe(26916);
    expect(rasterDifference(g.data, (await gdal.band(hill)).data)).toMatchObject({ largest: 0 });
    expect(notes).toEqual([]);
  });

  test('area and point files of the same ground give the same coordinates', async () => {
    const args = place(26916, 500100, 4900200, 500220, 4900110);
    const area = await toTiff(gdal, hill, args, 'area.tif');
    const point = await toTiff(gdal, hill, [...args, '-mo', 'AREA_OR_POINT=Point'], 'point.tif');
    expect((await readBack(area)).header.pixelIsPoint).toBe(false);
    expect((await readBack(point)).header.pixelIsPoint).toBe(true);
    expect((await readBack(point)).raw.affine).toEqual((await readBack(area)).raw.affine);
  });

  // US survey foot 1200/3937 m and international foot 0.3048 m: by definition.
  test.each([
    ['US survey feet, state plane', 2264, 1200 / 3937],
    ['international feet, state plane', 2222, 0.3048],
  ])('%s: only the affine is scaled', async (_, epsg, foot) => {
    const args = place(epsg, 2_000_000, 600_000, 2_000_300, 599_775);
    const { grid: g } = await grid(await toTiff(gdal, hill, args, 'feet.tif'), {
      verticalUnit: epsg === 2264 ? 'us-survey-foot' : 'international-foot',
    });
    expect(g.west).toBeCloseTo(2_000_000 * foot, 6);
    expect(g.north).toBeCloseTo(600_000 * foot, 6);
    expect(g.cellWidth).toBeCloseTo(2.5 * foot, 12);
    expect(g.cellHeight).toBeCloseTo(2.5 * foot, 12);
    const theirs = (await gdal.band(hill)).data.map((v) => Math.fround(v * foot));
    expect(rasterDifference(g.data, theirs).largest).toBeLessThan(4e-5);
    // The corner in degrees, as GDAL has it from the file's own system.
    const [corner] = await gdal.transform([[2_000_000, 600_000]], `EPSG:${epsg}`, 'EPSG:4269');
    const [back] = await gdal.transform([corner!], 'EPSG:4269', g.frame.proj);
    expect(back![0]).toBeCloseTo(g.west, 3);
    expect(back![1]).toBeCloseTo(g.north, 3);
  });

  test('a file whose rows run northward is turned over, not resampled', async () => {
    const args = ['-a_srs', 'EPSG:26916', '-a_gt', '500100', '1', '0', '4900110', '0', '1'];
    const { grid: g, notes } = await grid(await toTiff(gdal, hill, args, 'south-up.tif'), METRES);
    expect(g).toMatchObject({ west: 500100, north: 4900200 });
    const theirs = (await gdal.band(hill)).data;
    for (let row = 0; row < 90; row++) {
      const ours = g.data.subarray(row * 120, row * 120 + 120);
      const from = (89 - row) * 120;
      expect(rasterDifference(ours, theirs.subarray(from, from + 120)).largest).toBe(0);
    }
    expect(notes).toEqual([]);
  });

  test('scale and offset of a band', async () => {
    const args = [
      ...place(26916, 0, 4900090, 120, 4900000),
      '-ot',
      'Int16',
      '-a_scale',
      '0.01',
      '-a_offset',
      '250',
    ];
    const bytes = await toTiff(gdal, hill, args, 'scaled.tif');
    const path = gdal.write('scaled-check.tif', bytes);
    const real = await gdal.run(
      'gdal_translate',
      path,
      ['-of', 'GTiff', '-unscale', '-ot', 'Float64'],
      'unscaled.tif',
    );
    const { header, raw } = await readBack(bytes);
    expect([header.scale, header.offset]).toEqual([0.01, 250]);
    const theirs = Float32Array.from((await gdal.band(real)).data);
    expect(rasterDifference(raw.data, theirs).largest).toBe(0);
  });

  test('vertical system from its code alone, as GDAL writes it', async () => {
    const args = ['-a_srs', 'EPSG:26916+6360', '-a_ullr', '500100', '4900200', '500220', '4900110'];
    const bytes = await toTiff(gdal, hill, args, 'vertical.tif');
    const { header } = await readBack(bytes);
    // EPSG registry: 6360 is NAVD88 height in US survey feet.
    expect(header.vertical).toEqual({ unit: 'us-survey-foot', datum: 'NAVD88', epsg: 6360 });
    const { grid: g } = await grid(bytes);
    expect(g.data[0]).toBeCloseTo((300 * 1200) / 3937, 4);
  });
});

describe('cells resampled into the site frame, against gdalwarp', () => {
  const cases: [string, string[], number][] = [
    ['longitude and latitude', place(4269, -87.01, 44.2, -87.0085, 44.1991), 26916],
    ['web mercator', place(3857, -9685000, 5500000, -9684880, 5499910), 32616],
    ['turned by 20°', rotated(500100, 4900200, 20), 26916],
  ];
  test.each(cases)('%s', async (name, args, epsg) => {
    const bytes = await toTiff(gdal, hill, args, 'turned.tif');
    const { grid: g, notes } = await grid(bytes, METRES);
    expect(g.frame.epsg).toBe(epsg);
    expect(notes[0]).toContain('Resampled');
    await expectAsWarped(bytes, g, `EPSG:${epsg}`, name);
  });

  test('a UTM file into a state-plane site', async () => {
    const bytes = await toTiff(
      gdal,
      hill,
      place(26917, 600100, 3950200, 600220, 3950110),
      'utm17.tif',
    );
    const frame = frameFor(valueOf(crsFromEpsg(32119)), -80, 35.7);
    const { grid: g } = await grid(bytes, { ...METRES, frame });
    expect(g.frame.epsg).toBe(32119);
    await expectAsWarped(bytes, g, 'EPSG:32119', 'state plane');
  });

  test('web-mercator cells take their true size', async () => {
    const bytes = await toTiff(gdal, hill, cases[1]![1], 'mercator.tif');
    const { header } = await readBack(bytes);
    // Scale of the mercator projection on the sphere is 1 / cos(latitude), within the ellipsoid's 0.3 %.
    const [center] = await gdal.transform([[-9684940, 5499955]], 'EPSG:3857', 'EPSG:4326');
    const expected = Math.cos((center![1] * Math.PI) / 180);
    expect(header.cellMeters! / expected).toBeGreaterThan(0.996);
    expect(header.cellMeters! / expected).toBeLessThan(1.004);
  });
});

function rotated(x: number, y: number, degrees: number): string[] {
  const c = Math.cos((degrees * Math.PI) / 180);
  const s = Math.sin((degrees * Math.PI) / 180);
  return ['-a_srs', 'EPSG:26916', '-a_gt', ...[x, c, s, y, s, -c].map(String)];
}

/** gdalwarp at the very same cells; the bilinear kernel held at one source cell in both directions. */
async function expectAsWarped(
  bytes: Uint8Array,
  g: PlacedGrid['grid'],
  srs: string,
  name: string,
): Promise<void> {
  const path = gdal.write('to-warp.tif', bytes);
  const south = g.north - g.height * g.cellHeight;
  const east = g.west + g.width * g.cellWidth;
  const bounds = ['-te', ...[g.west, south, east, g.north].map(String)];
  const size = ['-ts', String(g.width), String(g.height)];
  const kernel = ['-r', 'bilinear', '-et', '0', '-wo', 'XSCALE=1', '-wo', 'YSCALE=1'];
  const args = [
    '-of',
    'GTiff',
    '-t_srs',
    srs,
    ...bounds,
    ...size,
    ...kernel,
    '-dstnodata',
    '-9999',
  ];
  const warped = await gdal.run('gdalwarp', path, args, 'warped.tif');
  const theirs = await gdal.band(warped);
  const ours = g.data.slice();
  const expected = Float64Array.from(theirs.data, (v) => (v === -9999 ? NaN : v));
  // Along the outer edge GDAL leaves out some half-covered cells: compared where both have a height.
  let edge = 0;
  for (let i = 0; i < ours.length; i++) {
    if (Number.isNaN(ours[i]!) === Number.isNaN(expected[i]!)) continue;
    ours[i] = NaN;
    expected[i] = NaN;
    edge++;
  }
  const difference = rasterDifference(ours, expected);
  expect(difference.compared, name).toBeGreaterThan(9000);
  expect(edge, name).toBeLessThan(0.02 * difference.compared);
  // The hill rises at most 3 m a cell: 0.05 cells would be 0.15 m. Held ten times closer.
  expect(difference.largest, name).toBeLessThan(0.015);
}
