import { beforeAll, describe, expect, test } from 'vitest';
import { toGrid } from '../../geo/formats/geotiff/to-grid.ts';
import { writeGeoTiff } from '../../geo/formats/geotiff/write-geotiff.ts';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import type { FrameDefinition } from '../../geo/frame/crs-types.ts';
import { frameFor, openFrame } from '../../geo/frame/open-frame.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { finish } from '../../geo/work.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { readBack, valueOf } from '../geotiff-samples.ts';
import { rasterDifference } from '../raster-difference.ts';
import { seeded } from '../seeded.ts';

// GDAL must read what we write: numbers, place, coordinate system, no data, vertical system and unit.

let gdal: Gdal;
beforeAll(async () => {
  gdal = await openGdal();
});

function gridIn(
  frame: FrameDefinition,
  west: number,
  north: number,
  width = 301,
  height = 270,
): Grid {
  const random = seeded(77);
  const data = Float32Array.from({ length: width * height }, (_, i) =>
    i % 41 === 0 ? NaN : 180 + 30 * Math.sin(i / 900) + random(),
  );
  const shape = { width, height, west, north, cellWidth: 1.5, cellHeight: 1.25 };
  return makeGrid(shape, data, openFrame(frame));
}

interface Info {
  size: [number, number];
  geoTransform: number[];
  coordinateSystem: { wkt: string };
  bands: { noDataValue?: unknown; type: string; unit?: string; block: number[] }[];
  metadata: { '': Record<string, string>; IMAGE_STRUCTURE: Record<string, string> };
}

async function byGdal(grid: Grid, vertical: 'NAVD88' | 'ellipsoid' | 'unknown' = 'NAVD88') {
  const bytes = finish(writeGeoTiff(grid, { vertical, surveyedOn: '2021-11-05' }));
  const path = gdal.write('ours.tif', bytes);
  return { bytes, info: (await gdal.info(path)) as unknown as Info, band: await gdal.band(path) };
}

describe('GDAL reads ours', () => {
  const frame = frameFor(valueOf(crsFromEpsg(26916)), -87, 44);

  test('numbers, place, no data, packing, date', async () => {
    const grid = gridIn(frame, 500123.5, 4900321.25);
    const { info, band } = await byGdal(grid);
    expect(info.size).toEqual([301, 270]);
    expect(info.geoTransform).toEqual([500123.5, 1.5, 0, 4900321.25, 0, -1.25]);
    expect(info.bands[0]).toMatchObject({ type: 'Float32', noDataValue: 'NaN', block: [256, 256] });
    expect(info.metadata.IMAGE_STRUCTURE['COMPRESSION']).toBe('DEFLATE');
    expect(info.metadata['']['TIFFTAG_DATETIME']).toBe('2021:11:05 00:00:00');
    expect(info.metadata['']['AREA_OR_POINT']).toBe('Area');
    const theirs = rasterDifference(grid.data, band.data);
    expect(theirs).toMatchObject({ largest: 0, dataMismatches: 0 });
    expect(theirs.compared).toBeGreaterThan(70_000);
  });

  test('coordinate and vertical system with its unit', async () => {
    const { info } = await byGdal(gridIn(frame, 500000, 4900000));
    const { wkt } = info.coordinateSystem;
    expect(wkt).toContain('ID["EPSG",26916]');
    expect(wkt).toContain('ID["EPSG",5703]');
    expect(wkt).toMatch(/VERTCRS\["NAVD88 height".*LENGTHUNIT\["metre",1/s);
    expect(info.bands[0]!.unit).toBe('metre');
  });

  test('without a vertical datum the unit still stands', async () => {
    const { info } = await byGdal(gridIn(frame, 500000, 4900000), 'unknown');
    expect(info.coordinateSystem.wkt).toMatch(
      /VERTCRS\[.*VDATUM\["unknown"\].*LENGTHUNIT\["metre",1/s,
    );
  });

  // Foot zones (EPSG): Lambert with a metric twin, transverse Mercator, one without a metric twin, an
  // oblique one, and the same without any code, so that the projection is written out.
  test.each([2264, 2222, 3703, 2236, 3435, 26931])('frame of EPSG %s', async (epsg) => {
    const crs = valueOf(crsFromEpsg(epsg));
    const center: [number, number] = [2_000_000, 700_000];
    const foot = crs.unit === 'us-survey-foot' ? 1200 / 3937 : crs.unit === 'metre' ? 1 : 0.3048;
    const [lng, lat] = openFrame({ ...crs }).toLngLat(...center);
    const coded = frameFor(crs, lng, lat);
    for (const frame of [coded, { ...coded, epsg: null }]) {
      const grid = gridIn(frame, center[0] * foot, center[1] * foot);
      const { info, bytes } = await byGdal(grid, 'unknown');
      // The same corner in degrees by GDAL from what we wrote, and from the file's own foot system.
      const corner = [grid.west, grid.north] as const;
      const [ours] = await gdal.transform([corner], info.coordinateSystem.wkt, 'EPSG:4269');
      const [theirs] = await gdal.transform([center], `EPSG:${epsg}`, 'EPSG:4269');
      // 1e-8 degree is a millimetre: a rounded false origin may move a metric twin by 0.3 mm.
      expect(Math.abs(ours![0] - theirs![0])).toBeLessThan(1e-8);
      expect(Math.abs(ours![1] - theirs![1])).toBeLessThan(1e-8);
      const { header, raw } = await readBack(bytes);
      expect(header.vertical.unit).toBe('metre');
      const back = valueOf(finish(toGrid(header, raw, { frame }))).grid;
      expect([back.width, back.height]).toEqual([grid.width, grid.height]);
      expect(rasterDifference(back.data, grid.data)).toMatchObject({
        largest: 0,
        dataMismatches: 0,
      });
    }
  });
});

test('the same grid gives the same bytes, and we read them back bit for bit', async () => {
  const frame = frameFor(valueOf(crsFromEpsg(32617)), -81, 30);
  const grid = gridIn(frame, 400000, 3300000, 17, 300);
  const once = finish(writeGeoTiff(grid, { vertical: 'ellipsoid' }));
  const twice = finish(writeGeoTiff(grid, { vertical: 'ellipsoid' }));
  expect(Buffer.from(once).equals(Buffer.from(twice))).toBe(true);
  const { header, raw } = await readBack(once);
  expect(header.vertical).toMatchObject({ unit: 'metre', datum: 'ellipsoid' });
  const back = valueOf(finish(toGrid(header, raw))).grid;
  expect({ ...back, data: null }).toEqual({ ...grid, data: null });
  expect(rasterDifference(back.data, grid.data)).toMatchObject({ largest: 0, dataMismatches: 0 });
});
