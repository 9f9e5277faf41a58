import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { correctedProduction, pushedPerHour } from '../../geo/estimate/dozer-production.ts';
import { gradeFactor } from '../../geo/estimate/grade-factor.ts';
import { debrisMaterial, pushHours, type PushLoad } from '../../geo/estimate/push-hours.ts';
import { dirtVolumes, loadFactor, shrinkageOf, swellOf } from '../../geo/estimate/swell.ts';
import { problemOf, valueOf } from '../result-value.ts';

const YARD = 0.764554857984;

test('grade: the two points that can be read, in examples A and B (handbook §4.1)', () => {
  const production = (most: number, others: readonly number[], grade: number) =>
    correctedProduction(most, [...others, gradeFactor(grade).factor]);
  expect(production(600, [0.8, 1.2, 0.75, 0.83, 0.87], -0.15)).toBeCloseTo(405.53, 2);
  expect(production(300, [0.92, 0.75, 0.8, 1.2, 0.83], -0.1)).toBeCloseTo(189.7, 1);
  expect(gradeFactor(0)).toEqual({ factor: 1, basis: 'published' });
  expect(gradeFactor(-0.125).factor).toBeCloseTo(1.225, 12);
  expect(gradeFactor(-0.4)).toEqual({ factor: 1.3, basis: 'past-published' });
  expect(gradeFactor(0.1)).toEqual({ factor: 0.8, basis: 'own-rule' });
  expect(gradeFactor(2).factor).toBe(0.3);
  expect(() => gradeFactor(NaN)).toThrow(RangeError);
});

test('swell, load factor and shrinkage: examples F and G, 100 of loam (handbook §4.4)', () => {
  expect(swellOf(3000, 2310)).toBeCloseTo(0.299, 3);
  expect(loadFactor(swellOf(3000, 2310))).toBeCloseTo(0.77, 12);
  expect(shrinkageOf(3000, 3750)).toBeCloseTo(0.2, 12);
  expect(10 / loadFactor(0.3)).toBeCloseTo(13, 12);
  const bank = 100 / dirtVolumes.loam.compacted;
  expect(bank).toBeCloseTo(111.1, 1);
  expect(bank * dirtVolumes.loam.loose).toBeCloseTo(138.9, 1);
  for (const value of [0, -1, NaN]) expect(() => swellOf(value, 1)).toThrow(RangeError);
  expect(() => loadFactor(-1)).toThrow(RangeError);
});

