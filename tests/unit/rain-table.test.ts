import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { makeRainTable } from '../../fixtures/generator/rain.ts';
import { readRainTable } from '../../geo/formats/rain-table.ts';
import type { RainTable } from '../../geo/plan/rain-table.ts';
import { rainDepth, rainReturn } from '../../geo/water/rain-frequency.ts';
import { seeded } from '../seeded.ts';

/**
 * Values of the two tables below are NOAA Atlas 14 point estimates (public domain) as the public
 * service gave them: volume 9 version 2 at 26.6 N, and volume 12 version 2 at 46.06 N in both
 * series. Layout: trade.md section 3.4.
 */
const HEAD = (volume: string, series: string) => `Point precipitation frequency estimates (inches)
NOAA Atlas 14 Volume ${volume} Version 2
Data type: Precipitation depth
Time series type: ${series}
Project area: -
Location name (ESRI Maps): None
Station Name: None
Latitude: 26.6 Degree
Longitude: -81.9 Degree
Elevation (USGS): None None


PRECIPITATION FREQUENCY ESTIMATES
`;
const NINE = `${HEAD('9', 'Partial duration')}by duration for ARI (years):, 1,2,5,10,25,50,100,200,500,1000
5-min:, 0.553,0.620,0.731,0.822,0.950,1.05,1.15,1.25,1.38,1.48
60-min:, 2.14,2.38,2.79,3.13,3.62,4.00,4.38,4.78,5.32,5.74
6-hr:, 3.23,3.70,4.50,5.18,6.16,6.94,7.75,8.60,9.76,10.7
12-hr:, 3.49,4.18,5.35,6.36,7.79,8.94,10.1,11.3,13.0,14.3
24-hr:, 4.01,4.76,6.09,7.28,9.05,10.5,12.1,13.7,16.1,18.0
2-day:, 4.94,5.57,6.77,7.94,9.80,11.4,13.3,15.3,18.2,20.7
60-day:, 21.0,23.3,26.6,29.2,32.4,34.6,36.6,38.3,40.3,41.5

Date/time (GMT):  Sun Jun  7 07:54:20 2026
pyRunTime:  0.02
`;
const TWELVE = `${HEAD('12', 'Partial duration')}by duration for ARI (years):, 1,2,5,10,25,50,100,200,500,1000
24-hr:, 1.20,1.37,1.64,1.85,2.13,2.34,2.55,2.75,3.00,3.18
3-day:, 1.60,1.81,2.16,2.44,2.82,3.11,3.39,3.67,4.04,4.30
`;
const TWELVE_ANNUAL = `${HEAD('12', 'Annual maximum')}by duration for AEP:, '1/2,'1/5,'1/10,'1/25,'1/50,'1/100,'1/200,'1/500,'1/1000
24-hr:, 1.29,1.60,1.83,2.13,2.34,2.55,2.75,3.00,3.18
3-day:, 1.71,2.10,2.41,2.81,3.10,3.39,3.67,4.04,4.30
`;
const inches = (value: number) => value * 0.0254;

function read(text: string): RainTable {
  const table = readRainTable('rain.csv', text);
  if (!table.ok) throw new Error(`${table.problem.code}: ${table.problem.what}`);
  return table.value;
}
const codeOf = (text: string) => {
  const table = readRainTable('rain.csv', text);
  return table.ok ? 'read' : table.problem.code;
};

describe('the public layout', () => {
  it('gives every number under its duration and return period', () => {
    const table = read(NINE);
    expect(table).toMatchObject({
      sourceName: 'NOAA Atlas 14 Volume 9 Version 2',
      unitsFound: 'inches',
      series: 'partial-duration',
      missingCells: 0,
      returnYears: [1, 2, 5, 10, 25, 50, 100, 200, 500, 1000],
    });
    expect(table.durationsHours).toEqual([1 / 12, 1, 6, 12, 24, 48, 1440]);
    expect(rainDepth(table, 24, 100)).toBeCloseTo(inches(12.1), 12);
    expect(rainDepth(table, 6, 1)).toBeCloseTo(inches(3.23), 12);
    expect(rainDepth(table, 5 / 60, 1000)).toBeCloseTo(inches(1.48), 12);
  });

  it('takes the estimates of a file that has bounds too, Windows line ends and a byte mark', () => {
    const bounds = NINE.slice(NINE.indexOf('PRECIP'), NINE.indexOf('Date/time'))
      .replace('ESTIMATES', 'ESTIMATES AT UPPER BOUND OF 90% CONFIDENCE INTERVAL')
      .replaceAll('3.23', '4.44');
    const text = `\ufeff${NINE.replace('Date/time', `${bounds}\nDate/time`).replaceAll('\n', '\r\n')}`;
    expect(read(text)).toEqual(read(NINE));
  });

  it('reads millimeters as the same depths', () => {
    const metric = NINE.replace('(inches)', '(millimeters)').replace(
      /^(\d+-\w+:),(.*)$/gm,
      (_, label: string, row: string) =>
        `${label}, ${row.split(',').map((cell) => (Number(cell) * 25.4).toFixed(3))}`,
    );
    const table = read(metric);
    expect(table.unitsFound).toBe('millimeters');
    const theirs = read(NINE).depthMeters.flat();
    table.depthMeters.flat().forEach((depth, i) => expect(depth).toBeCloseTo(theirs[i]!, 6));
  });

  it('turns chances of the annual series into the same return periods', () => {
    // The relation ARI = -1/ln(1 - AEP) is Langbein's (from memory); here it is held against the
    // atlas's own two tables of one place, which are rounded to three digits.
    const annual = read(TWELVE_ANNUAL);
    const partial = read(TWELVE);
    expect(annual.series).toBe('annual-maximum');
    for (const [row, hours] of annual.durationsHours.entries()) {
      for (const [column, years] of annual.returnYears.entries()) {
        if (years > 1000) continue;
        const theirs = rainDepth(partial, hours, years)!;
        expect(Math.abs(annual.depthMeters[row]![column]! - theirs)).toBeLessThan(inches(0.021));
      }
    }
    expect(rainReturn(partial, 24, inches(1.29))!.returnYears).toBeCloseTo(1.443, 1);
  });
});

