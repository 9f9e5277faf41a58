import { describe, expect, test } from 'vitest';
import { makeRainTable } from '../../fixtures/generator/rain.ts';
import { dirtMinutes } from '../../geo/estimate/dirt-minutes.ts';
import {
  bladedPerHour,
  correctedProduction,
  hourFactors,
  operatorFactors,
  pushedPerHour,
} from '../../geo/estimate/dozer-production.ts';
import { readRainTable } from '../../geo/formats/rain-table.ts';
import { channelSoilOf } from '../../geo/water/channel-soil.ts';
import { evaporationByMonth, growingMean, isGrowing } from '../../geo/water/evaporation.ts';
import { dayShare, rainInHours } from '../../geo/water/rain-in-hours.ts';
import { flowCover } from '../../geo/water/sheet-cover.ts';
import { stoneSizeMeters } from '../../geo/water/stone-size.ts';
import { widerBottomMeters } from '../../geo/water/wider-bottom.ts';
import { normalFlow } from '../../geo/water/manning.ts';

const FOOT = 0.3048;
const INCH = 0.0254;
const CUBIC_YARD = 0.9144 ** 3;

describe('dozer production (handbook §4.1)', () => {
  test('example A, a maker’s handbook: 600 yd³/h through six factors is 405.5', () => {
    const factors = [0.8, 1.3, 1.2, operatorFactors.average, hourFactors.fifty, 0.87];
    expect(correctedProduction(600, factors)).toBeCloseTo(405.53, 2);
  });

  test('example B, FM 5-434: 300 yd³/h is 190; 3,000 yd³ take 15.8 h', () => {
    const factors = [0.92, operatorFactors.average, 0.8, 1.2, 1, hourFactors.fifty, 1.15];
    const production = correctedProduction(300, factors);
    expect(production).toBeCloseTo(189.7, 1);
    expect(3000 / production).toBeCloseTo(15.8, 1);
  });

  test('a blade of 2.5 yd³ over 100 ft: by hand 159 an hour; the base case’s 0.05 min at each turn', () => {
    const load = 2.5 * CUBIC_YARD;
    const hours = 100 / (2 * 5280) + 100 / (3.5 * 5280) + 0.05 / 60;
    expect(pushedPerHour(load, 100 * FOOT) / CUBIC_YARD).toBeCloseTo(2.5 / hours, 9);
    expect(Math.abs(pushedPerHour(load, 100 * FOOT) / CUBIC_YARD - 159)).toBeLessThan(0.5);
  });

  test('blading: W × S × efficiency / 8.25 acres an hour (handbook §4.3): 12 ft at 2 mph, seven eighths', () => {
    const acres = (bladedPerHour(12 * FOOT, 1) / 4046.8564224) * 1;
    expect(acres).toBeCloseTo((12 * 2 * 0.875) / 8.25, 3);
  });

  test('78 loose yd³ of the demo’s notch, 62 in the bank, take about an hour: 1 to 2 by hand (trade notes §6.6)', () => {
    const loose = { low: 65 * CUBIC_YARD, likely: 78 * CUBIC_YARD, high: 95 * CUBIC_YARD };
    const dozer = { bladeLoadCubicMeters: 2.5 * CUBIC_YARD, bladeWidthMeters: 9 * FOOT, operator: 'average' } as const; // prettier-ignore
    const { low, likely, high } = dirtMinutes(loose, 42 * FOOT, 700, dozer);
    expect(low).toBeLessThan(likely);
    expect(likely).toBeGreaterThan(35);
    expect(likely).toBeLessThan(120);
    expect(high).toBeLessThan(120);
    const none = { low: 0, likely: 0, high: 0 };
    expect(dirtMinutes(none, 10, 0, dozer)).toEqual(none);
  });
});