describe('hours of pushing', () => {
  const dozer = { bladeLoadCubicMeters: 2.5 * YARD, bladeWidthMeters: 3, operator: 'average' } as const; // prettier-ignore
  const heavy = { kilogramsPerCubicMeter: 1370, drift: { low: 1, likely: 1, high: 1 } };
  const of = (loads: readonly PushLoad[], material = heavy) => valueOf(pushHours(loads, dozer, material)); // prettier-ignore
  const load = (cubicMeters: number, meters: number, riseMeters: number | null = 0) => {
    return { cubicMeters, meters, riseMeters };
  };

  test('one class by hand: 159 yd³ an hour over 100 ft, times 0.75 and 0.83', () => {
    // 2.5 / (0.0095 + 0.0054 + 0.0008): dozer-production's own example.
    const { hours, classes } = of([load(1590 * YARD, 30.48)]);
    expect(Math.abs(hours.likely / (10 / 0.75 / 0.83) - 1)).toBeLessThan(0.005);
    expect(Math.abs(hours.low / (10 / 0.83) - 1)).toBeLessThan(0.005);
    expect(Math.abs(hours.high / (10 / 0.6 / 0.67) - 1)).toBeLessThan(0.005);
    expect(classes).toHaveLength(1);
    expect(classes[0]).toMatchObject({
      fromMeters: 30.48,
      toMeters: 60.96,
      gradeBasis: 'published',
    });
  });

  test('twice as heavy takes twice as long, light takes no less; bad drift as it says', () => {
    const at = (kilogramsPerCubicMeter: number, drift = 1) =>
      of([load(100, 40)], { kilogramsPerCubicMeter, drift: { low: drift, likely: drift, high: 1 } }).hours.likely; // prettier-ignore
    expect(at(2740) / at(1370)).toBeCloseTo(2, 12);
    expect(at(250)).toBe(at(1370));
    expect(at(1370, 0.8) / at(1370)).toBeCloseTo(1.25, 12);
  });

  test('classes share out the volume; downhill is quicker, uphill slower; far and beyond piling', () => {
    const mixed = [load(10, 0), load(20, 20), load(30, 50), load(20, 80), load(20, 120)];
    const value = of(mixed);
    expect(value.classes.map(({ cubicMeters }) => cubicMeters)).toEqual([10, 20, 30, 20, 20]);
    expect(value.farShare).toBeCloseTo(0.2, 12);
    const total = value.classes.reduce((sum, one) => sum + one.likelyHours, 0);
    expect(total).toBeCloseTo(value.hours.likely, 12);
    // By the cycle: 80 m instead of 30.48, and so on.
    const extra = (volume: number, meters: number) =>
      volume / pushedPerHour(dozer.bladeLoadCubicMeters, meters) -
      volume / pushedPerHour(dozer.bladeLoadCubicMeters, 30.48);
    const beyond = (extra(30, 50) + extra(20, 80) + extra(20, 120)) / 0.75 / 0.83;
    expect(value.beyondPiling.likely).toBeCloseTo(beyond, 10);
    const grade = (rise: number | null) => of([load(100, 50, rise)]).hours.likely;
    expect(grade(0) / grade(-5)).toBeCloseTo(1.15, 12);
    expect(grade(0) / grade(5)).toBeCloseTo(0.8, 12);
    expect(grade(null)).toBe(grade(0));
    expect(of([])).toMatchObject({ hours: { low: 0, likely: 0, high: 0 }, farShare: 0 });
  });

  test('more volume, farther, steeper: never fewer hours; low, likely, high in order', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const loads = fc.array(fc.tuple(number(0, 500), number(0, 200), number(-20, 20)), { maxLength: 8 }); // prettier-ignore
    fc.assert(
      fc.property(loads, number(0, 100), number(0, 200), (all, volume, meters) => {
        const given = all.map(([v, m, r]) => load(v, m, r));
        const before = of(given, debrisMaterial).hours;
        expect(before.low).toBeLessThanOrEqual(before.likely);
        expect(before.likely).toBeLessThanOrEqual(before.high);
        // On ground of its own grade another load may help its class downhill, so it is level here.
        const level = given.map((one) => ({ ...one, riseMeters: 0 }));
        const less = of(level, debrisMaterial).hours.likely;
        const more = of([...level, load(volume, meters)], debrisMaterial).hours.likely;
        expect(more).toBeGreaterThanOrEqual(less - 1e-9);
      }),
      { seed: 20_261_130, numRuns: 200 },
    );
  });

  test('what is no number, or below 0, is refused', () => {
    for (const value of [NaN, -1, Infinity]) {
      const refused = [
        pushHours([load(value, 1)], dozer, heavy),
        pushHours([load(1, value)], dozer, heavy),
        pushHours([], { ...dozer, bladeLoadCubicMeters: value }, heavy),
        pushHours([], dozer, { ...heavy, kilogramsPerCubicMeter: value }),
        pushHours([], dozer, heavy, { low: value, likely: 1, high: 1 }),
      ];
      for (const one of refused) expect(problemOf(one)).toBe('number-out-of-range');
    }
    expect(problemOf(pushHours([load(1, 1, NaN)], dozer, heavy))).toBe('number-out-of-range');
    const drift = { low: 0.9, likely: 0.8, high: 1 };
    expect(problemOf(pushHours([], dozer, { ...heavy, drift }))).toBe('low-above-high');
  });
});
