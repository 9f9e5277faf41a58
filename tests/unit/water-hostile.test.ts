import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { answer } from '../../app/cli/answer.ts';
import { water } from '../../app/cli/water.ts';
import {
  MOST_EVAPORATION_METERS,
  MOST_RAIN_METERS,
  readDepth,
} from '../../app/words/read-depth.ts';
import { sentenceOf } from '../../app/words/findings.ts';
import { makeRainTable } from '../../fixtures/generator/rain.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { parseCondition } from '../../geo/plan/conditions.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import { parseSetting } from '../../geo/plan/settings.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { curveNumberWhen } from '../../geo/water/soil-wetness.ts';
import { runoffMeters } from '../../geo/water/runoff.ts';
import { answersOf, groundOf, plotOf } from '../answers-rig.ts';
import { gridOf } from '../terrain-grids.ts';

/** The bad-input list of the water answers: each is said in plain words, and nothing is lost. */

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'assart-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const place = ['--crs', '26918', '--vertical-unit', 'metre'];

async function printed(run: () => Promise<void>): Promise<Record<string, unknown>> {
  let text = '';
  const spy = vi.spyOn(process.stdout, 'write').mockImplementation((piece) => {
    text += String(piece);
    return true;
  });
  try {
    await run();
  } finally {
    spy.mockRestore();
  }
  return JSON.parse(text) as Record<string, unknown>;
}

function asc(name: string, rows: readonly (readonly number[])[]): string {
  const path = join(folder, name);
  const head = `ncols ${rows[0]!.length}\nnrows ${rows.length}\nxllcorner 500000\nyllcorner 4000000\ncellsize 1\nNODATA_value -9999\n`;
  writeFileSync(path, head + rows.map((row) => row.join(' ')).join('\n'));
  return path;
}
const filled = (value: number) => Array.from({ length: 5 }, () => [value, value, value, value, value]); // prettier-ignore
const pit = filled(8).map((row, y) => row.map((z, x) => (x === 2 && y === 2 ? 5 : z)));

describe('rain', () => {
  test.each(['-1in', '-1', 'NaN', '1000in', ''])(
    'assart water --rain %j is bad input',
    async (rain) => {
      const told = water.run([asc('pit.asc', pit), '--rain', rain, ...place]);
      await expect(told).rejects.toMatchObject({ exitCode: 1, message: expect.stringContaining('--rain cannot be') }); // prettier-ignore
    },
  );

  test.each([-1, NaN, Infinity, 1000 * 0.0254, '1'])(
    'a plan takes no rain of %s m, and says so',
    (depthMeters) => {
      const read = parseCondition('rain', { depthMeters, durationHours: 6 });
      expect(read.ok ? null : read.problem.code).toBe('condition-invalid');
    },
  );

  test('none at all is rain too: nothing runs, stands or is divided by', () => {
    expect(parseCondition('rain', { depthMeters: 0, durationHours: 6 }).ok).toBe(true);
    expect(runoffMeters(0, 73)).toBe(0);
  });

  test.each(['-1', 'NaN', '1,000 in', 'much', '1e3 in'])(
    'written on the page as %j it is asked for again',
    (text) => {
      expect(readDepth(text, 'us', MOST_RAIN_METERS, '1.7 in')).toEqual({
        wrong: 'Write a depth from 0 to 78.7 in, such as 1.7 in.',
      });
    },
  );

  test('written well it is taken, a bare number in the units of the page', () => {
    const meters = (text: string, units: 'us' | 'metric') => {
      const read = readDepth(text, units, MOST_RAIN_METERS, '');
      return 'value' in read ? read.value : NaN;
    };
    expect(meters('1.7', 'us')).toBeCloseTo(0.04318, 9);
    expect(meters('43', 'metric')).toBeCloseTo(0.043, 9);
    expect(meters('0', 'us')).toBe(0);
    expect('wrong' in readDepth('3', 'us', MOST_EVAPORATION_METERS, '0.1 in')).toBe(true);
  });
});

describe('curve numbers', () => {
  test.each(['29.9', '100.1', 'NaN', '-5'])('assart water --cn %s is bad input', async (cn) => {
    const told = water.run([asc('pit.asc', pit), '--rain', '1in', '--cn', cn, ...place]);
    await expect(told).rejects.toMatchObject({ exitCode: 1, message: expect.stringContaining('--cn cannot be') }); // prettier-ignore
  });

  test('the kernels throw with the value', () => {
    for (const number of [29.9, 100.1, NaN]) {
      expect(() => runoffMeters(0.1, number)).toThrow(String(number));
      expect(() => curveNumberWhen(number, 'wet')).toThrow(String(number));
    }
  });
});

