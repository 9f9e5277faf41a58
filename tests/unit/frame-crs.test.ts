import { describe, expect, test } from 'vitest';
import {
  crsFromEpsg,
  crsFromGeoKeys,
  crsFromText,
  crsFromWkt,
  extentProblem,
} from '../../geo/frame/crs.ts';
import { geoKeysFromNames } from '../../geo/frame/geo-keys.ts';
import { frameFor, openCrs, openFrame } from '../../geo/frame/open-frame.ts';
import { DATUMS_TAKEN_AS_ONE } from '../../geo/frame/realisation.ts';
import {
  HEIGHTS_UNKNOWN,
  verticalFromEpsg,
  verticalFromGeoKeys,
  verticalFromWkt,
} from '../../geo/frame/vertical.ts';
import { parseWkt } from '../../geo/frame/wkt-tree.ts';
import * as units from '../../geo/frame/units.ts';
import type { HorizontalCrs } from '../../geo/frame/crs-types.ts';
import type { Result } from '../../geo/result.ts';

const said = (crs: Result<HorizontalCrs>) => (crs.ok ? crs.value.name : crs.problem.code);
const system = (code: number) => {
  const crs = crsFromEpsg(code);
  if (!crs.ok) throw new Error(crs.problem.what);
  return crs.value;
};

const GCS_NAD83 =
  'GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';
const CALIFORNIA = (unit: string) =>
  `PROJCS["NAD_1983_StatePlane_California_V_FIPS_0405_Feet",${GCS_NAD83},PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",6561666.666666666],PARAMETER["False_Northing",1640416.666666667],PARAMETER["Central_Meridian",-118.0],PARAMETER["Standard_Parallel_1",34.03333333333333],PARAMETER["Standard_Parallel_2",35.46666666666667],PARAMETER["Latitude_Of_Origin",33.5],UNIT[${unit}]`;

describe('names of systems', () => {
  test.each([
    ['26915', 'NAD83 / UTM zone 15N'],
    ['EPSG:26915', 'NAD83 / UTM zone 15N'],
    ['epsg:6344', 'NAD83(2011) / UTM zone 15N'],
    ['EPSG:26915+5703', 'NAD83 / UTM zone 15N'],
    ['urn:ogc:def:crs:EPSG::32615', 'WGS 84 / UTM zone 15N'],
    ['urn:ogc:def:crs:EPSG:9.9:4269', 'NAD83'],
    ['urn:ogc:def:crs:OGC:1.3:CRS84', 'WGS 84'],
    ['http://www.opengis.net/def/crs/OGC/1.3/CRS84', 'WGS 84'],
    ['http://www.opengis.net/def/crs/EPSG/0/6318', 'NAD83(2011)'],
    ['EPSG:6349', 'NAD83(2011)'],
    ['EPSG:8718', 'NAD83 / California zone 5 (ftUS)'],
    ['EPSG:102100', 'WGS 84 / Pseudo-Mercator'],
    ['EPSG:26711', 'crs-nad27'],
    ['EPSG:4267', 'crs-nad27'],
    ['EPSG:25832', 'crs-code-unknown'],
    ['Gibson County', 'crs-unreadable'],
    ['', 'crs-unreadable'],
    ['PROJCS["half', 'crs-unreadable'],
  ])('%s is %s', (text, expected) => {
    expect(said(crsFromText(text))).toBe(expected);
  });

  test('the datum field keeps to its three values', () => {
    expect(system(2921).datum).toBe('NAD83');
    expect(system(6344).datum).toBe('NAD83(2011)');
    expect(system(32_615).datum).toBe('WGS84');
    expect(DATUMS_TAKEN_AS_ONE.sentence).toContain('2 m');
  });
});

