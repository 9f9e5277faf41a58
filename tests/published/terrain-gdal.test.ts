import { existsSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { aspectHorn } from '../../geo/ground/aspect.ts';
import { hillshade } from '../../geo/ground/hillshade.ts';
import { slopeHorn } from '../../geo/ground/slope.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { finish } from '../../geo/work.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { rasterDifference } from '../raster-difference.ts';
import { gridOf, roughGrid, writeForGdal } from '../terrain-grids.ts';

/**
 * Horn slope, aspect and shading against GDAL's DEM processing, cell for cell, no data included.
 *
 * GDAL adds the heights of a window in 32 bits, we in 64. On ground whose heights are whole steps
 * of 1/1024 m below 512 m its sums are exact too, and only the final rounding to 32 bits is left:
 * those must agree to that. On other ground, its two sums of four heights below 512 m (each three
 * additions, each off by at most half a step of 2^-13 m) can move a gradient by 6 · 2^-14 / 8 per
 * cell side, in both directions at once: those must agree within that bound.
 */

let gdal: Gdal;
beforeAll(async () => {
  gdal = await openGdal();
});

const exact = { stepsPerMeter: 1024 };
const shape = { width: 93, height: 71 };
const oblong = { width: 93, height: 71, cellWidth: 2, cellHeight: 0.75 };

function withLevelPatch(grid: Grid): Grid {
  for (let row = 20; row < 32; row++) {
    for (let column = 40; column < 60; column++) grid.data[row * grid.width + column] = 251.5;
  }
  return grid;
}
/** A plane of whole 1/1024 m, rising 0.125 east and falling 0.0625 north. */
const plane = (s: typeof shape) => gridOf(s, (x, y) => 200 + x / 8 - y / 16);

const grounds: readonly { name: string; grid: Grid; sumsExact: boolean }[] = [
  { name: 'tilted plane', grid: plane(shape), sumsExact: true },
  { name: 'tilted plane, oblong cells', grid: plane(oblong), sumsExact: true },
  { name: 'rough', grid: roughGrid(shape, 11, exact), sumsExact: true },
  { name: 'rough, oblong cells', grid: roughGrid(oblong, 12, exact), sumsExact: true },
  { name: 'rough, holes', grid: roughGrid(shape, 13, { ...exact, holes: true }), sumsExact: true },
  {
    name: 'rough, holes, a level patch',
    grid: withLevelPatch(roughGrid(shape, 14, { ...exact, holes: true })),
    sumsExact: true,
  },
  { name: 'rough, any heights', grid: roughGrid(shape, 15, { holes: true }), sumsExact: false },
  {
    name: 'rough, any heights, oblong cells',
    grid: roughGrid(oblong, 16, { holes: true }),
    sumsExact: false,
  },
];
const demoPath = 'fixtures/demo/ground.tif';

async function demoGround(): Promise<Grid> {
  const path = gdal.write('demo-ground.tif', readFileSync(demoPath));
  const info = (await gdal.info(path)) as {
    geoTransform: number[];
    bands: { noDataValue?: number | string }[];
  };
  const { width, height, data } = await gdal.band(path);
  const none = Number(info.bands[0]!.noDataValue ?? NaN);
  const [west, cellWidth, , north, , cellHeight] = info.geoTransform as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const place = { width, height, west, north, cellWidth, cellHeight: -cellHeight };
  const heights = Float32Array.from(data, (z) => (z === none ? NaN : z));
  return { ...gridOf({ ...place, width: 1, height: 1 }, () => 0), ...place, data: heights };
}

function fileName(name: string): string {
  return name.replace(/\W+/g, '-');
}

async function gdalDem(mode: string, grid: Grid, name: string, args: string[] = []) {
  const path = writeForGdal(gdal, grid, fileName(name));
  const out = `${fileName(name)}-${mode}${args.join('')}.tif`;
  return (await gdal.band(await gdal.dem(mode, path, args, out))).data;
}

const noData = (data: Float64Array) => data.map((v) => (v === -9999 ? NaN : v));

/** How far GDAL's 32-bit sums can move the gradient, rise over run. */
const gradientBound = (grid: Grid) =>
  (Math.SQRT2 * 6 * 2 ** -14) / 8 / Math.min(grid.cellWidth, grid.cellHeight);

/** Two roundings to 32 bits: one step of a number of that size, and GDAL's of its percents. */
const step32 = 2 ** -22;

async function checkSlope(name: string, grid: Grid, sumsExact: boolean) {
  const theirs = noData(await gdalDem('slope', grid, name, ['-p'])).map((v) => v / 100);
  const ours = finish(slopeHorn(grid));
  const relative = rasterDifference(ours, theirs, (a, b) => Math.abs(a - b) / Math.max(b, 1e-6));
  const absolute = rasterDifference(ours, theirs);
  expect(absolute.dataMismatches).toBe(0);
  expect(absolute.compared).toBeGreaterThan(grid.data.length / 2);
  if (sumsExact) expect(relative.largest).toBeLessThan(step32);
  else expect(absolute.largest).toBeLessThan(gradientBound(grid));
}

async function checkAspect(name: string, grid: Grid, sumsExact: boolean) {
  // GDAL leaves the shape of cells out of aspect, so oblong grids are shown to both as square.
  const square = { ...grid, cellWidth: 1, cellHeight: 1 };
  const theirs = noData(await gdalDem('aspect', square, `${name} square`));
  const ours = finish(aspectHorn(square));
  const slope = finish(slopeHorn(square));
  const onCircle = (a: number, b: number) => Math.abs(((a - b + 540) % 360) - 180);
  const apart = rasterDifference(ours, theirs, onCircle);
  expect(apart.compared).toBeGreaterThan(grid.data.length / 2);
  if (sumsExact) {
    expect(apart.dataMismatches).toBe(0);
    // One 32-bit step of a bearing below 512 degrees.
    expect(apart.largest).toBeLessThanOrEqual(2 ** -15);
    return;
  }
  let worst = 0;
  for (let i = 0; i < ours.length; i++) {
    // A gradient moved by d turns by at most asin(d / slope).
    if (Number.isNaN(ours[i]!) || Number.isNaN(theirs[i]!)) continue;
    const turn = (onCircle(ours[i]!, theirs[i]!) * Math.PI) / 180;
    worst = Math.max(worst, Math.sin(Math.min(turn, Math.PI / 2)) * slope[i]!);
  }
  expect(worst).toBeLessThan(gradientBound(square));
}

const lights = [
  { ours: {}, theirs: [] },
  {
    ours: { azimuthDegrees: 200, altitudeDegrees: 30, zFactor: 2 },
    theirs: ['-az', '200', '-alt', '30', '-z', '2'],
  },
] as const;

async function checkShading(name: string, grid: Grid, sumsExact: boolean) {
  for (const light of lights) {
    const theirs = await gdalDem('hillshade', grid, name, [...light.theirs]);
    const ours = finish(hillshade(grid, light.ours));
    const apart = rasterDifference(ours, theirs);
    let unequal = 0;
    for (let i = 0; i < ours.length; i++) if (ours[i] !== theirs[i]) unequal++;
    // Off by the bound of the gradient a shade moves by 254 · z · bound, so that share of cells at
    // most can fall on the other side of a half.
    const share = sumsExact ? 0 : 2 * 254 * 2 * gradientBound(grid);
    expect(apart.largest).toBeLessThanOrEqual(sumsExact ? 0 : 1);
    expect(unequal).toBeLessThanOrEqual(share * ours.length);
  }
}

describe.each(grounds)('$name', ({ name, grid, sumsExact }) => {
  test('slope', () => checkSlope(name, grid, sumsExact));
  test('aspect', () => checkAspect(name, grid, sumsExact));
  test('shading', () => checkShading(name, grid, sumsExact));
});

describe.runIf(existsSync(demoPath))('demo ground', () => {
  test('slope, aspect and shading', async () => {
    const grid = await demoGround();
    await checkSlope('demo', grid, false);
    await checkAspect('demo', grid, false);
    await checkShading('demo', grid, false);
  });
});

test('four lights equal Mark’s weights over GDAL’s four single shades (USGS OFR 92-422)', async () => {
  const grid = grounds[2]!.grid;
  const aspect = noData(await gdalDem('aspect', grid, 'four'));
  const azimuths = [225, 270, 315, 360];
  const shades = await Promise.all(
    azimuths.map((az) => gdalDem('hillshade', grid, `four ${az}`, ['-az', String(az)])),
  );
  const ours = finish(hillshade(grid, { lights: 'four' }));
  let worst = 0;
  for (let i = 0; i < ours.length; i++) {
    if (Number.isNaN(aspect[i]!)) continue;
    // The weights of four lights 45 degrees apart sum to 2.
    let lit = 0;
    azimuths.forEach((az, k) => {
      lit += (Math.sin(((aspect[i]! - az) * Math.PI) / 180) ** 2 * shades[k]![i]!) / 2;
    });
    worst = Math.max(worst, Math.abs(lit - ours[i]!));
  }
  // GDAL's four are whole numbers (off by up to a half each), and so is ours.
  expect(worst).toBeLessThanOrEqual(1.001);
});

test('with -compute_edges GDAL and `extended` agree on a plane but for GDAL’s corners', async () => {
  const grid = plane(shape);
  const theirs = noData(await gdalDem('slope', grid, 'rim', ['-p', '-compute_edges']));
  const ours = finish(slopeHorn(grid, { edges: 'extended' }));
  const { width, height } = grid;
  const corners = new Set([0, width - 1, (height - 1) * width, height * width - 1]);
  for (let i = 0; i < ours.length; i++) {
    expect(Math.abs(ours[i]! - Math.hypot(1 / 8, 1 / 16))).toBeLessThan(1e-7);
    if (!corners.has(i)) expect(Math.abs(theirs[i]! / 100 - ours[i]!)).toBeLessThan(1e-7);
  }
});
