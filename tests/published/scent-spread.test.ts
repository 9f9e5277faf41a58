import { describe, expect, it } from 'vitest';
import {
  classOfSigmaTheta,
  SIGMA_THETA,
  sigmaThetaDegrees,
} from '../../geo/wind/direction-spread.ts';
import { stabilityAt } from '../../geo/wind/stability-at.ts';
import {
  plumeConcentration,
  plumeHalfAngleDegrees,
  plumeSpread,
} from '../../geo/wind/plume-spread.ts';
import {
  pasquillKey,
  radiationIndex,
  turnerClass,
  turnerNumber,
  type PasquillSky,
  type StabilityClass,
} from '../../geo/wind/stability-class.ts';

const CLASSES: readonly StabilityClass[] = ['A', 'B', 'C', 'D', 'E', 'F'];

describe("Pasquill's key of 1961, whole (handbook 7.1, C 36)", () => {
  const skies: readonly PasquillSky[] = [
    'strong-sun',
    'moderate-sun',
    'slight-sun',
    'cloudy-night',
    'clear-night',
  ];
  it.each([
    [1.9, 'A A-B B E F'],
    [2, 'A-B B C E F'],
    [2.9, 'A-B B C E F'],
    [3, 'B B-C C D E'],
    [5, 'C C-D D D D'],
    [6, 'C D D D D'],
    [12, 'C D D D D'],
  ])('%f m/s: %s', (speed, row) => {
    expect(skies.map((sky) => pasquillKey(speed, sky).join('-')).join(' ')).toBe(row);
  });
});

describe("Turner's method, whole (EPA-454/R-99-005 tables 6-4 to 6-6, handbook 7.1, C 37)", () => {
  // Knots and the range of m/s printed beside them; columns index 4 to -2.
  it.each([
    [
      [0, 1],
      [0, 0.7],
      [1, 1, 2, 3, 4, 6, 7],
    ],
    [
      [2, 3],
      [0.8, 1.8],
      [1, 2, 2, 3, 4, 6, 7],
    ],
    [
      [4, 5],
      [1.9, 2.8],
      [1, 2, 3, 4, 4, 5, 6],
    ],
    [[6], [2.9, 3.3], [2, 2, 3, 4, 4, 5, 6]],
    [[7], [3.4, 3.8], [2, 2, 3, 4, 4, 4, 5]],
    [
      [8, 9],
      [3.9, 4.8],
      [2, 3, 3, 4, 4, 4, 5],
    ],
    [[10], [4.9, 5.4], [3, 3, 4, 4, 4, 4, 5]],
    [[11], [5.5, 5.9], [3, 3, 4, 4, 4, 4, 4]],
    [
      [12, 20],
      [6.0, 15],
      [3, 4, 4, 4, 4, 4, 4],
    ],
  ])('%j kt, %j m/s', (knots, meters, numbers) => {
    const speeds = [...knots.map((kt) => kt * 0.514444), ...meters];
    for (const speed of speeds) {
      expect([4, 3, 2, 1, 0, -1, -2].map((index) => turnerNumber(speed, index))).toEqual(numbers);
    }
  });

  const hour = {
    speedMetersPerSecond: 3,
    sunElevationDegrees: 40,
    isNight: false,
    cloudShare: 0,
    ceilingMeters: Infinity,
  };
  it.each([
    [61, 4],
    [60, 3],
    [35.1, 3],
    [35, 2],
    [15.1, 2],
    [15, 1],
    [1, 1],
  ])('sun at %f degrees, clear: index %i', (sunElevationDegrees, index) => {
    expect(radiationIndex({ ...hour, sunElevationDegrees })).toBe(index);
  });

  it('cloud and ceiling by day and night', () => {
    const feet = (value: number) => value * 0.3048;
    expect(radiationIndex({ ...hour, cloudShare: 1, ceilingMeters: feet(6900) })).toBe(0);
    expect(
      radiationIndex({ ...hour, cloudShare: 1, ceilingMeters: feet(6900), isNight: true }),
    ).toBe(0);
    expect(radiationIndex({ ...hour, cloudShare: 0.5 })).toBe(3);
    expect(radiationIndex({ ...hour, cloudShare: 0.75, ceilingMeters: feet(6900) })).toBe(1);
    expect(radiationIndex({ ...hour, cloudShare: 0.75, ceilingMeters: feet(9000) })).toBe(2);
    expect(radiationIndex({ ...hour, cloudShare: 0.75, ceilingMeters: feet(20_000) })).toBe(3);
    expect(radiationIndex({ ...hour, cloudShare: 1, ceilingMeters: feet(20_000) })).toBe(2);
    expect(radiationIndex({ ...hour, isNight: true, cloudShare: 0.4 })).toBe(-2);
    expect(radiationIndex({ ...hour, isNight: true, cloudShare: 0.5 })).toBe(-1);
    expect(radiationIndex({ ...hour, isNight: true, cloudShare: NaN })).toBe(-1);
    expect(turnerClass({ ...hour, isNight: true, speedMetersPerSecond: 0.5 })).toBe('F');
    expect(turnerClass(hour)).toBe('B');
  });
});