describe('surfaces', () => {
  test('level ground has no low spot, and its runoff leaves', async () => {
    const of = await printed(() => water.run([asc('flat.asc', filled(8)), '--rain', '8in', ...place])); // prettier-ignore
    const storm = of['storm'] as Record<string, number>;
    expect(of['lowSpotsInAll']).toBe(0);
    expect(storm['standingCubicMeters']).toBe(0);
    expect(storm['leftSiteCubicMeters']).toBeCloseTo(storm['runoffCubicMeters']!, 12);
  });

  test('one pit fills to its rim: a square metre, 3 m deep', async () => {
    const args = [asc('pit.asc', pit), '--rain', '100in', '--cn', '100', '--min-area', '0', ...place]; // prettier-ignore
    const of = await printed(() => water.run(args));
    const [spot] = of['lowSpots'] as { maxDepthMeters: number; volumeCubicMeters: number }[];
    expect(spot!.maxDepthMeters).toBe(3);
    // The zone's metre is 0.9996 of one on the ground.
    expect(spot!.volumeCubicMeters * 0.9996 ** 2).toBeCloseTo(3, 3);
    const storm = of['storm'] as Record<string, number>;
    expect(storm['standingCubicMeters']).toBeCloseTo(spot!.volumeCubicMeters, 9);
  });

  test.each([
    ['no heights at all', filled(-9999), /no heights/],
    ['one cell', [[8]], /1 × 1 cells/],
  ])('%s is refused with the way out', async (_, rows, says) => {
    const told = water.run([asc('none.asc', rows), '--rain', '1in', ...place]);
    await expect(told).rejects.toMatchObject({ exitCode: 1, message: expect.stringMatching(says) });
  });
});

describe('assart answer', () => {
  const run = (plan: object) => {
    asc('ground.asc', pit);
    const json = {
      schemaVersion: 1,
      features: [],
      grounds: [{ file: 'ground.asc', name: 'pit' }],
      ...plan,
    };
    writeFileSync(join(folder, 'plan.json'), JSON.stringify(json));
    return printed(() => answer.run([folder, ...place]));
  };

  test.each([
    [{ conditions: { rain: { depthMeters: -0.1, durationHours: 6 } } }, /condition rain/],
    [{ conditions: { rain: { depthMeters: null, durationHours: 6 } } }, /condition rain/],
    [{ conditions: { rain: { depthMeters: 25.4, durationHours: 6 } } }, /condition rain/],
    [{ settings: { assumedSoilGroup: 'E' } }, /assumedSoilGroup/],
    [{ settings: { evaporationByMonth: [0.003] } }, /evaporationByMonth/],
    [{ settings: { growingSeason: [0, 13] } }, /growingSeason/],
  ])('%j is refused in one line', async (plan, says) => {
    await expect(run(plan)).rejects.toMatchObject({ exitCode: 1, message: expect.stringMatching(says) }); // prettier-ignore
  });

  test('a rainfall table of another layout is said, and every other answer is there', async () => {
    const of = await run({ settings: { rainTable: 'years;depth\n1;2.4\n' } });
    const { storm, notchFlows } = of['site'] as Record<string, { findings: { code: string }[] }>;
    expect(storm!.findings.map(({ code }) => code)).toContain('rain-table-unread');
    expect(notchFlows).toBeTruthy();
  });
});

/** A plane that falls east, 60 m on a side. */
function plane() {
  const plain = gridOf({ width: 60, height: 60 }, (x) => 250 - 0.02 * x);
  const frame = openFrame(plain.frame);
  return groundOf(makeGrid(plain, plain.data, frame), frame);
}
type Ground = ReturnType<typeof plane>;
const at = ({ grid, frame }: Ground, x: number, y: number): Position =>
  frame.toLngLat(grid.west + x, grid.north - 60 + y);
const box = (ground: Ground, west: number, south: number, east: number, north: number) =>
  (
    [
      [west, south],
      [east, south],
      [east, north],
      [west, north],
    ] as const
  ).map(([x, y]) => at(ground, x, y));
const made = (id: string, kind: PlanFeature['kind'], geometry: PlanFeature['geometry'], properties: object) => ({ id, kind, name: id, geometry, properties, locked: false, hidden: false }) as PlanFeature; // prettier-ignore