describe('well-known text as ESRI writes it beside a shapefile', () => {
  test('survey feet', () => {
    const crs = crsFromWkt(`${CALIFORNIA('"Foot_US",0.3048006096012192')}]`);
    expect(crs.ok && crs.value).toMatchObject({ epsg: 2229, unit: 'us-survey-foot' });
  });

  test('the same numbers in international feet are another system, without a code', () => {
    const crs = crsFromWkt(`${CALIFORNIA('"Foot",0.3048')}]`);
    expect(crs.ok && crs.value).toMatchObject({ epsg: null, unit: 'international-foot' });
  });

  test('a code that does not fit its own numbers is refused', () => {
    const text = `${CALIFORNIA('"Foot",0.3048')},AUTHORITY["EPSG","2229"]]`;
    expect(said(crsFromWkt(text))).toBe('crs-contradiction');
  });

  test('units, projections, meridians and datums that are not taken', () => {
    expect(said(crsFromWkt(`${CALIFORNIA('"Link_Clarke",0.201166195164')}]`))).toBe(
      'crs-unit-unknown',
    );
    const krovak = CALIFORNIA('"Meter",1').replace('Lambert_Conformal_Conic', 'Krovak');
    expect(said(crsFromWkt(`${krovak}]`))).toBe('crs-projection-unknown');
    expect(said(crsFromWkt(GCS_NAD83.replace('"Greenwich",0.0', '"Ferro",-17.666')))).toBe(
      'crs-meridian',
    );
    expect(said(crsFromWkt(GCS_NAD83.replace('0.0174532925199433', '0.01570796326794897')))).toBe(
      'crs-angle-unknown',
    );
    expect(said(crsFromWkt(GCS_NAD83.replaceAll(/North_American_1983/g, 'ETRS_1989')))).toBe(
      'crs-datum-unknown',
    );
    expect(
      said(crsFromWkt(GCS_NAD83.replaceAll(/North_American_1983/g, 'North_American_1927'))),
    ).toBe('crs-nad27');
    // County systems on a blown-up ellipsoid stand on no datum that can be taken as NAD83.
    expect(said(crsFromWkt(GCS_NAD83.replace('6378137.0', '6378376.811')))).toBe(
      'crs-datum-unknown',
    );
    expect(said(crsFromWkt('LOCAL_CS["site"]'))).toBe('crs-local');
    expect(
      said(
        crsFromWkt('GEOCCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]]]'),
      ),
    ).toBe('crs-geocentric');
  });

  test('web mercator is not taken for a Mercator of the ellipsoid', () => {
    const base = GCS_NAD83.replaceAll('North_American_1983', 'WGS_1984');
    const web = `PROJCS["WGS_1984_Web_Mercator_Auxiliary_Sphere",${base},PROJECTION["Mercator_Auxiliary_Sphere"],UNIT["Meter",1.0]]`;
    expect(said(crsFromWkt(web))).toBe('WGS 84 / Pseudo-Mercator');
    const plain = `PROJCS["World Mercator",${base},PROJECTION["Mercator_1SP"],UNIT["metre",1]]`;
    expect(said(crsFromWkt(plain))).toBe('crs-projection-unknown');
  });
});

describe('GeoTIFF keys', () => {
  const keys = (named: Record<string, unknown>) => geoKeysFromNames(named);
  test('nothing said, nothing taken', () => {
    expect(said(crsFromGeoKeys(keys({})))).toBe('crs-missing');
    expect(said(crsFromGeoKeys(keys({ GTModelTypeGeoKey: 3 })))).toBe('crs-geocentric');
    expect(said(crsFromGeoKeys(keys({ GTModelTypeGeoKey: 32_767 })))).toBe('crs-local');
  });

  test('own projections without a unit or in an odd one are refused', () => {
    const own = {
      GTModelTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 32_767,
      GeographicTypeGeoKey: 4269,
      ProjCoordTransGeoKey: 1,
    };
    expect(said(crsFromGeoKeys(keys(own)))).toBe('crs-unit-unknown');
    expect(said(crsFromGeoKeys(keys({ ...own, ProjLinearUnitsGeoKey: 9005 })))).toBe(
      'crs-unit-unknown',
    );
    expect(
      said(crsFromGeoKeys(keys({ ...own, ProjLinearUnitsGeoKey: 9001, ProjCoordTransGeoKey: 17 }))),
    ).toBe('crs-projection-unknown');
  });

  test('a user-defined UTM by its projection code (16000 + zone, GeoTIFF 1.0 annex)', () => {
    const utm = {
      GTModelTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 32_767,
      ProjectionGeoKey: 16_015,
      GeographicTypeGeoKey: 4269,
      ProjLinearUnitsGeoKey: 9001,
    };
    expect(said(crsFromGeoKeys(keys(utm)))).toBe('NAD83 / UTM zone 15N');
  });

  test('a system told only in the citation: by EPSG name or as ESRI text', () => {
    const named = {
      GTModelTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 32_767,
      GTCitationGeoKey: 'NAD83 / California zone 5 (ftUS)|',
    };
    expect(said(crsFromGeoKeys(keys(named)))).toBe('NAD83 / California zone 5 (ftUS)');
    const esri = {
      GTModelTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 32_767,
      PCSCitationGeoKey: `ESRI PE String = ${CALIFORNIA('"Foot_US",0.3048006096012192')}]`,
    };
    expect(said(crsFromGeoKeys(keys(esri)))).toBe('NAD83 / California zone 5 (ftUS)');
  });

  test('NAD27 by its datum key alone', () => {
    const own = {
      GTModelTypeGeoKey: 2,
      GeographicTypeGeoKey: 32_767,
      GeogGeodeticDatumGeoKey: 6267,
    };
    expect(said(crsFromGeoKeys(keys(own)))).toBe('crs-nad27');
  });
});

