import { fromArrayBuffer } from 'geotiff';
import { beforeAll, describe, expect, test } from 'vitest';
import { crsFromGeoKeys, crsFromWkt } from '../../geo/frame/crs.ts';
import { systemByCode } from '../../geo/frame/crs-table.ts';
import { geoKeysFromNames } from '../../geo/frame/geo-keys.ts';
import { openCrs } from '../../geo/frame/open-frame.ts';
import { CRS_ROWS } from '../../geo/frame/table/crs-rows.ts';
import { verticalFromGeoKeys, verticalFromWkt } from '../../geo/frame/vertical.ts';
import { openGdal } from '../gdal.ts';
import type { GeoKeys } from '../../geo/frame/geo-keys.ts';
import type { HorizontalCrs } from '../../geo/frame/crs-types.ts';
import type { Result } from '../../geo/result.ts';
import type { Gdal } from '../gdal.ts';

/**
 * Definitions as GDAL writes them, read by us: GeoTIFF keys, WKT2, WKT1 and the ESRI flavour of
 * .prj. What they mean is checked by code, and where there is no code by coordinates from GDAL.
 */

let gdal: Gdal;
let grid: string;

beforeAll(async () => {
  gdal = await openGdal();
  const text = 'ncols 2\nnrows 2\nxllcorner 500000\nyllcorner 400000\ncellsize 10\n1 2\n3 4\n';
  grid = gdal.write('four.asc', new TextEncoder().encode(text));
});

interface Definitions {
  readonly keys: GeoKeys;
  readonly wkt2: string;
  readonly wkt1: string;
  readonly esri: string;
}

async function written(srs: string, extra: readonly string[] = []): Promise<Definitions> {
  const args = ['-a_srs', srs, ...extra];
  const tif = await gdal.run('gdal_translate', grid, [...args, '-of', 'GTiff'], 'keys.tif');
  const tiff = await fromArrayBuffer(gdal.read(tif).slice().buffer as ArrayBuffer);
  const named = (await tiff.getImage()).getGeoKeys() ?? {};
  const info = (await gdal.info(tif)) as { coordinateSystem?: { wkt: string } };
  const vrt = await gdal.run('gdal_translate', grid, [...args, '-of', 'VRT'], 'srs.vrt');
  const srsText = /<SRS[^>]*>(.*?)<\/SRS>/s.exec(text(vrt))?.[1] ?? '';
  const asc = await gdal.run('gdal_translate', grid, [...args, '-of', 'AAIGrid'], 'esri.asc');
  return {
    keys: geoKeysFromNames(named as Record<string, unknown>),
    wkt2: info.coordinateSystem?.wkt ?? '',
    wkt1: srsText.replaceAll('&quot;', '"').replaceAll('&amp;', '&'),
    esri: text(asc.replace(/\.[^.]*$/, '.prj')),
  };
}

const text = (path: string) => new TextDecoder().decode(gdal.read(path));

function value(crs: Result<HorizontalCrs>): HorizontalCrs {
  if (!crs.ok) throw new Error(`${crs.problem.code}: ${crs.problem.what}`);
  return crs.value;
}

const tableCodes = [...CRS_ROWS.matchAll(/[:,](\d+)/g)].map((match) => Number(match[1]));
// Every method, unit and datum comes by; all of NAD83's and NAD83(2011)'s own codes are in the
// coordinate check already.
const sample = tableCodes.filter(
  (code, i) => i % 97 === 0 || [2256, 5070, 26_931, 32_111].includes(code),
);

test('systems with a code are known again from each flavour', async () => {
  const wrong: string[] = [];
  for (const code of [...sample, 32_615, 32_733, 4326, 4269, 6318, 3857]) {
    const definitions = await written(`EPSG:${code}`);
    const readings = {
      keys: crsFromGeoKeys(definitions.keys),
      wkt2: crsFromWkt(definitions.wkt2),
      wkt1: crsFromWkt(definitions.wkt1),
      esri: crsFromWkt(definitions.esri),
    };
    for (const [flavour, reading] of Object.entries(readings)) {
      if (!reading.ok) wrong.push(`${code} ${flavour}: ${reading.problem.what}`);
      else if (reading.value.epsg !== code) {
        wrong.push(`${code} ${flavour}: read as ${reading.value.epsg} ${reading.value.name}`);
      }
    }
  }
  expect(wrong).toEqual([]);
});

