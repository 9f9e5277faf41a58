import { describe, expect, test } from 'vitest';
import { measurePolygon } from '../../geo/frame/geodesic.ts';
import { readSurveyCalls, type SurveyCall } from '../../geo/plan/construct/survey-calls.ts';
import {
  balanceTraverse,
  drawTraverse,
  placeTraverse,
  runTraverse,
} from '../../geo/plan/construct/traverse.ts';

/**
 * The five-sided traverse that a widely used textbook of elementary surveying carries through its
 * chapters on latitudes, departures and areas: courses and results from memory, in feet; the
 * latitudes and departures below were worked again by hand from the azimuths and lengths.
 */

const foot = 0.3048;
const courses = `
  az 126°55'17" 647.25 ft
  az 178°18'58" 203.03 ft
  az 15°31'54"  720.35 ft
  az 284°35'20" 610.24 ft
  az 206°09'41" 285.13 ft`;
/** [departure, latitude] of each course, feet. */
const legs = [
  [517.451, -388.815],
  [5.966, -202.942],
  [192.889, 694.045],
  [-590.565, 153.708],
  [-125.715, -255.919],
];

function callsOf(text: string): readonly SurveyCall[] {
  const read = readSurveyCalls(text);
  if (!read.ok) throw new Error(read.problem.what);
  return read.value.calls;
}

describe('five sides', () => {
  const calls = callsOf(courses);
  const run = runTraverse(calls);

  test('latitudes and departures', () => {
    legs.forEach(([departure, latitude], i) => {
      const [[ax, ay], [bx, by]] = [run.corners[i], run.corners[i + 1]];
      // Azimuths are given to the second: half of one is 0.0017 ft in 720 ft.
      expect(Math.abs((bx - ax) / foot - departure)).toBeLessThan(0.0017);
      expect(Math.abs((by - ay) / foot - latitude)).toBeLessThan(0.0017);
    });
  });

  test('closure: 0.026 ft east and 0.077 ft north too far, 0.081 ft in 2,466.00 ft', () => {
    const [east, north] = run.corners[5];
    expect(Math.abs(east / foot - 0.026)).toBeLessThan(0.002);
    expect(Math.abs(north / foot - 0.077)).toBeLessThan(0.002);
    expect(run.perimeterMeters / foot).toBeCloseTo(2466, 9);
    expect(Math.abs(run.closure.distanceMeters / foot - 0.081)).toBeLessThan(0.002);
    // About 1 in 30,000; back toward the south-south-west.
    expect(Math.abs(run.closure.ratio / 30_000 - 1)).toBeLessThan(0.03);
    expect(Math.abs(run.closure.bearingDegrees! - 198.7)).toBeLessThan(1.5);
  });

  test('compass rule: shares of the miss by length, then it closes', () => {
    const balanced = balanceTraverse(run.corners);
    expect(balanced[0]).toEqual([0, 0]);
    expect(Math.hypot(...balanced[5])).toBeLessThan(1e-12);
    // First course: 647.25 / 2466 of it off: 517.451 - 0.007, -388.815 - 0.020.
    expect(Math.abs(balanced[1][0] / foot - 517.444)).toBeLessThan(0.001);
    expect(Math.abs(balanced[1][1] / foot + 388.835)).toBeLessThan(0.001);
  });

  test('area by coordinates: 6.258 acres', () => {
    const balanced = balanceTraverse(run.corners);
    const twice = balanced.reduce((sum, [x, y], i) => {
      const [nx, ny] = balanced[(i + 1) % balanced.length];
      return sum + x * ny - nx * y;
    }, 0);
    const acres = Math.abs(twice) / 2 / foot ** 2 / 43_560;
    expect(Math.abs(acres - 6.258)).toBeLessThan(0.001);
    expect(Math.abs(run.areaSquareMeters / foot ** 2 / 43_560 - 6.258)).toBeLessThan(0.001);
  });

  test('placed on the earth it has its plane area and its courses', () => {
    const balanced = balanceTraverse(run.corners);
    const placed = placeTraverse(balanced, [-75.01, 36.14], 0);
    const { areaSquareMeters, perimeterMeters } = measurePolygon([placed.slice(0, 5)]);
    // A plane of 200 m against the ellipsoid, corners kept to 0.1 mm.
    expect(Math.abs(areaSquareMeters / foot ** 2 / 43_560 - 6.258)).toBeLessThan(0.001);
    expect(Math.abs(perimeterMeters / foot - 2466)).toBeLessThan(0.15);
  });
});

describe('worked by hand', () => {
  test('3 north and 4 east miss by 5', () => {
    const { closure, perimeterMeters } = runTraverse(callsOf('N 3 m\nE 4 m'));
    expect(closure.distanceMeters).toBeCloseTo(5, 12);
    expect(closure.bearingDegrees).toBeCloseTo(180 + (Math.atan2(4, 3) * 180) / Math.PI, 9);
    expect(perimeterMeters).toBe(7);
    expect(closure.ratio).toBeCloseTo(1.4, 12);
  });

  test('a stadium of two half circles: 100 × 60 and π 30²', () => {
    const calls = callsOf(`N 100 m
      curve to the right radius 30 m chord E 60 m
      S 100 m
      curve to the right radius 30 m chord W 60 m`);
    const run = runTraverse(calls);
    expect(run.closure.distanceMeters).toBeLessThan(1e-12);
    expect(run.areaSquareMeters).toBeCloseTo(6000 + Math.PI * 900, 6);
    expect(run.perimeterMeters).toBeCloseTo(200 + 60 * Math.PI, 9);
    const drawn = drawTraverse(run.corners, calls);
    for (const [x, y] of drawn) {
      const end = y > 100 ? Math.hypot(x - 30, y - 100) : y < 0 ? Math.hypot(x - 30, y) : 30;
      expect(end).toBeCloseTo(30, 9);
    }
    expect(Math.max(...drawn.map((p) => p[1]))).toBeGreaterThan(129.98);
    expect(Math.min(...drawn.map((p) => p[1]))).toBeLessThan(-29.98);
  });

  test('a curve to the left takes its bulge off a figure walked clockwise', () => {
    // A 100 m square whose east side bends in by a quarter circle's segment: r²(π/2 - 1)/2.
    const radius = 100 / Math.SQRT2;
    const run = runTraverse(
      callsOf(`N 100 m; E 100 m; curve left radius ${radius} m chord S 100 m; W 100 m`),
    );
    expect(run.areaSquareMeters).toBeCloseTo(10_000 - (radius ** 2 * (Math.PI / 2 - 1)) / 2, 6);
    const [, , , a] = drawTraverse(
      run.corners,
      callsOf(`N 100 m; E 100 m; curve left radius ${radius} m chord S 100 m; W 100 m`),
    );
    // The arc lies west of its chord: walking south and turning left it bulges to the right.
    expect(a[0]).toBeLessThan(100);
  });
});
