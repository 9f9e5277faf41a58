import { expect, test } from 'vitest';
import { crsFromEpsg, crsFromText } from '../../geo/frame/crs.ts';
import { openCrs, openFrame } from '../../geo/frame/open-frame.ts';
import { projString, utmProjection } from '../../geo/frame/projection.ts';
import { figureOf } from '../../geo/frame/realisation.ts';
import { metersFrom } from '../../geo/frame/units.ts';
import { completeProjection } from '../../geo/frame/wkt-projection.ts';
import type { HorizontalCrs } from '../../geo/frame/crs-types.ts';

/**
 * Projections against published points, all from handbook section 9: [C 55] PROJ's own tests and
 * the IOGP GIGS series, [C 56] [C 57] IOGP Guidance Note 7-2. The strings are built as ours are;
 * only the ellipsoid of the old examples is put in by hand.
 */

function system(code: number): HorizontalCrs {
  const crs = crsFromEpsg(code);
  if (!crs.ok) throw new Error(crs.problem.what);
  return crs.value;
}

function expectPoint(actual: readonly number[], expected: readonly number[], within: number) {
  expect(Math.abs(actual[0]! - expected[0]!)).toBeLessThanOrEqual(within);
  expect(Math.abs(actual[1]! - expected[1]!)).toBeLessThanOrEqual(within);
}

const dms = (degrees: number, minutes: number, seconds = 0) =>
  degrees + minutes / 60 + seconds / 3600;

test('UTM 32 on WGS84 [C 55]', () => {
  // PROJ's printed northing is 0.12 mm off what PROJ itself gives today; the print is to 1e-5.
  expectPoint(openCrs(system(32_632)).fromLngLat(12, 56), [687071.43911, 6210141.32675], 2e-4);
});

test('UTM 30 on GRS80 [C 55]', () => {
  const proj = projString(utmProjection(30, false), '+ellps=GRS80');
  expectPoint(openCrs({ proj }).fromLngLat(2, 1), [1057002.405491, 110955.141176], 1e-6);
});

test('the centre of MGRS square 38SMB4488 [C 53]', () => {
  expectPoint(openCrs(system(32_638)).toLngLat(444_500, 3_688_500), [44.40363, 33.33424], 5e-6);
});

test('EPSG method 9807, Transverse Mercator of Great Britain [C 56]', () => {
  const given = {
    lat0: 49,
    lon0: -2,
    scale: 0.9996012717,
    falseEasting: 400_000,
    falseNorthing: -100_000,
  };
  const projection = completeProjection('transverse-mercator', given, 'metre');
  const proj = projString(projection, '+a=6377563.396 +rf=299.32496');
  // Printed to the centimetre with an older series (trap 9): 6 and 8 mm off.
  expectPoint(openCrs({ proj }).fromLngLat(0.5, 50.5), [577274.99, 69740.5], 0.02);
  expectPoint(openCrs({ proj }).fromLngLat(0.5, 50.5), [577274.984, 69740.492], 1e-3);
});

test('EPSG method 9802, Lambert with two parallels, in survey feet [C 57]', () => {
  const given = {
    lat0: dms(27, 50),
    lon0: -99,
    lat1: dms(28, 23),
    lat2: dms(30, 17),
    falseEasting: 2_000_000,
    falseNorthing: 0,
  };
  const projection = completeProjection('lambert-conic', given, 'us-survey-foot');
  const proj = projString(projection, '+ellps=clrk66');
  const feet = openCrs({ proj }).fromLngLat(-96, 28.5);
  expectPoint(feet, [2963503.91, 254759.8], 0.01);
  const metres = feet.map((value) => metersFrom(value, 'us-survey-foot'));
  expectPoint(metres, [903277.7992, 77650.9425], 1e-4);
});

test('EPSG method 9801, Lambert with one parallel [C 57]', () => {
  const given = { lat0: 18, lon0: -77, falseEasting: 250_000, falseNorthing: 150_000 };
  const projection = completeProjection('lambert-conic', given, 'metre');
  const proj = projString(projection, '+ellps=clrk66');
  const point = openCrs({ proj }).fromLngLat(-dms(76, 56, 37.26), dms(17, 55, 55.8));
  expectPoint(point, [255966.58, 142493.51], 0.01);
});