describe('heights', () => {
  const keys = (named: Record<string, unknown>) => verticalFromGeoKeys(geoKeysFromNames(named));
  test('a unit is read, never guessed', () => {
    expect(keys({})).toEqual(HEIGHTS_UNKNOWN);
    expect(keys({ VerticalUnitsGeoKey: 9003 })).toEqual({
      unit: 'us-survey-foot',
      datum: 'unknown',
      epsg: null,
    });
    expect(keys({ VerticalDatumGeoKey: 5103, VerticalUnitsGeoKey: 9002 })).toEqual({
      unit: 'international-foot',
      datum: 'NAVD88',
      epsg: null,
    });
    // The old code for the datum in the place of a system: it has no unit.
    expect(keys({ VerticalCSTypeGeoKey: 5103 })).toEqual({
      unit: null,
      datum: 'NAVD88',
      epsg: null,
    });
    expect(keys({ VerticalCSTypeGeoKey: 5030 })).toEqual({
      unit: null,
      datum: 'ellipsoid',
      epsg: null,
    });
    expect(keys({ VerticalCSTypeGeoKey: 9999 })).toEqual({
      unit: null,
      datum: 'unknown',
      epsg: 9999,
    });
    expect(keys({ VerticalCitationGeoKey: 'NAVD88 - Geoid18 (Feet)' })).toEqual({
      unit: null,
      datum: 'NAVD88',
      epsg: null,
    });
    expect(keys({ VerticalCitationGeoKey: 'NAVD88 height (ftUS)' }).unit).toBe('us-survey-foot');
  });

  test('a code in metres with feet in the unit key contradicts itself', () => {
    expect(keys({ VerticalCSTypeGeoKey: 5703, VerticalUnitsGeoKey: 9003 })).toEqual({
      unit: null,
      datum: 'NAVD88',
      epsg: 5703,
    });
  });

  test('codes, compound codes and horizontal codes', () => {
    expect(verticalFromEpsg(6349)).toEqual({ unit: 'metre', datum: 'NAVD88', epsg: 5703 });
    expect(verticalFromEpsg(5702).unit).toBe('us-survey-foot');
    expect(verticalFromEpsg(26_915)).toEqual(HEIGHTS_UNKNOWN);
    // Depths count downwards.
    expect(verticalFromEpsg(6357).unit).toBeNull();
  });

  test('beside a .prj, as ESRI writes it', () => {
    const vertical = (unit: string, direction: string) =>
      `${GCS_NAD83},VERTCS["NAVD_1988",VDATUM["North_American_Vertical_Datum_1988"],PARAMETER["Vertical_Shift",0.0],PARAMETER["Direction",${direction}],UNIT[${unit}]]`;
    const feet = '"Foot_US",0.3048006096012192';
    expect(verticalFromWkt(vertical(feet, '1.0'))).toEqual({
      unit: 'us-survey-foot',
      datum: 'NAVD88',
      epsg: null,
    });
    expect(verticalFromWkt(vertical('"Meter",1.0', '1.0')).unit).toBe('metre');
    expect(verticalFromWkt(vertical(feet, '-1.0')).unit).toBeNull();
    expect(said(crsFromWkt(vertical(feet, '1.0')))).toBe('NAD83');
    expect(verticalFromWkt('not wkt')).toEqual(HEIGHTS_UNKNOWN);
  });
});