describe('systems without a code', () => {
  test.each([
    '+proj=lcc +lat_0=33.4 +lon_0=-118.1 +lat_1=35.5 +lat_2=34 +x_0=2000000 +y_0=500000 +datum=NAD83 +units=us-ft',
    '+proj=tmerc +lat_0=33.5 +lon_0=-118.2 +k=0.9999 +x_0=200000 +y_0=500000 +datum=NAD83 +units=ft',
    '+proj=tmerc +lat_0=33.5 +lon_0=-118.2 +k=1.00005 +x_0=150000 +y_0=0 +datum=WGS84 +units=m',
    '+proj=lcc +lat_1=34 +lat_0=34 +lon_0=-118 +k_0=0.9999 +x_0=1000 +y_0=0 +datum=NAD83 +units=m',
    '+proj=aea +lat_0=23 +lon_0=-96 +lat_1=29.5 +lat_2=45.6 +x_0=0 +y_0=0 +datum=NAD83 +units=m',
    '+proj=omerc +no_uoff +lat_0=36 +lonc=-118 +alpha=-37 +gamma=-36 +k=0.9999 +x_0=5000000 +y_0=-5000000 +datum=NAD83 +units=m',
    '+proj=omerc +lat_0=36 +lonc=-118 +alpha=-37 +gamma=-37 +k=0.9999 +x_0=50000 +y_0=20000 +datum=NAD83 +units=m',
  ])('%s', async (proj) => {
    const { keys, wkt2, wkt1 } = await written(`${proj} +no_defs`);
    const degrees = /WGS84/.test(proj) ? 'EPSG:4326' : 'EPSG:4269';
    const [expected] = await gdal.transform([[-117.6, 34.3]], degrees, `${proj} +no_defs`);
    for (const reading of [crsFromGeoKeys(keys), crsFromWkt(wkt2), crsFromWkt(wkt1)]) {
      const crs = value(reading);
      expect(crs.epsg).toBeNull();
      const point = openCrs(crs).fromLngLat(-117.6, 34.3);
      // GDAL prints its parameters to 15 digits.
      expect(point[0]).toBeCloseTo(expected![0], 5);
      expect(point[1]).toBeCloseTo(expected![1], 5);
    }
  });

  test('an ESRI code is known as the EPSG system that it equals', async () => {
    // ESRI:102711 New Jersey and ESRI:103240 California III, in survey feet.
    expect(value(crsFromGeoKeys((await written('ESRI:102711')).keys)).epsg).toBe(3424);
    const california = await written('ESRI:103240');
    const crs = value(crsFromGeoKeys(california.keys));
    expect(crs.unit).toBe('us-survey-foot');
    const [expected] = await gdal.transform([[-120, 37]], 'EPSG:6783', 'ESRI:103240');
    const point = openCrs(crs).fromLngLat(-120, 37);
    expect(point[0]).toBeCloseTo(expected![0], 5);
    expect(point[1]).toBeCloseTo(expected![1], 5);
  });

  test('a metric code with feet in the unit key is the zone in feet', () => {
    // As libgeotiff reads it: the unit key overrides the code's unit, the false origin stays put.
    const keys = geoKeysFromNames({
      GTModelTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 26_945,
      ProjLinearUnitsGeoKey: 9003,
    });
    // Its false origin is the ftUS zone's to 0.1 mm, so it is that zone.
    expect(value(crsFromGeoKeys(keys))).toMatchObject({ epsg: 2229, unit: 'us-survey-foot' });
  });
});

describe('heights', () => {
  test.each([
    ['EPSG:26915+5703', 'NAVD88', 'metre', 5703],
    ['EPSG:26915+6360', 'NAVD88', 'us-survey-foot', 6360],
    ['EPSG:26915+8228', 'NAVD88', 'international-foot', 8228],
    ['EPSG:26915+5773', 'unknown', 'metre', 5773],
    ['EPSG:6349', 'NAVD88', 'metre', 5703],
    ['EPSG:8718', 'NAVD88', 'us-survey-foot', 6360],
    ['EPSG:4979', 'ellipsoid', 'metre', 4979],
    ['EPSG:26915', 'unknown', null, null],
    ['EPSG:4326', 'unknown', null, null],
  ])('%s', async (srs, datum, unit, epsg) => {
    const { keys, wkt2 } = await written(srs);
    expect(verticalFromGeoKeys(keys)).toEqual({ datum, unit, epsg });
    expect(verticalFromWkt(wkt2)).toEqual({ datum, unit, epsg });
    // The horizontal part is read beside it.
    expect(value(crsFromGeoKeys(keys)).name).toBe(value(crsFromWkt(wkt2)).name);
  });

  test('keys of GeoTIFF 1.0 with their own unit and datum', async () => {
    const { keys } = await written('EPSG:26915+6360', ['-co', 'GEOTIFF_VERSION=1.0']);
    expect(verticalFromGeoKeys(keys)).toEqual({
      datum: 'NAVD88',
      unit: 'us-survey-foot',
      epsg: 6360,
    });
  });
});

test('NAD27 is refused from keys and from every flavour of text', async () => {
  for (const srs of ['EPSG:26711', 'EPSG:4267', 'EPSG:32040']) {
    const { keys, wkt2, wkt1, esri } = await written(srs);
    for (const reading of [crsFromGeoKeys(keys), ...[wkt2, wkt1, esri].map(crsFromWkt)]) {
      expect(reading.ok ? reading.value.name : reading.problem.code).toBe('crs-nad27');
    }
  }
});

test('other datums and site grids are refused', async () => {
  const refused = async (srs: string) => {
    const { keys, wkt2 } = await written(srs);
    return [crsFromGeoKeys(keys), crsFromWkt(wkt2)].map((reading) =>
      reading.ok ? reading.value.name : reading.problem.code,
    );
  };
  // Germany's UTM on ETRS89, and WGS 72.
  expect(await refused('EPSG:25832')).toEqual(['crs-code-unknown', 'crs-datum-unknown']);
  expect(await refused('EPSG:4322')).toEqual(['crs-code-unknown', 'crs-datum-unknown']);
  expect(await refused('LOCAL_CS["site grid",UNIT["metre",1]]')).toEqual([
    'crs-missing',
    'crs-local',
  ]);
});

test('the sample of codes has every method and unit', () => {
  const systems = sample.map((code) => systemByCode(code)!.projection);
  expect(new Set(systems.map((p) => p.unit)).size).toBe(3);
  expect(new Set(systems.map((p) => p.method)).size).toBeGreaterThanOrEqual(4);
});