describe('the demo', () => {
  it('holds the table that the generator makes, with the numbers of trade.md 6.5', () => {
    const file = readFileSync(new URL('../../fixtures/demo/rain.csv', import.meta.url), 'utf8');
    expect(file).toBe(makeRainTable());
    const table = read(file);
    expect(table.missingCells).toBe(0);
    const said = [
      [24, 1, 2.45],
      [24, 2, 2.92],
      [24, 5, 3.68],
      [24, 10, 4.32],
      [24, 25, 5.27],
      [6, 1, 1.7],
      [6, 2, 2.05],
      [1, 2, 1.32],
    ] as const;
    for (const [hours, years, depth] of said) {
      expect(rainDepth(table, hours, years)).toBeCloseTo(inches(depth), 10);
    }
    // "1.7 in in 6 h is about a yearly rain here".
    expect(rainReturn(table, 6, inches(1.7))).toEqual({ returnYears: 1, beyond: 'within' });
    expect(rainReturn(table, 6, 0.04318)).toEqual({ returnYears: 1, beyond: 'within' });
  });
});

describe('between and beyond the numbers', () => {
  const table = read(NINE);

  it('depth goes by logarithms, worked by hand', () => {
    // 3 h between 1 h (2.14) and 6 h (3.23): 2.14 x (3.23/2.14)^(ln 3/ln 6) = 2.7545 in. The
    // atlas itself gives 2.92 for 3 h there: a straight line in logarithms is 6 % low on that gap.
    expect(rainDepth(table, 3, 1)! / 0.0254).toBeCloseTo(2.7545, 3);
    // 3 years between 2 (4.76) and 5 (6.09): 4.76 + 1.33 x ln 1.5/ln 2.5 = 5.3485 in.
    expect(rainDepth(table, 24, 3)! / 0.0254).toBeCloseTo(5.3485, 3);
    const demo = read(makeRainTable());
    expect(rainDepth(demo, 12, 1)! / 0.0254).toBeCloseTo(2.0409, 3);
  });

  it('is not drawn out beyond the table', () => {
    expect(rainDepth(table, 0.05, 2)).toBeNull();
    expect(rainDepth(table, 2000, 2)).toBeNull();
    expect(rainDepth(table, 24, 0.5)).toBeNull();
    expect(rainDepth(table, 24, 2000)).toBeNull();
    expect(rainReturn(table, 6, inches(1))).toEqual({ returnYears: 1, beyond: 'below' });
    expect(rainReturn(table, 6, 0)).toEqual({ returnYears: 1, beyond: 'below' });
    expect(rainReturn(table, 6, inches(11))).toEqual({ returnYears: 1000, beyond: 'above' });
    expect(rainReturn(table, 0.01, inches(1))).toBeNull();
    for (const bad of [NaN, -1]) {
      expect(rainReturn(table, 6, bad)).toBeNull();
      expect(rainReturn(table, bad, 0.1)).toBeNull();
      expect(rainDepth(table, bad, 2)).toBeNull();
      expect(rainDepth(table, 6, bad)).toBeNull();
    }
  });

  it('1,000 seeded rains: the way back finds the return period, and more rain is never commoner', () => {
    const next = seeded(41);
    for (let i = 0; i < 1000; i++) {
      const hours = (1 / 12) * (1440 * 12) ** next();
      const years = 1000 ** next();
      const depth = rainDepth(table, hours, years)!;
      const back = rainReturn(table, hours, depth)!;
      expect(back.beyond).toBe('within');
      expect(Math.log(back.returnYears / years)).toBeCloseTo(0, 6);
      expect(rainReturn(table, hours, depth * 1.01)!.returnYears).toBeGreaterThanOrEqual(
        back.returnYears,
      );
      expect(rainDepth(table, Math.min(1440, hours * 1.1), years)).toBeGreaterThanOrEqual(depth);
    }
  });
});