test('degrees taken for metres, and the reverse', () => {
  const degrees = { west: -85.1, south: 44, east: -85, north: 44.1 };
  const metres = { west: 600_000, south: 4_800_000, east: 601_000, north: 4_801_000 };
  expect(extentProblem(system(26_916), degrees)?.code).toBe('degrees-taken-for-metres');
  expect(extentProblem(system(3857), degrees)?.code).toBe('degrees-taken-for-metres');
  expect(extentProblem(system(26_916), metres)).toBeNull();
  expect(extentProblem(system(4326), metres)?.code).toBe('metres-taken-for-degrees');
  expect(extentProblem(system(4326), degrees)).toBeNull();
});

describe('the site frame', () => {
  test('metric systems stay, feet go to metres, degrees go to UTM', () => {
    expect(frameFor(system(26_945), -118, 34).epsg).toBe(26_945);
    expect(frameFor(system(2229), -118, 34)).toMatchObject({ epsg: 26_945, datum: 'NAD83' });
    expect(frameFor(system(4269), -85, 44).epsg).toBe(26_916);
    expect(frameFor(system(6318), -85, 44).epsg).toBe(6345);
    expect(frameFor(system(4326), -85, 44).epsg).toBe(32_616);
    expect(frameFor(system(3857), -85, 44).epsg).toBe(32_616);
    expect(frameFor(system(4326), 25, -30).epsg).toBe(32_735);
    expect(frameFor(system(4326), 180, 10).epsg).toBe(32_601);
    expect(frameFor(system(6318), -170.7, -14.3).epsg).toBe(32_702);
    expect(() => frameFor(system(4326), Number.NaN, 10)).toThrow(RangeError);
  });

  test('a coordinate with no place throws', () => {
    const frame = openFrame(frameFor(system(4269), -85, 44));
    expect(() => frame.toLngLat(Number.NaN, 0)).toThrow(RangeError);
    expect(() => frame.fromLngLat(Number.POSITIVE_INFINITY, 44)).toThrow(RangeError);
    expect(() => openCrs(system(3857)).fromLngLat(0, 90)).toThrow(RangeError);
  });
});

test('well-known text with round brackets, doubled quotes and a tail', () => {
  expect(parseWkt('A("x ""y""",1,B[2])')).toEqual([
    { keyword: 'A', values: ['x "y"', 1], nodes: [{ keyword: 'B', values: [2], nodes: [] }] },
  ]);
  for (const bad of ['', 'A', 'A[', 'A[1', 'A[1]]', 'A[1],', '[1]', 'A["x]']) {
    expect(parseWkt(bad)).toBeNull();
  }
});

test('exact factors (1959 agreement; 1200/3937; 231 cubic inches)', () => {
  expect(units.metersPerUnit('us-survey-foot')).toBe(1200 / 3937);
  expect(units.metersFromFeet(100)).toBeCloseTo(30.48, 12);
  expect(units.squareMetersFromAcres(1)).toBeCloseTo(4046.8564224, 10);
  expect(units.cubicMetersFromCubicYards(1)).toBeCloseTo(0.764554857984, 14);
  expect(units.cubicMetersFromGallons(1)).toBeCloseTo(0.003785411784, 16);
  expect(units.metersPerSecondFromMilesPerHour(10)).toBeCloseTo(4.4704, 12);
  expect(units.kilogramsFromPounds(100)).toBeCloseTo(45.359237, 12);
  expect(units.kilogramsFromTons(1)).toBeCloseTo(907.18474, 10);
  // One acre-inch is 3,630 cubic feet and 27,154 gallons (handbook trap 13).
  const acreInch = units.squareMetersFromAcres(1) * units.metersFromInches(1);
  expect(units.cubicFeetFromCubicMeters(acreInch)).toBeCloseTo(3630, 8);
  expect(units.gallonsFromCubicMeters(acreInch)).toBeCloseTo(27_154, 0);
  expect(units.unitFromFactor(0.30480061)).toBe('us-survey-foot');
  expect(units.unitFromFactor(0.3048)).toBe('international-foot');
  expect(units.unitFromFactor(0.3047972654)).toBeNull();
});
