import { beforeAll, expect, test } from 'vitest';
import { finish } from '../../geo/work.ts';
import { overviews } from '../../geo/raster/overviews.ts';
import { polygonMask } from '../../geo/raster/polygon-mask.ts';
import { sampleBilinear, sampleNearest } from '../../geo/raster/sample.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { rasterDifference } from '../raster-difference.ts';
import { seeded } from '../seeded.ts';
import { roughGrid, writeForGdal } from '../terrain-grids.ts';

let gdal: Gdal;
beforeAll(async () => {
  gdal = await openGdal();
});
const noData = (data: Float64Array) => data.map((v) => (v === -9999 ? NaN : v));

test('bilinear and nearest samples equal gdalwarp onto a shifted lattice, holes too', async () => {
  const grid = roughGrid({ width: 60, height: 45, cellWidth: 2, cellHeight: 1.5 }, 31, {
    holes: true,
  });
  const path = writeForGdal(gdal, grid, 'sample');
  const shift = { x: 0.62, y: 0.41 };
  const [west, north] = [grid.west + shift.x, grid.north - shift.y];
  const [columns, rows] = [57, 43];
  const extent = [west, north - rows * 1.5, west + columns * 2, north].map(String);
  for (const [method, sample] of [
    ['bilinear', sampleBilinear],
    ['near', sampleNearest],
  ] as const) {
    const args = ['-r', method, '-te', ...extent, '-ts', String(columns), String(rows)];
    const warped = await gdal.run(
      'gdalwarp',
      path,
      [...args, '-et', '0', '-ot', 'Float64', '-of', 'GTiff'],
      `warped-${method}.tif`,
    );
    const theirs = noData((await gdal.band(warped)).data);
    const ours = Float64Array.from(theirs, (_, i) => {
      const x = west + ((i % columns) + 0.5) * 2;
      const y = north - (Math.floor(i / columns) + 0.5) * 1.5;
      return sample(grid, x, y);
    });
    const apart = rasterDifference(ours, theirs);
    expect(apart.dataMismatches).toBe(0);
    expect(apart.compared).toBeGreaterThan(2000);
    // gdalwarp reads its source as 32-bit heights near 250 m and mixes them in 64 bits.
    expect(apart.largest).toBeLessThan(method === 'near' ? 1e-12 : 1e-9);
  }
});

test('the first overview equals GDAL’s average, holes left out', async () => {
  const grid = roughGrid({ width: 64, height: 48 }, 32, { holes: true });
  const path = writeForGdal(gdal, grid, 'overview');
  const half = await gdal.run(
    'gdal_translate',
    path,
    ['-r', 'average', '-outsize', '32', '24', '-of', 'GTiff'],
    'half.tif',
  );
  const theirs = noData((await gdal.band(half)).data);
  const apart = rasterDifference(finish(overviews(grid, 32))[0]!.data, theirs);
  expect(apart.dataMismatches).toBe(0);
  // One step of a 32-bit number between 256 and 512.
  expect(apart.largest).toBeLessThanOrEqual(2 ** -15);
});

test('the mask of concave polygons with holes equals gdal_rasterize', async () => {
  const grid = roughGrid({ width: 80, height: 60 }, 33);
  const next = seeded(34);
  for (let n = 0; n < 8; n++) {
    const ring = (least: number, most: number, corners: number) => {
      const points = Array.from({ length: corners }, (_, i): [number, number] => {
        const bearing = ((i + 0.8 * next()) / corners) * 2 * Math.PI;
        const radius = least + (most - least) * next();
        return [
          grid.west + 40 + radius * Math.cos(bearing),
          grid.north - 30 + radius * Math.sin(bearing),
        ];
      });
      return [...points, points[0]!];
    };
    const rings = [ring(8, 40, 17), ring(2, 6, 9)];
    const json = JSON.stringify({
      type: 'FeatureCollection',
      features: [
        { type: 'Feature', properties: {}, geometry: { type: 'Polygon', coordinates: rings } },
      ],
    });
    const path = gdal.write(`mask-${n}.geojson`, new TextEncoder().encode(json));
    const extent = [grid.west, grid.north - 60, grid.west + 80, grid.north].map(String);
    const burned = await gdal.run(
      'gdal_rasterize',
      path,
      ['-burn', '1', '-te', ...extent, '-ts', '80', '60', '-ot', 'Byte', '-of', 'GTiff'],
      `mask-${n}.tif`,
    );
    const theirs = (await gdal.band(burned)).data;
    const spans = polygonMask(grid, rings);
    const ours = new Uint8Array(theirs.length);
    for (let i = 0; i < spans.count; i++) {
      ours.fill(1, spans.row[i]! * 80 + spans.start[i]!, spans.row[i]! * 80 + spans.end[i]!);
    }
    expect(ours.reduce((sum, v) => sum + v, 0)).toBeGreaterThan(300);
    expect(rasterDifference(ours, theirs)).toMatchObject({ largest: 0, dataMismatches: 0 });
  }
});