it('at an instant: night till 1 h after sunrise and from 1 h before sunset (C 36)', () => {
  // Golden, Colorado, 2 Jan 2015: 07:22 and 16:48 (USNO).
  const golden = { longitude: -105.1786, latitude: 39.742476 };
  const at = (clock: string) =>
    stabilityAt(golden, Date.parse(`2015-01-02T${clock}:00-07:00`), 3, {
      cloudShare: 0,
      ceilingMeters: Infinity,
    });
  // 3 m/s: index -2 gives 6, 1 gives 4, 2 (sun over 15 degrees) gives 3.
  expect(['03:00', '08:20', '08:24', '12:00', '15:46', '15:50'].map(at).join('')).toBe('FFDCDF');
  expect(stabilityAt({ longitude: 20, latitude: 75 }, Date.UTC(2026, 11, 21, 11), 1)).toBe('F');
});

describe('spread of direction (handbook 7.1, C 36; EPA table 6-8a from memory)', () => {
  it('by class, and back', () => {
    expect(CLASSES.map((letter) => SIGMA_THETA[letter])).toEqual([25, 20, 15, 10, 5, 2.5]);
    for (const letter of CLASSES) expect(classOfSigmaTheta(SIGMA_THETA[letter])).toBe(letter);
    expect([22.5, 22.4, 17.5, 12.5, 7.5, 3.8, 3.7, 0].map(classOfSigmaTheta).join('')).toBe(
      'ABBCDEFF',
    );
  });

  it('in light air at least atan(0.5 / u): 27 degrees at 1 m/s (trade notes 6.8)', () => {
    expect(Math.round(sigmaThetaDegrees('F', 1))).toBe(27);
    expect(sigmaThetaDegrees('F', 2)).toBe(2.5);
    expect(sigmaThetaDegrees('F', 1.999)).toBeCloseTo(14.04, 2);
    expect(sigmaThetaDegrees('A', 1.5)).toBe(25);
    expect(sigmaThetaDegrees('F', 0)).toBe(90);
  });
});

describe('plumes (handbook 7.2)', () => {
  // Briggs 1973 rural (C 39), recomputed by the handbook.
  it.each([
    ['A', [21.89, 65.03, 209.76], [20, 60, 200], 25.1],
    ['B', [15.92, 47.3, 152.55], [12, 36, 120], 18.8],
    ['C', [10.95, 32.52, 104.88], [7.92, 23.31, 73.03], 13.2],
    ['D', [7.96, 23.65, 76.28], [5.6, 14.95, 37.95], 9.7],
    ['E', [5.97, 17.74, 57.21], [2.91, 8.26, 23.08], 7.3],
    ['F', [3.98, 11.82, 38.14], [1.55, 4.4, 12.31], 4.9],
  ] as const)('class %s', (letter, across, up, halfAngle) => {
    [100, 300, 1000].forEach((meters, i) => {
      const spread = plumeSpread(letter, meters);
      expect(Math.abs(spread.acrossMeters - across[i]!)).toBeLessThan(0.0051);
      expect(Math.abs(spread.upMeters - up[i]!)).toBeLessThan(0.0051);
    });
    expect(Math.abs(plumeHalfAngleDegrees(letter, 200) - halfAngle)).toBeLessThan(0.051);
  });

  // Turner 1970, AP-26, problems 1 to 3 as the handbook keeps them (inputs from memory).
  it('Turner 1: 1.1e-5, Turner 2: 3.3e-5, Turner 3: 1.3e-5 g/m3', () => {
    const one = plumeConcentration(
      { perSecond: 3, windMetersPerSecond: 7, heightMeters: 0 },
      { acrossMeters: 190, upMeters: 65 },
    );
    expect(one).toBeCloseTo(1.1046e-5, 9);
    const stack = { perSecond: 80, windMetersPerSecond: 6, heightMeters: 60 };
    const spread = { acrossMeters: 36, upMeters: 18.5 };
    expect(plumeConcentration(stack, spread)).toBeCloseTo(3.313e-5, 8);
    expect(plumeConcentration(stack, spread, 50)).toBeCloseTo(1.263e-5, 8);
    const published = [1.1e-5, 3.3e-5, 1.3e-5];
    const ours = [one, plumeConcentration(stack, spread), plumeConcentration(stack, spread, 50)];
    ours.forEach((value, i) => expect(value.toExponential(1)).toBe(published[i]!.toExponential(1)));
  });

  it('is highest at the ground where sigma z is the height over root 2 (C 40)', () => {
    const at = (upMeters: number) =>
      plumeConcentration(
        { perSecond: 1, windMetersPerSecond: 1, heightMeters: 40 },
        { acrossMeters: upMeters, upMeters },
      );
    const best = 40 / Math.SQRT2;
    expect(at(best)).toBeGreaterThan(at(best * 0.98));
    expect(at(best)).toBeGreaterThan(at(best * 1.02));
  });
});