describe('missing cells', () => {
  it('stay missing and are passed over', () => {
    const text = NINE.replace('3.23,3.70,4.50', ',NA,-999').replace('60-min:, 2.14', '60-min:, -');
    const table = read(text);
    expect(table.missingCells).toBe(4);
    expect(table.depthMeters[2]!.slice(0, 3)).toEqual([NaN, NaN, NaN]);
    // 2 years, 6 h: between 1 h (2.38) and 12 h (4.18): 2.38 x (4.18/2.38)^(ln 6/ln 12) = 3.5723.
    expect(rainDepth(table, 6, 2)! / 0.0254).toBeCloseTo(3.5723, 3);
    const onlyTwo = read(NINE.replace('5-min:, 0.553,', '5-min:, ,').replace(/^60-min.*\n/m, ''));
    expect(rainReturn(onlyTwo, 1 / 12, inches(0.6))).toEqual({ returnYears: 2, beyond: 'below' });
  });
});

describe('what is no such table', () => {
  const swap = (from: string | RegExp, to: string) => codeOf(NINE.replace(from, to));

  it('is refused with its reason', () => {
    expect(codeOf('')).toBe('rain-table-empty');
    expect(codeOf(' \n\n')).toBe('rain-table-empty');
    expect(codeOf('x'.repeat(1_000_001))).toBe('rain-table-too-large');
    expect(codeOf('x,y,z\n1,2,3\n')).toBe('rain-table-other-layout');
    expect(codeOf("result = 'none';\nErrorMsg = 'Selected location is not within a project area';")) //
      .toBe('rain-table-no-coverage');
    expect(swap('(inches)', '(inches/hour)')).toBe('rain-table-intensity');
    expect(swap('(inches)', '(millimeters/hour)')).toBe('rain-table-intensity');
    expect(swap('Precipitation depth', 'Precipitation intensity')).toBe('rain-table-intensity');
    expect(swap('(inches)', '(furlongs)')).toBe('rain-table-unit-unknown');
    expect(swap(' (inches)', '')).toBe('rain-table-unit-unknown');
    expect(swap('1,2,5,10,25', '1,2,2,10,25')).toBe('rain-table-columns');
    expect(swap('1,2,5,10,25', '1,two,5,10,25')).toBe('rain-table-columns');
    expect(swap('3.23,3.70,', '3.23,')).toBe('rain-table-row-length');
    expect(swap('3.23,3.70,', '3.23,3.70,3.71,')).toBe('rain-table-row-length');
    expect(swap('3.23', 'much')).toBe('rain-table-not-a-depth');
    expect(swap('3.23', '-3.23')).toBe('rain-table-not-a-depth');
    expect(swap('10.7', '1e9')).toBe('rain-table-not-a-depth');
    expect(swap('3.70', '3.07')).toBe('rain-table-falls');
    expect(swap('10.7', '99.9')).toBe('rain-table-falls');
    expect(swap('12-hr', '6-hr')).toBe('rain-table-durations');
    expect(swap('12-hr', '0-hr')).toBe('rain-table-durations');
    expect(swap(/^\d+-\w+:.*\n/gm, '')).toBe('rain-table-no-numbers');
    expect(swap(/\d\.\d+|\d\d\.\d/g, '')).toBe('rain-table-no-numbers');
  });

  it('names the line', () => {
    const table = readRainTable('rain.csv', NINE.replace('3.70', 'much'));
    expect(table.ok ? '' : table.problem.where).toBe('rain.csv, line 17');
  });

  it('3,000 damaged files end as a sound table or a refusal', () => {
    const scraps = [
      '',
      ',',
      '\n',
      '"',
      '-',
      '1e999',
      'NaN',
      '0',
      '\0',
      'in',
      '9',
      "'1/0",
      '1/2',
      ':',
    ];
    const ends = new Map<string, number>();
    for (let seed = 1; seed <= 3000; seed++) {
      const next = seeded(seed);
      let text = seed % 3 === 0 ? TWELVE_ANNUAL : NINE;
      for (let turn = 0; turn < 1 + (seed % 4); turn++) {
        const at = Math.floor(next() * text.length);
        const cut = next() < 0.1 ? text.length : Math.floor(next() * 6);
        const scrap = scraps[Math.floor(next() * scraps.length)]!;
        text = text.slice(0, at) + scrap + text.slice(at + cut);
      }
      const table = readRainTable('rain.csv', text);
      const code = table.ok ? 'read' : table.problem.code;
      ends.set(code, (ends.get(code) ?? 0) + 1);
      if (!table.ok) {
        expect(table.problem.wayOut.length).toBeGreaterThan(10);
        continue;
      }
      const { durationsHours, returnYears, depthMeters } = table.value;
      expect(depthMeters.length).toBe(durationsHours.length);
      for (const row of depthMeters) {
        expect(row.length).toBe(returnYears.length);
        for (const depth of row)
          expect(Number.isNaN(depth) || (depth > 0 && depth < 26)).toBe(true);
      }
      const back = rainReturn(table.value, 24, 0.1);
      if (back) expect(back.returnYears).toBeGreaterThan(0);
    }
    expect(ends.get('read')).toBeGreaterThan(300);
    expect(ends.size).toBeGreaterThan(6);
  });
});