describe('rainfall tables in a plan', () => {
  const stormWith = (rainTable: string) =>
    answersOf([], plane(), { rainTable }).site.storm!.findings.map((found) => ({
      code: found.code,
      ...sentenceOf(found, 'us'),
    }));
  const table = makeRainTable();

  test('sound, in inches or in mm: nothing to say', () => {
    const metric = table.replace('(inches)', '(millimeters)').replace(/\d+\.\d+/g, (inches) => (Number(inches) * 25.4).toFixed(1)); // prettier-ignore
    for (const text of [table, metric]) {
      expect(stormWith(text).filter(({ code }) => code.startsWith('rain-table'))).toEqual([]);
    }
  });

  test('of another layout: what is wrong and what to do', () => {
    const [said] = stormWith('a,b\n1,2\n').filter(({ code }) => code === 'rain-table-unread');
    expect(said!.rest).toMatch(/no rainfall-frequency table/);
    expect(said!.rest).toMatch(/Download the depth table/);
  });

  test('with missing cells: read, and the gaps are counted', () => {
    const [said] = stormWith(table.replace(/1\.70/, '')).filter(({ code }) => code === 'rain-table-gaps'); // prettier-ignore
    expect(said!.rest).toMatch(/lacks 1 of its numbers/);
  });
});

describe('soils that do not cover the site', () => {
  const ground = plane();
  const soil = made('west', 'soil-area', { type: 'Polygon', coordinates: [[...box(ground, 0, 0, 30, 60), at(ground, 0, 0)]] }, { series: '', hydrologicGroup: 'B/D', drained: true, surfaceKsatMetersPerSecond: null, restrictingKsatMetersPerSecond: null, restrictingDepthMeters: null }); // prettier-ignore
  const plots = [
    plotOf('inside', [box(ground, 5, 5, 25, 25)]),
    plotOf('across', [box(ground, 20, 30, 40, 50)]),
  ];

  test('say where by share and plot, and what was assumed', () => {
    const { storm } = answersOf([soil, ...plots], ground).site;
    const found = storm!.findings.find(({ code }) => code === 'soils-assumed')!;
    expect(found.about).toEqual(['across']);
    expect(found.values).toEqual({ knownShare: 0.5, group: 'C', plots: 'across 50 %' });
    expect(sentenceOf(found, 'us').rest).toMatch(
      /50 % of the ground \(across 50 %\).*soil group C/,
    );
  });

  test('no soil at all: no plot stands out', () => {
    const found = answersOf(plots, ground).site.storm!.findings.find(({ code }) => code === 'soils-assumed')!; // prettier-ignore
    expect(found.about).toEqual([]);
    expect(found.values['plots']).toBe('');
  });

  test('a drained dual group is its first letter, and D while the water table is up', () => {
    const number = (waterTableUp: boolean) =>
      answersOf([soil], ground, { waterTableUp }).site.storm!.value.curveNumber;
    // Woods in fair condition, TR-55 table 2-2c: B 60, C 73, D 79; half of the ground is C.
    expect(number(false)).toBeCloseTo((60 + 73) / 2, 6);
    expect(number(true)).toBeCloseTo((79 + 73) / 2, 6);
  });
});

test('an outlet off the site lets nothing out: said, and the water is the same without it', () => {
  const ground = plane();
  const outlet = made('out', 'outlet', { type: 'Point', coordinates: at(ground, 500, 500) }, {});
  const inside = made('in', 'outlet', { type: 'Point', coordinates: at(ground, 30, 30) }, {});
  const settings = { waterOn: 'with-the-plan' } as const;
  const with_ = answersOf([outlet, inside], ground, settings);
  const codes = (id: string) => with_.features[id]!.shapeMeasure!.findings.map(({ code }) => code);
  expect(codes('out')).toEqual(['drain-off-ground']);
  expect(codes('in')).toEqual([]);
  const without = answersOf([inside], ground, settings);
  expect(with_.site.storm!.value).toEqual(without.site.storm!.value);
});

test('settings of the month and the machine hold what they may hold', () => {
  expect(parseSetting('evaporationByMonth', null).ok).toBe(true);
  expect(
    parseSetting(
      'evaporationByMonth',
      Array.from({ length: 12 }, () => 0.002),
    ).ok,
  ).toBe(true);
  for (const bad of [[], Array.from({ length: 12 }, () => -1), [0.1]]) {
    expect(parseSetting('evaporationByMonth', bad).ok).toBe(false);
  }
  expect(parseSetting('dozerBladeLoadCubicMeters', 0).ok).toBe(false);
  expect(parseSetting('rainType', 'IV').ok).toBe(false);
});
