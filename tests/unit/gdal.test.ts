import { expect, test } from 'vitest';
import { openGdal } from '../gdal.ts';

// The reference itself: if GDAL in WebAssembly does not answer known values here, no check built on
// it means anything.
test('GDAL reads a grid, shades a tilted plane and transforms a point', async () => {
  const gdal = await openGdal();
  const text =
    'ncols 4\nnrows 3\nxllcorner 500000\nyllcorner 4000000\ncellsize 1\n1 2 3 4\n1 2 3 4\n1 2 3 4\n';
  const asc = gdal.write('plane.asc', new TextEncoder().encode(text));
  const band = await gdal.band(asc);
  expect([band.width, band.height, ...band.data.slice(0, 4)]).toEqual([4, 3, 1, 2, 3, 4]);

  const slope = await gdal.band(await gdal.dem('slope', asc, [], 'plane-slope.tif'));
  // A plane that rises 1 in 1 is 45 degrees steep, by definition.
  expect(slope.data[5]).toBeCloseTo(45, 5);

  // UTM zone 32 on WGS84, 12 E 56 N: handbook §9 [C 55].
  const [point] = await gdal.transform([[12, 56]], 'OGC:CRS84', 'EPSG:32632');
  expect(point![0]).toBeCloseTo(687071.43911, 3);
  expect(point![1]).toBeCloseTo(6210141.32675, 3);
});