test('GIGS 5103.2, Utah North in international feet [C 55]', () => {
  expectPoint(openCrs(system(2921)).fromLngLat(-110, 49), [2003937.27, 6452491.7], 0.01);
});

test('GIGS 5103.3, Utah North in US survey feet [C 55]', () => {
  expectPoint(openCrs(system(3568)).fromLngLat(-110, 49), [2003933.27, 6452478.8], 0.01);
});

test('the two feet part by 4.00 ft at 2,000,000 ft (handbook trap 13)', () => {
  const survey = metersFrom(2_000_000, 'us-survey-foot');
  const international = metersFrom(2_000_000, 'international-foot');
  expect((survey - international) / 0.3048).toBeCloseTo(4.0, 2);
});

test('web mercator, the spherical formulas of EPSG method 1024', () => {
  // x = a·λ, y = a·ln tan(π/4 + φ/2), from memory of Guidance Note 7-2.
  const x = (6_378_137 * -85 * Math.PI) / 180;
  const y = 6_378_137 * Math.log(Math.tan(Math.PI / 4 + (44 * Math.PI) / 360));
  const crs = crsFromText('EPSG:3857');
  expect(crs.ok && openCrs(crs.value).fromLngLat(-85, 44)[0]).toBeCloseTo(x, 6);
  expect(crs.ok && openCrs(crs.value).fromLngLat(-85, 44)[1]).toBeCloseTo(y, 6);
});

/**
 * Areal scale and convergence against PROJ 9.1.1 (`proj -V`, run by hand; PROJ derives them from
 * each projection's own formulas): string, longitude, latitude, areal scale, convergence.
 */
const FACTORS: readonly [string, string, number, number, number, number][] = [
  ['UTM 16', '26916', -85, 44, 0.99983249, 1.38961183],
  ['UTM 16 past its edge', '26916', -84.2, 45, 1.0003978, 1.98069523],
  ['Lambert, California 5', '26945', -116.5, 34.2, 0.99993613, 0.85501784],
  ['oblique, Alaska 1', '26931', -132, 56, 0.99980723, 1.38808273],
  ['Albers, 48 states', '5070', -85, 44, 1.0, 6.63193046],
];

test.each(FACTORS)('distortion of %s', (_name, code, lng, lat, arealScale, convergence) => {
  const { epsg, name, datum, proj } = system(Number(code));
  const frame = openFrame({ epsg, name, datum, proj });
  const distortion = frame.distortionAt(...frame.fromLngLat(lng, lat));
  expect(1 / distortion.groundAreaPerFrameArea).toBeCloseTo(arealScale, 8);
  expect(distortion.convergenceDegrees).toBeCloseTo(convergence, 7);
});

test('distortion where it is known without a program', () => {
  const utm = system(26_916);
  const frame = openFrame({ epsg: 26_916, name: '', datum: 'NAD83', proj: utm.proj });
  // On the central meridian the scale is k0 = 0.9996 and grid north is true north.
  const centre = frame.distortionAt(500_000, 4_500_000);
  expect(centre.groundAreaPerFrameArea).toBeCloseTo(1 / 0.9996 ** 2, 9);
  expect(Math.abs(centre.convergenceDegrees)).toBeLessThan(1e-9);
  // East of it, north of the equator, grid north leans east: about Δλ·sin φ.
  const east = frame.distortionAt(...frame.fromLngLat(-86.9, 44));
  expect(east.convergenceDegrees).toBeCloseTo(0.1 * Math.sin((44 * Math.PI) / 180), 5);

  // A Lambert cone turns by n·Δλ everywhere, and n = sin φ0 for one standard parallel.
  const cone = completeProjection('lambert-conic', { lat0: 40, lon0: -90 }, 'metre');
  const proj = projString(cone, figureOf('NAD83'));
  const lambert = openFrame({ epsg: null, name: '', datum: 'NAD83', proj });
  const turned = lambert.distortionAt(...lambert.fromLngLat(-88, 43));
  expect(turned.convergenceDegrees).toBeCloseTo(2 * Math.sin((40 * Math.PI) / 180), 8);
});
