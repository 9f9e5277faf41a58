import { describe, expect, test } from 'vitest';
import {
  clearingHours,
  usualSwell,
  type ClearingBlock,
} from '../../geo/estimate/clearing-hours.ts';
import { loggedRate } from '../../geo/estimate/logged-rate.ts';
import { machineRow } from '../../geo/estimate/machine-row.ts';
import {
  beyondRow,
  fellingMinutes,
  machineClasses,
  pilingMinutes,
  treeCount,
  type CountRow,
  type TreeCount,
} from '../../geo/estimate/tree-count.ts';
import { problemOf, valueOf } from '../result-value.ts';

const HORSEPOWER = 745.7;
const ACRE = 4046.8564224;
/** Per acre to per hectare. */
const perAcre = 10_000 / ACRE;

function counted(perHectare: TreeCount['perHectare'], small = 0, hardwoodShare = 0): TreeCount {
  return { smallPerHectare: small, perHectare, overSixFeetMeters: 0, hardwoodShare };
}

describe('the tree-count method (handbook §4.2)', () => {
  const of215 = machineClasses[1]!;
  const acre = (n: readonly number[]) => n.map((trees) => trees * perAcre) as never;

  test('example C, metric piling: 167.6 min/ha; the 177.6 printed is a misprint (trap 1)', () => {
    const d7: CountRow = {
      minutesPerHectare: 125,
      minutesPerTree: [0.4, 0.6, 2.5, 5],
      minutesPerMeter: null,
    };
    const count = counted([35, 6, 6, 2]);
    expect(pilingMinutes(count, d7, false)).toBeCloseTo(167.6, 10);
    expect(pilingMinutes(count, d7, false) / perAcre).toBeCloseTo(67.8, 1);
    // Our own row is the one printed in feet: the same to within its rounding.
    expect(Math.abs(pilingMinutes(count, of215.piling, false) / 167.6 - 1)).toBeLessThan(0.005);
    // Printed beside it: an 8 ft tree takes the stronger machine 8 × 0.9 = 7.2 min.
    const thick = { ...counted([0, 0, 0, 0]), overSixFeetMeters: 8 * 0.3048 };
    const d8 = machineClasses[2]!.piling;
    expect(pilingMinutes(thick, d8, false) - d8.minutesPerHectare).toBeCloseTo(7.2, 10);
  });

  test('example D, felling: 84.8 min/ac, 106.0 with grubbing, 0.57 ac/h', () => {
    const count = counted(acre([100, 10, 2, 0]), 700 * perAcre, 0.2);
    const plain = fellingMinutes(count, of215.felling, false) / perAcre;
    expect(plain).toBeCloseTo(84.81, 2);
    const grubbed = fellingMinutes(count, of215.felling, true) / perAcre;
    expect(grubbed).toBeCloseTo(106.0, 1);
    expect(60 / grubbed).toBeCloseTo(0.566, 3);
  });

  test('example E, piling: 102.6 min/ac, 128.3 with grubbing', () => {
    const count = counted(acre([100, 10, 2, 0]));
    expect(pilingMinutes(count, of215.piling, false) / perAcre).toBeCloseTo(102.61, 2);
    expect(pilingMinutes(count, of215.piling, true) / perAcre).toBeCloseTo(128.26, 2);
  });

  test('density and hardwoods by their published steps; entangled brush takes 30 % off the base', () => {
    const at = (small: number, share: number) =>
      fellingMinutes(counted([0, 0, 0, 0], small * perAcre, share), of215.felling, true) / perAcre;
    expect(at(600, 0.5) / 23.48).toBeCloseTo(2, 12);
    expect(at(599, 0.5) / 23.48).toBeCloseTo(1, 12);
    expect(at(399, 0.5) / 23.48).toBeCloseTo(0.7, 12);
    expect(at(500, 0.75) / 23.48).toBeCloseTo(1.3, 12);
    expect(at(500, 0.25) / 23.48).toBeCloseTo(1, 12);
    expect(at(500, 0.24) / 23.48).toBeCloseTo(0.7, 12);
    const brush = pilingMinutes(counted([10, 0, 0, 0]), of215.piling, false, true);
    expect(brush).toBeCloseTo(0.7 * 50.61 * perAcre + 4, 10);
  });

  test('classes at the ground; what a row has no figure for is counted as left out', () => {
    const row = (diameterMeters: number, stemsPerHectare: number) =>
      ({ speciesGroup: 'pine', diameterMeters, stemsPerHectare, soldShare: 0 }) as const;
    // 2 cm + 1.25 dbh (Laasasenaho 1975): 0.2 m is 0.27, 0.3 is 0.395, 1.2 is 1.52 m (5 ft), 2 is 2.52 m.
    const count = treeCount([row(0.2, 100), row(0.3, 50), row(1.2, 4), row(2, 1)]);
    expect(count.smallPerHectare).toBe(100);
    expect(count.perHectare).toEqual([50, 0, 0, 4]);
    expect(count.overSixFeetMeters).toBeCloseTo(2.52, 12);
    expect(count.hardwoodShare).toBe(0);
    expect(beyondRow(count, machineClasses[0]!.felling)).toBeCloseTo(4 + 2.52 / 1.8288, 12);
    expect(beyondRow(count, of215.piling)).toBeCloseTo(2.52 / 1.8288, 12);
    expect(beyondRow(count, machineClasses[3]!.piling)).toBe(0);
  });

  test('a machine that is not in the table is said to be so', () => {
    expect(machineRow(215 * HORSEPOWER)).toMatchObject({ factor: 1, off: null });
    const weak = machineRow(100 * HORSEPOWER);
    expect(weak.factor).toBeCloseTo(1.65, 12);
    expect(weak.off).toEqual({ code: 'machine-below-table', leastWatts: 165 * HORSEPOWER });
    expect(machineRow(600 * HORSEPOWER)).toMatchObject({ factor: 1, off: { code: 'machine-above-table' } }); // prettier-ignore
    const between = machineRow(275 * HORSEPOWER);
    expect(between.off?.code).toBe('machine-between-rows');
    expect(between.piling.minutesPerHectare / perAcre).toBeCloseTo((50.61 + 44.94) / 2, 10);
    expect(machineRow(190 * HORSEPOWER).felling.minutesPerTree[3]).toBeNull();
    for (const power of [0, -1, NaN, Infinity]) expect(() => machineRow(power)).toThrow(RangeError);
  });
});

