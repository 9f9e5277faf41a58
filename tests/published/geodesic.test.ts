import { expect, test } from 'vitest';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import {
  distanceAndBearing,
  lineLengthMeters,
  measurePolygon,
  measureRing,
  pointAtBearing,
} from '../../geo/frame/geodesic.ts';
import { openCrs } from '../../geo/frame/open-frame.ts';
import { acresFromSquareMeters } from '../../geo/frame/units.ts';
import type { LngLat } from '../../geo/frame/geodesic.ts';

/**
 * Handbook section 9. [C 53] GeographicLib's own test suite, [C 54] Geocentric Datum of Australia
 * technical manual, [C 55] PROJ's tests, [OWN] made for this project; digits past a double's are
 * left off. The points here are latitude
 * first, as those sources print them.
 */
const ring = (...latLng: [number, number][]): LngLat[] => latLng.map(([lat, lng]) => [lng, lat]);

const dms = (degrees: number, minutes: number, seconds = 0) =>
  Math.sign(degrees) * (Math.abs(degrees) + minutes / 60 + seconds / 3600);

interface Polygon {
  readonly name: string;
  readonly points: LngLat[];
  readonly perimeter: number;
  readonly area: number;
  /** Half a unit of the last printed digit. */
  readonly within: readonly [number, number];
}

const POLYGONS: readonly Polygon[] = [
  {
    name: 'round the pole at 89°',
    points: ring([89, 0], [89, 90], [89, 180], [89, 270]),
    perimeter: 631819.8745,
    area: 24952305678.0,
    within: [5e-5, 1],
  },
  {
    name: 'over equator and meridian',
    points: ring([0, -1], [-1, 0], [0, 1], [1, 0]),
    perimeter: 627598.2731,
    area: 24619419146.9,
    within: [1e-4, 1],
  },
  {
    name: 'an octant of the earth',
    points: ring([90, 0], [0, 0], [0, 90]),
    perimeter: 30022685.63,
    area: 63758202715511.06,
    within: [0.01, 1],
  },
  {
    name: 'round the pole over the date line',
    points: ring([89, 0.1], [89, 90.1], [89, -179.9]),
    perimeter: 539297.667,
    area: 12476152839.0,
    within: [1e-3, 1],
  },
  {
    name: 'a triangle',
    points: ring([2, 1], [1, 2], [3, 3]),
    perimeter: 652827.202,
    area: 18454562325.45,
    within: [1e-3, 0.01],
  },
  {
    name: 'the same triangle the other way round',
    points: ring([3, 3], [1, 2], [2, 1]),
    perimeter: 652827.202,
    area: -18454562325.45,
    within: [1e-3, 0.01],
  },
  {
    name: 'twice round the pole',
    points: ring([89, -360], [89, -240], [89, -120], [89, 0], [89, 120], [89, 240]),
    perimeter: 1160741.96,
    area: 32415230256,
    within: [0.01, 1],
  },
  {
    name: 'three times over the pole at 45°',
    points: [...Array(3)].flatMap(() => ring([45, 60], [45, 180], [45, -60])),
    perimeter: 75786348.69,
    area: 118301654599714.4,
    within: [0.01, 1],
  },
];

test.each(POLYGONS)('polygon $name [C 53]', ({ points, perimeter, area, within }) => {
  const measure = measureRing(points);
  expect(Math.abs(measure.perimeterMeters - perimeter)).toBeLessThanOrEqual(within[0]);
  expect(Math.abs(measure.signedAreaSquareMeters - area)).toBeLessThanOrEqual(within[1]);
});

test('an octant as an open line [C 53]', () => {
  const length = lineLengthMeters(ring([90, 0], [0, 0], [0, 90]));
  // Printed cut off, not rounded: the suite itself allows 1 m.
  expect(Math.abs(length - 20020719)).toBeLessThanOrEqual(1);
});

test('a UTM square of 100 km, unprojected by us [C 53]', () => {
  const crs = crsFromEpsg(32_618);
  if (!crs.ok) throw new Error(crs.problem.what);
  const { toLngLat } = openCrs(crs.value);
  const corners = [
    toLngLat(500_000, 4_400_000),
    toLngLat(600_000, 4_400_000),
    toLngLat(600_000, 4_500_000),
    toLngLat(500_000, 4_500_000),
  ];
  const measure = measureRing(corners);
  expect(measure.perimeterMeters).toBeCloseTo(400139.532959, 5);
  expect(measure.signedAreaSquareMeters).toBeCloseTo(10007388597.2, 0);
});

