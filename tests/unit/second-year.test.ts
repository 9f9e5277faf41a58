import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bladingHours } from '../../geo/estimate/blading-hours.ts';
import { secondYear, usualPasses, type SecondYearChoices } from '../../geo/estimate/second-year.ts';
import { holeVolume, stumpMap, type StumpBlock } from '../../geo/estimate/stump-map.ts';
import { usualConsumption } from '../../geo/debris/burn-emissions.ts';
import { problemOf, valueOf } from '../result-value.ts';

const ACRE = 4046.8564224;
const FOOT = 0.3048;
const dozer = { bladeLoadCubicMeters: 1.9, bladeWidthMeters: 3, operator: 'average' } as const;
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

test('blading by hand: 2 mph × 3 m × 7/8, in 4 passes, at 0.75 and 0.83 of it', () => {
  const area = { low: 4000, likely: 4000, high: 4000 };
  const atBest = (2 * 1609.344 * 3 * 0.875) / 4;
  const hours = bladingHours(area, 4, dozer);
  expect(hours.likely).toBeCloseTo(4000 / atBest / 0.75 / 0.83, 12);
  expect(hours.low).toBeCloseTo(4000 / atBest / 0.83, 12);
  expect(hours.high).toBeCloseTo(4000 / atBest / 0.6 / 0.67, 12);
  // Trade notes §6.6: 2 to 3 h an acre to finish pocked ground.
  expect((hours.likely * ACRE) / 4000).toBeGreaterThan(2);
  expect((hours.likely * ACRE) / 4000).toBeLessThan(3.2);
  expect(() => bladingHours({ ...area, low: -1 }, 4, dozer)).toThrow(RangeError);
});

describe('the year after the burn', () => {
  const choices: SecondYearChoices = {
    consumption: usualConsumption,
    soilShare: 0,
    maxHeightMeters: 12 * FOOT,
    dozer,
    passes: usualPasses,
  };
  const burned = { cubicMeters: 500, groundSquareMeters: 700, pushMeters: 40 };

  test('the demo’s centre windrow, 90 % burned: one remnant heap of 40 ft (trade notes §6.6)', () => {
    // 2,660 yd³ of plot A, a tenth left: 266 yd³ in a heap 40 ft wide.
    const volume = 2660 * 0.764554857984;
    const exact = { low: 0.9, likely: 0.9, high: 0.9 };
    const given = {
      cubicMeters: volume,
      groundSquareMeters: 500 * 24 * FOOT * FOOT,
      pushMeters: 38,
    };
    const value = valueOf(secondYear([given], { ...choices, consumption: exact }));
    expect(value.remnantCubicMeters.likely / 0.764554857984).toBeCloseTo(266, 9);
    const across = Math.sqrt((4 / Math.PI) * value.remnantGroundSquareMeters.likely) / FOOT;
    expect(Math.abs(across / 40 - 1)).toBeLessThan(0.01);
    // 500 ft of 24 ft, less a round of 40 ft: 0.25 acre.
    expect(value.regainedSquareMeters.likely / ACRE).toBeCloseTo((12_000 - 400 * Math.PI) / 43_560, 2); // prettier-ignore
  });

  test('soil does not burn; least burned is least regained and most left', () => {
    const value = valueOf(secondYear([burned], { ...choices, soilShare: 0.1 }));
    expect(value.goneShare.likely).toBeCloseTo(0.7875, 12);
    expect(value.remnantCubicMeters.likely).toBeCloseTo(500 * (0.9 * 0.125 + 0.1), 9);
    for (const range of Object.values(value)) {
      expect(range.low).toBeLessThan(range.likely);
      expect(range.likely).toBeLessThan(range.high);
    }
    const whole = valueOf(secondYear([burned], { ...choices, consumption: { low: 1, likely: 1, high: 1 } })); // prettier-ignore
    expect(whole.remnantCubicMeters.likely).toBe(0);
    expect(whole.regainedSquareMeters.likely).toBe(700);
    const none = valueOf(secondYear([], choices));
    expect(none).toMatchObject({ regainedSquareMeters: { high: 0 }, touchUpHours: { high: 0 } });
  });

  test('regained and still under the remnant are what was under it; more burned, more regained', () => {
    const one = fc.record({ cubicMeters: number(0, 3000), groundSquareMeters: number(0, 3000), pushMeters: number(0, 90) }); // prettier-ignore
    fc.assert(
      fc.property(
        fc.array(one, { maxLength: 5 }),
        number(0, 1),
        number(0, 0.4),
        (all, share, soilShare) => {
          const at = (likely: number) =>
          valueOf(secondYear(all, { ...choices, soilShare, consumption: { low: likely, likely, high: likely } })); // prettier-ignore
          const [value, more] = [at(share), at(Math.min(1, share + 0.1))];
          const under = all.reduce((sum, { groundSquareMeters }) => sum + groundSquareMeters, 0);
          const { regainedSquareMeters: free, remnantGroundSquareMeters: left } = value;
          expect(free.likely + left.likely).toBeCloseTo(under, 6);
          expect(free.likely).toBeGreaterThanOrEqual(-1e-9);
          expect(more.regainedSquareMeters.likely).toBeGreaterThanOrEqual(free.likely - 1e-9);
        },
      ),
      { seed: 20_261_135, numRuns: 200 },
    );
  });

  test('what is no number is refused', () => {
    for (const value of [NaN, -1, Infinity]) {
      for (const key of Object.keys(burned)) {
        expect(problemOf(secondYear([{ ...burned, [key]: value }], choices))).toBe('number-out-of-range'); // prettier-ignore
      }
      for (const key of ['soilShare', 'maxHeightMeters', 'passes']) {
        expect(problemOf(secondYear([burned], { ...choices, [key]: value }))).toBe('number-out-of-range'); // prettier-ignore
      }
    }
    const consumption = { low: 0.9, likely: 0.8, high: 1 };
    expect(problemOf(secondYear([burned], { ...choices, consumption }))).toBe('low-above-high');
  });
});