describe('rain in other hours', () => {
  test('type II against Haan, Barfield & Hayes 1994 eq. 3.7, as a public model quotes it: within 6 %', () => {
    for (const hours of [0.5, 1, 2, 3, 6, 12, 24]) {
      const formula = (hours / 24) * (24.04 / (hours + 0.04)) ** 0.75;
      expect(Math.abs(dayShare(hours, 'II') / formula - 1), `${hours} h`).toBeLessThan(0.06);
    }
  });

  test('more hours bring more rain, less of it an hour, on every type', () => {
    for (const type of ['I', 'IA', 'II', 'III'] as const) {
      for (let hours = 0.1; hours < 24; hours *= 1.3) {
        expect(dayShare(hours * 1.3, type)).toBeGreaterThanOrEqual(dayShare(hours, type));
        const rates = [dayShare(hours, type) / hours, dayShare(hours * 1.3, type) / (hours * 1.3)];
        expect(rates[1]).toBeLessThanOrEqual(rates[0]! * (1 + 1e-9));
      }
    }
  });

  test('1.70 in in 6 h of the demo is its yearly rain, 2.45 in in 24 h (trade notes §6.5)', () => {
    const table = readRainTable('rain.csv', makeRainTable());
    if (!table.ok) throw new Error(table.problem.what);
    const storm = { depthMeters: 1.7 * INCH, durationHours: 6 };
    const day = rainInHours(storm, 24, table.value, 'II');
    expect(day.by).toBe('table');
    expect(day.meters / INCH).toBeCloseTo(2.45, 6);
    expect(rainInHours(storm, 6, table.value, 'II').meters / INCH).toBeCloseTo(1.7, 9);
    // Without a table by type II: 1.70 / 0.707.
    expect(rainInHours(storm, 24, null, 'II').meters / INCH).toBeCloseTo(1.7 / 0.707, 6);
  });
});

describe('evaporation by month', () => {
  test('the published shape: percent of a year by month, 100 in all, 30 in at Grangeville (Molnau & others 1992)', () => {
    const printed = [0.2, 0.4, 0.9, 2.4, 3.6, 4.5, 5.7, 5.1, 3.3, 1.8, 1.2, 0.9];
    const days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    const year = evaporationByMonth(1, [1, 12]).map((perDay, i) => perDay * days[i]!);
    const scale = 30 / year.reduce((sum, one) => sum + one, 0);
    // The page rounds to a tenth of an inch.
    for (const [i, inches] of printed.entries()) {
      expect(Math.abs(year[i]! * scale - inches)).toBeLessThan(0.0501);
    }
  });

  test('the season’s mean is the figure given; a season may run over the new year', () => {
    const byMonth = evaporationByMonth(0.003, [4, 10]);
    expect(growingMean(byMonth, [4, 10])).toBeCloseTo(0.003, 12);
    expect(byMonth[6]! * 1000).toBeCloseTo(4.5, 1);
    expect(byMonth[10]! * 1000).toBeCloseTo(1, 1);
    expect([11, 12, 1, 2].map((month) => isGrowing(month, [12, 1]))).toEqual([false, true, true, false]); // prettier-ignore
    expect(() => evaporationByMonth(-1, [4, 10])).toThrow(RangeError);
    expect(() => evaporationByMonth(1, [0, 10])).toThrow(RangeError);
  });
});

test('stone by Isbash’s own equation, solved for the speed: V = C √(2 g (S − 1) d) (NCHRP 568)', () => {
  for (const feet of [2, 5, 9]) {
    const size = stoneSizeMeters(feet * FOOT);
    expect(0.86 * Math.sqrt(2 * 9.80665 * 1.65 * size)).toBeCloseTo(feet * FOOT, 12);
  }
  expect(stoneSizeMeters(5 * FOOT) / INCH).toBeCloseTo(3.8, 1);
});

test('a wider bottom is the first whole foot that does, and the one below does not', () => {
  const section = { bottomWidthMeters: 7 * FOOT, sideRun: 6, gradeRatio: 0.005 };
  const wide = widerBottomMeters(0.6, section, 'sandy-or-silty', 'fair-grass', 1)!;
  const speed = (bottom: number) => normalFlow(0.6, { ...section, bottomWidthMeters: bottom }, 0.005, 0.03).metersPerSecond; // prettier-ignore
  expect(speed(wide)).toBeLessThanOrEqual(2 * FOOT);
  expect(speed(wide - FOOT)).toBeGreaterThan(2 * FOOT);
  expect(widerBottomMeters(50, section, 'sandy-or-silty', 'fair-grass', 1)).toBeNull();
  expect(widerBottomMeters(0.01, section, 'clay', 'fair-grass', 1)).toBeCloseTo(7 * FOOT, 9);
});

test('textures and covers find their rows', () => {
  const soils = ['Merrow silt loam', 'silty clay loam', 'clay', 'sandy clay', '', null];
  expect(soils.map(channelSoilOf)).toEqual([
    'sandy-or-silty',
    'clay-loam',
    'clay',
    'sandy-or-silty',
    'sandy-or-silty',
    'sandy-or-silty',
  ]);
  // TR-55 table 3-1.
  const n = (cover: Parameters<typeof flowCover>[0]) => flowCover(cover).sheetRoughness;
  expect([n('woods-fair'), n('meadow'), n('newly-graded'), n('small-grain-good')]).toEqual([0.4, 0.24, 0.011, 0.06]); // prettier-ignore
  expect(flowCover('woods-grass-fair').rational).toBe('pasture');
});