test('the one-acre square at 44° N [OWN, recomputed independently]', () => {
  const square = ring(
    [44, -85],
    [43.99999999725, -84.99920685791],
    [44.00057252556, -84.99920685791],
    [44.00057252831, -85],
  );
  const { perimeterMeters, areaSquareMeters } = measurePolygon([square]);
  expect(perimeterMeters).toBeCloseTo(254.459017, 5);
  expect(areaSquareMeters).toBeCloseTo(4046.836965, 4);
  expect(acresFromSquareMeters(areaSquareMeters)).toBeCloseTo(0.99999519, 7);
});

test.each([
  {
    name: 'JFK to Paris',
    from: [40.6, -73.8],
    to: [dms(49, 1), dms(2, 33)],
    azi: [53.47022, 111.59367],
    m: 5853226,
    within: [5e-6, 0.5],
  },
  {
    name: 'JFK to Singapore',
    from: [dms(40, 38, 23), dms(-73, 46, 44)],
    to: [dms(1, 21, 33), dms(103, 59, 22)],
    azi: [dms(3, 18, 29.9), dms(177, 29, 9.2)],
    m: 15347628,
    within: [2e-5, 0.5],
  },
  {
    name: 'test set, line 1',
    from: [35.60777, -139.44815],
    to: [-11.17491, -69.95921],
    azi: [111.09874842956033, 129.28927088970877],
    m: 8935244.56048183,
    within: [1e-12, 1e-8],
  },
  {
    name: 'test set, line 2',
    from: [55.52454, 106.05087],
    to: [77.03196, 197.18234],
    azi: [22.0200598809828, 109.11204111067151],
    m: 4105086.171392441,
    within: [1e-12, 1e-8],
  },
  {
    name: 'Flinders Peak to Buninyong [C 54]',
    from: [dms(-37, 57, 3.7203), dms(144, 25, 29.5244)],
    to: [dms(-37, 39, 10.1561), dms(143, 55, 35.3839)],
    azi: [dms(306, 52, 5.37), dms(127, 10, 25.07) + 180],
    m: 54972.271,
    within: [2e-6, 5e-4],
  },
  {
    name: 'Helsinki to Tallinn [C 55]',
    from: [60.171, 24.938],
    to: [59.437, 24.745],
    azi: [360 - dms(172, 22, 12.772), dms(7, 27, 46.693) + 180],
    m: 82488.5,
    within: [1e-6, 5e-4],
  },
])('geodesic $name', ({ from, to, azi, m, within }) => {
  const line = distanceAndBearing([from[1]!, from[0]!], [to[1]!, to[0]!]);
  expect(Math.abs(line.distanceMeters - m)).toBeLessThanOrEqual(within[1]!);
  expect(Math.abs(line.departureDegrees - azi[0]!)).toBeLessThanOrEqual(within[0]!);
  expect(Math.abs(line.arrivalDegrees - azi[1]!)).toBeLessThanOrEqual(within[0]!);
});

test('the direct problem [C 53]', () => {
  const [lng, lat] = pointAtBearing([dms(-73, 46, 44), dms(40, 38, 23)], 53.5, 5_850_000);
  expect(lat).toBeCloseTo(49.01467, 5);
  expect(lng).toBeCloseTo(2.56106, 5);
});

test('a hole is taken off, in either direction, and repeated end points change nothing', () => {
  const outer = ring([44, -85], [44, -84.99], [44.01, -84.99], [44.01, -85]);
  const hole = ring([44.002, -84.998], [44.002, -84.996], [44.004, -84.996], [44.004, -84.998]);
  const outerArea = measurePolygon([outer]).areaSquareMeters;
  const holeArea = measurePolygon([hole]).areaSquareMeters;
  const expected = outerArea - holeArea;
  expect(measurePolygon([outer, hole]).areaSquareMeters).toBeCloseTo(expected, 6);
  expect(measurePolygon([outer, hole.toReversed()]).areaSquareMeters).toBeCloseTo(expected, 6);
  const closed = [...outer, outer[0]!];
  expect(measurePolygon([closed, hole]).areaSquareMeters).toBeCloseTo(expected, 6);
  expect(measurePolygon([outer, hole]).holesPerimeterMeters).toBeCloseTo(
    measureRing(hole).perimeterMeters,
    9,
  );
});

test('nothing drawn yet measures nothing; a point off the earth throws', () => {
  expect(measurePolygon([])).toEqual({
    areaSquareMeters: 0,
    perimeterMeters: 0,
    holesPerimeterMeters: 0,
  });
  expect(measureRing([]).perimeterMeters).toBe(0);
  expect(measureRing([[-85, 44]]).signedAreaSquareMeters).toBe(0);
  expect(lineLengthMeters([[-85, 44]])).toBe(0);
  expect(() => measureRing([[-85, Number.NaN]])).toThrow(RangeError);
  expect(() => lineLengthMeters([[-85, 91]])).toThrow(RangeError);
});