describe('hours of a clearing', () => {
  const stems = (speciesGroup: 'pine' | 'cedar-larch' | 'hard-maple-oak-hickory-beech' | 'soft-maple-birch', inches: number, acre: number) =>
    ({ speciesGroup, diameterMeters: inches * 0.0254, stemsPerHectare: acre * perAcre, soldShare: 0 }); // prettier-ignore
  const block = (acres: number, ...rows: ReturnType<typeof stems>[]): ClearingBlock => {
    return { rows, areaSquareMeters: acres * ACRE, grubbed: true, entangled: false };
  };
  /** The demo's blocks (trade notes §6.2). */
  const demo = [
    block(2.1, stems('cedar-larch', 6, 300), stems('pine', 8, 120)),
    block(1.7, stems('hard-maple-oak-hickory-beech', 11, 110), stems('soft-maple-birch', 7, 150)),
  ];
  const choices = { powerWatts: 100 * HORSEPOWER, swell: usualSwell, countErrorShare: 0 };

  test('the demo with 100 hp: within the 16 to 32 h of the trade notes (§6.6), and said to be off the table', () => {
    const value = valueOf(clearingHours(demo, choices));
    // By hand, min/ac at 165 hp and 60 min: 0.7 × 34.41 + 63.56 on 2.1 ac;
    // 1.25 × (1.3 (0.7 × 34.41 + 0.7 × 110) + 63.56 + 0.5 × 110) on 1.7 ac.
    const minutes = 2.1 * (0.7 * 34.41 + 63.56) + 1.7 * 1.25 * (1.3 * (0.7 * 34.41 + 77) + 118.56);
    expect(value.hours.likely).toBeCloseTo((minutes * 1.65) / 60 / 0.83, 6);
    expect(value.steps.felling + value.steps.piling).toBeCloseTo(value.hours.likely, 10);
    expect(value.hours.likely).toBeGreaterThan(16);
    expect(value.hours.likely).toBeLessThan(32);
    expect(value.hours.low).toBeLessThan(value.hours.likely);
    expect(value.hours.high).toBeGreaterThan(value.hours.likely);
    expect(value.basis).toBe('scaled');
    expect(value.offTable.map(({ code }) => code)).toEqual(['machine-below-table']);
    expect(value.doubts.map(({ about }) => about)).toEqual(['method', 'hour', 'machine']); // prettier-ignore
  });

  test('in the table it is not scaled; small trees alone, and trees too thick for it, are said', () => {
    const of = (blocks: readonly ClearingBlock[], horsepower: number) =>
      valueOf(clearingHours(blocks, { ...choices, powerWatts: horsepower * HORSEPOWER }));
    const small = of([demo[0]!], 165);
    expect(small.basis).toBe('table');
    expect(small.offTable).toEqual([{ code: 'all-trees-under-a-foot' }]);
    const thick = of([block(1, stems('pine', 40, 2))], 165);
    expect(thick.offTable).toEqual([{ code: 'trees-left-out', stems: expect.closeTo(2, 9) }]);
    expect(of([block(1, stems('pine', 40, 2))], 335).offTable).toEqual([]);
    // 9 in may be 0.27 to 0.34 m at the ground: under a foot or over it.
    const near = of([block(1, stems('pine', 9, 100), stems('pine', 6, 400))], 215).doubts;
    expect(near.map(({ about }) => about)).toContain('thickness');
    // A stronger machine never takes longer.
    const hours = [60, 100, 165, 190, 215, 300, 460, 800].map((hp) => of(demo, hp).hours.likely);
    for (let i = 1; i < hours.length; i++) expect(hours[i]).toBeLessThanOrEqual(hours[i - 1]!);
  });

  test('what the user has logged comes first', () => {
    const logged = [0.9, 1.1].map((acres) => ({ areaSquareMeters: acres * ACRE, hours: 8 }));
    const rate = valueOf(loggedRate(logged));
    expect((rate.likely * 8) / ACRE).toBeCloseTo(1, 12);
    // Rates 10 % either way of their mean: deviation √2 × 10 %, twice its standard error 20 %.
    expect(rate.low / rate.likely).toBeCloseTo(0.8, 9);
    const value = valueOf(clearingHours(demo, choices, logged));
    expect(value.basis).toBe('logged');
    expect(value.hours.likely).toBeCloseTo(3.8 * 8, 9);
    expect(value.hours.high).toBeCloseTo((3.8 * 8) / 0.8, 6);
    expect(value.offTable).toHaveLength(1);
    const once = valueOf(loggedRate([logged[0]!]));
    expect(once.high / once.likely).toBeCloseTo(1.25, 12);
    const same = valueOf(loggedRate([logged[0]!, logged[0]!, logged[0]!]));
    expect(same.low / same.likely).toBeCloseTo(0.9, 12);
  });

  test('no trees, too many, no ground, no power: refused in words', () => {
    const of = (change: Partial<ClearingBlock>, more: Partial<typeof choices> = {}) =>
      problemOf(clearingHours([{ ...demo[0]!, ...change }], { ...choices, ...more }));
    expect(of({ rows: [] })).toBe('tally-empty');
    expect(of({ rows: [stems('pine', 2, 100_000)] })).toBe('tally-too-dense');
    for (const value of [NaN, -1, 0, Infinity]) {
      expect(of({ areaSquareMeters: value })).toBe('number-out-of-range');
      expect(of({}, { powerWatts: value })).toBe('number-out-of-range');
      expect(problemOf(loggedRate([{ areaSquareMeters: value, hours: 1 }]))).toBe('number-out-of-range'); // prettier-ignore
      expect(problemOf(loggedRate([{ areaSquareMeters: 1, hours: value }]))).toBe('number-out-of-range'); // prettier-ignore
    }
    expect(of({}, { swell: { low: 1.3, likely: 1.2, high: 1.4 } })).toBe('low-above-high');
    expect(of({}, { countErrorShare: NaN })).toBe('number-out-of-range');
    expect(problemOf(clearingHours([], choices))).toBe('number-out-of-range');
    expect(problemOf(loggedRate([]))).toBe('log-empty');
  });
});
