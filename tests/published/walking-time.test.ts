import { expect, test } from 'vitest';
import {
  darkAndQuietFactor,
  offPathFactor,
  secondsPerMeter,
  walkingTime,
} from '../../geo/approach/walking-time.ts';

/**
 * Slope in degrees, km/h and s/m as printed for Tobler's hiking function in the sample values of
 * the public encyclopedia's article on it (en.wikipedia.org/wiki/Tobler's_hiking_function).
 */
const printed = [
  [-50, 0.11, 32.63],
  [-40, 0.38, 9.5],
  [-30, 0.95, 3.8],
  [-25, 1.4, 2.58],
  [-20, 2.0, 1.8],
  [-15, 2.8, 1.29],
  [-10, 3.86, 0.93],
  [-5, 5.26, 0.68],
  [-2.8624, 6.0, 0.6],
  [0, 5.04, 0.71],
  [1, 4.74, 0.76],
  [5, 3.71, 0.97],
  [10, 2.72, 1.32],
  [15, 1.97, 1.83],
  [20, 1.41, 2.56],
  [25, 0.98, 3.66],
  [30, 0.67, 5.39],
  [40, 0.27, 13.48],
] as const;

test('speeds and paces of the published table', () => {
  for (const [degrees, kilometersPerHour, pace] of printed) {
    const seconds = secondsPerMeter(Math.tan((degrees * Math.PI) / 180));
    expect(Math.abs(seconds - pace), `${degrees}°`).toBeLessThanOrEqual(0.00501);
    expect(Math.abs(3.6 / seconds - kilometersPerHour), `${degrees}°`).toBeLessThanOrEqual(0.00501);
  }
});

test('off the path by 3/5 (Tobler 1993); in the dark and quietly by 0.6 more (common practice)', () => {
  // 1 km level: 3.6 / 5.0371 h·60 = 11.91 min on a path, 33.09 min off it in the dark.
  const level = walkingTime([0, 400, 1000], [7, 7, 7], () => 1);
  expect(level.seconds / 60).toBeCloseTo(11.912, 2);
  expect(offPathFactor).toBe(3 / 5);
  const dark = walkingTime([0, 400, 1000], [7, 7, 7], () => offPathFactor * darkAndQuietFactor);
  expect(dark.seconds / 60).toBeCloseTo(33.088, 2);
});

test('up is slower than down, climb counts rises only, pieces by their own factor', () => {
  // 10 % up: 0.6 e^0.525 = 1.0143 s/m; 10 % down: 0.6 e^0.175 = 0.7147 s/m.
  const hill = walkingTime([0, 100, 200], [0, 10, 0], (piece) => (piece === 0 ? 1 : 0.5));
  expect(hill.seconds).toBeCloseTo(101.428 + 2 * 71.475, 2);
  expect(hill.climbMeters).toBe(10);
  const gap = walkingTime([0, 100, 200], [0, NaN, 0], () => 1);
  expect(gap).toEqual({ seconds: expect.closeTo(142.95, 2), climbMeters: 0 });
  expect(() => walkingTime([0, 1], [0], () => 1)).toThrow(RangeError);
  expect(() => walkingTime([0, 1], [0, 0], () => 0)).toThrow(RangeError);
});