describe('stumps', () => {
  const row = (diameterMeters: number, stemsPerHectare: number) =>
    ({ speciesGroup: 'pine', diameterMeters, stemsPerHectare, soldShare: 0.5 }) as const;
  const block = (change: Partial<StumpBlock> = {}): StumpBlock => {
    return { rows: [row(0.28, 272)], areaSquareMeters: 6880, stumps: 'pulled', ...change };
  };

  test('a hole is a cap of a ball (handbook §3), and 6 to 11 in trees leave the demo’s (trade §6.7)', () => {
    // By slices.
    const [a, h] = [4 * 0.37, 0.2 * 4 * 0.37];
    const ball = (a * a + h * h) / (2 * h);
    let sum = 0;
    for (let z = 0.5e-4; z < h; z += 1e-4)
      sum += Math.PI * (ball ** 2 - (ball - h + z) ** 2) * 1e-4;
    expect(holeVolume(0.37).likely).toBeCloseTo(sum, 3);
    for (const inches of [6, 11]) {
      const radius = 4 * (0.02 + 1.25 * inches * 0.0254);
      expect(radius).toBeGreaterThan(0.8);
      expect(radius).toBeLessThan(1.7);
      expect(0.2 * radius).toBeGreaterThan(0.12);
      expect(0.2 * radius).toBeLessThan(0.42);
    }
    for (const value of [0, -1, NaN, 99]) expect(() => holeVolume(value)).toThrow(RangeError);
  });

  test('counts by class; holes of pulled ones alone; what fills them; hours', () => {
    const value = valueOf(stumpMap([block(), block({ stumps: 'left', rows: [row(0.1, 100)] })], dozer)); // prettier-ignore
    expect(value.stumps).toBeCloseTo(0.688 * 372, 9);
    expect(value.holes).toBeCloseTo(0.688 * 272, 9);
    expect(value.classes.map((one) => [one.fromMeters, one.holesCubicMeters.likely > 0])).toEqual([[0, false], [0.3048, true]]); // prettier-ignore
    const { likely } = value.holesCubicMeters;
    expect(likely).toBeCloseTo(0.688 * 272 * holeVolume(0.37).likely, 9);
    // 1.25 loose for 0.90 compacted of loam.
    expect(value.fillCubicMeters.likely).toBeCloseTo((likely * 1.25) / 0.9, 9);
    expect(value.extraHours.likely).toBeGreaterThan(value.settlementHours.likely);
    expect(value.extraHours.low).toBeLessThan(value.extraHours.likely);
    expect(value.extraHours.high).toBeGreaterThan(value.extraHours.likely);
    const left = valueOf(stumpMap([block({ stumps: 'ground' })], dozer));
    expect(left).toMatchObject({ holes: 0, extraHours: { high: 0 }, settlementHours: { high: 0 } });
  });

  test('no trees, too many, no ground: refused in words', () => {
    expect(problemOf(stumpMap([block({ rows: [] })], dozer))).toBe('tally-empty');
    expect(problemOf(stumpMap([block({ rows: [row(0.05, 247_105)] })], dozer))).toBe(
      'tally-too-dense',
    );
    for (const value of [NaN, -1, 0]) {
      expect(problemOf(stumpMap([block({ areaSquareMeters: value })], dozer))).toBe('number-out-of-range'); // prettier-ignore
      expect(problemOf(stumpMap([block()], { ...dozer, bladeWidthMeters: value }))).toBe('number-out-of-range'); // prettier-ignore
      expect(problemOf(stumpMap([block()], { ...dozer, bladeLoadCubicMeters: value }))).toBe('number-out-of-range'); // prettier-ignore
    }
    expect(problemOf(stumpMap([], dozer))).toBe('number-out-of-range');
  });
});
