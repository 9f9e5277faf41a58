import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { openOrRefuse, withFiles } from '../../app/cli/ground-options.ts';
import { water } from '../../app/cli/water.ts';
import { answerPlan, definitionsFor } from '../../geo/answers/answer-plan.ts';
import { readPlan } from '../../app/cli/read-plan.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { defaultConditions } from '../../geo/plan/conditions.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
import { openGdal, type Gdal } from '../gdal.ts';

/** `assart water`, run in this process; what it writes is read back by GDAL. */

interface Printed {
  readonly used: Record<string, unknown>;
  readonly lowSpots: readonly {
    readonly id: string;
    readonly volumeCubicMeters: number;
    readonly deepestAt: readonly [number, number];
  }[];
  readonly flowLines?: { readonly lines: number; readonly lengthMeters: number };
  readonly filledVolumeCubicMeters: number;
  readonly leftOut: number;
  readonly findings: readonly { readonly code: string }[];
  readonly storm: Record<
    'rainCubicMeters' | 'runoffMeters' | 'standingCubicMeters' | 'leftSiteCubicMeters' | 'soakedCubicMeters', // prettier-ignore
    number
  > & {
    readonly standing: readonly { readonly maxDepthMeters: number; readonly hoursToDry: number }[];
  };
}

async function run(...args: string[]): Promise<Printed> {
  let text = '';
  const spy = vi.spyOn(process.stdout, 'write').mockImplementation((piece) => {
    text += String(piece);
    return true;
  });
  try {
    await water.run(args);
  } finally {
    spy.mockRestore();
  }
  return JSON.parse(text) as Printed;
}

let folder: string;
let bowl: string;
let gdal: Gdal;
beforeAll(async () => {
  gdal = await openGdal();
  folder = mkdtempSync(join(tmpdir(), 'assart-'));
  // Nine cells at 5 within a shelf at 8, which a notch at 7 in a rim of 10 lets go: by hand, 3 m deep.
  const rows = Array.from({ length: 7 }, (_, y) =>
    Array.from({ length: 7 }, (_, x) => {
      if (x === 0 || y === 0 || x === 6 || y === 6) return x === 3 && y === 0 ? 7 : 10;
      return x === 3 && y === 3 ? 5 : Math.abs(x - 3) < 2 && Math.abs(y - 3) < 2 ? 5 : 8;
    }),
  );
  bowl = join(folder, 'bowl.asc');
  const head = 'ncols 7\nnrows 7\nxllcorner 500000\nyllcorner 4000000\ncellsize 1\n';
  writeFileSync(bowl, head + rows.map((row) => row.join(' ')).join('\n'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const place = ['--crs', '26918', '--vertical-unit', 'metre'];

describe('assart water', () => {
  test('balance, and depth that GDAL reads as it was said', async () => {
    const out = join(folder, 'out');
    const of = await run(bowl, '--rain', '8in', '--cn', '98', '--min-area', '1m2', ...place, '--out', out); // prettier-ignore
    const { storm } = of;
    const sum = storm.standingCubicMeters + storm.leftSiteCubicMeters + storm.soakedCubicMeters;
    expect(sum / storm.rainCubicMeters).toBeCloseTo(1, 12);
    // TR-55 table 2-1: 8 in on 98 sheds 7.76 in.
    expect(storm.runoffMeters / 0.0254).toBeCloseTo(7.76, 2);
    const path = gdal.write('depth.tif', new Uint8Array(readFileSync(join(out, 'depth.tif'))));
    const depth = await gdal.band(path);
    let cubic = 0;
    for (const metres of depth.data) cubic += metres;
    // One-metre cells; the tract's zone is short by 0.9996 twice.
    expect(cubic / 0.9996 ** 2 / storm.standingCubicMeters).toBeCloseTo(1, 4);
    const shapes = JSON.parse(readFileSync(join(out, 'low-spots.geojson'), 'utf8')) as { features: unknown[] }; // prettier-ignore
    expect(shapes.features).toHaveLength(storm.standing.filter((s) => s.maxDepthMeters > 0).length);
  });

  test('a flood fills it to its spill and no deeper', async () => {
    const of = await run(bowl, '--rain', '100in', '--cn', '98', '--min-area', '1m2', ...place);
    expect(of.storm.standingCubicMeters).toBeCloseTo(of.filledVolumeCubicMeters, 6);
    expect(of.storm.standing[0]!.maxDepthMeters).toBeCloseTo(3, 6);
    expect((of.filledVolumeCubicMeters * 0.9996 ** 2) / 27).toBeCloseTo(1, 4);
  });

  test('no rain: nothing stands, and the low spots are the same', async () => {
    const of = await run(bowl, '--rain', '0', '--min-area', '1m2', ...place);
    expect(of.storm.standingCubicMeters).toBe(0);
    expect(of.lowSpots[0]!.volumeCubicMeters).toBeCloseTo(of.filledVolumeCubicMeters, 9);
  });

  test.each([
    [['--rain', 'much'], /--rain cannot be "much"/],
    [['--rain', '1000in'], /--rain cannot be/],
    [['--rain', '1in', '--cn', '20'], /--cn cannot be "20"/],
    [['--rain', '1in', '--cn', ''], /--cn cannot be ""/],
    [['--rain', '1in', '--ksat', '-1'], /--ksat/],
    [['--rain', '1in', '--vertical-error', 'small'], /--vertical-error cannot be "small"/],
    [['--rain', '1in', '--min-area', 'big'], /--min-area cannot be "big"/],
    [[], /Say the rain/],
  ])('%j is refused in one line', async (args, says) => {
    await expect(run(bowl, ...args, ...place)).rejects.toThrow(says);
  });

  test('a ground that does not say its vertical unit is refused with the way out', async () => {
    await expect(run(bowl, '--rain', '1in', '--crs', '26918')).rejects.toThrow(/--vertical-unit/);
  });
});

describe('page and command line go by one rule', () => {
  // Two hollows in a slope on cells of 2 m, 0.3 m and 0.9 m deep: the error assumed there is 0.5 m.
  const slope = () => {
    const file = join(folder, 'slope.asc');
    const hollow = (x: number, y: number, at: number, deep: number) =>
      Math.max(0, deep * (1 - Math.hypot(x - at, y - 20) / 6));
    const rows = Array.from({ length: 40 }, (_, y) =>
      Array.from({ length: 80 }, (_, x) =>
        (250 - 0.001 * x - hollow(x, y, 20, 0.3) - hollow(x, y, 60, 0.9)).toFixed(4),
      ).join(' '),
    );
    const head = 'ncols 80\nnrows 40\nxllcorner 500000\nyllcorner 4000000\ncellsize 2\n';
    writeFileSync(file, head + rows.join('\n'));
    return file;
  };
  const error = (text: string | null) => (text === null ? [] : ['--vertical-error', text]);

  test.each([
    [null, null, ['P1'], 'low-spots-error-assumed'],
    ['5cm', 0.05, ['P1', 'P2'], null],
    ['0.6m', 0.6, ['P1'], 'low-spots-within-error'],
  ])('error %s: the same list, storm and days to dry', async (said, meters, ids, code) => {
    const file = slope();
    const of = await run(file, '--rain', '1.7in', ...error(said), ...place);
    const opening = await withFiles([file], (sources) => openOrRefuse(sources, { epsg: 26918, verticalUnit: 'metre' })); // prettier-ignore
    if (opening.kind !== 'opened') throw new Error(opening.kind);
    const { grid, draft } = opening;
    const record = { ...draft, id: '0'.repeat(64), verticalErrorMeters: meters };
    const { site } = answerPlan(
      {
        features: [],
        settings: defaultSettings,
        conditions: defaultConditions,
        rasters: { ground: { grid, record, frame: openFrame(grid.frame) } },
      },
      definitionsFor(['lowSpots', 'storm']),
    );
    const { lowSpots, leftOut, listMinDepthMeters } = site.lowSpots!.value;
    expect(of.lowSpots.map(({ id }) => id)).toEqual(ids);
    expect(of.lowSpots).toMatchObject(lowSpots);
    expect(of.used).toMatchObject({
      minDepthMeters: listMinDepthMeters,
      verticalErrorMeters: meters ?? 0.5,
      verticalErrorIsStated: meters !== null,
      durationHours: 6,
      evaporationMetersPerDay: site.storm!.value.evaporationMetersPerDay,
    });
    expect(of.leftOut).toBe(leftOut.count);
    expect(of.findings.map((one) => one.code)).toEqual(code === null ? [] : [code]);
    expect(site.lowSpots!.findings).toEqual(expect.arrayContaining([...of.findings]));
    for (const [i, pool] of site.storm!.value.pools.entries()) {
      const { maxDepthMeters, hoursToDry } = of.storm.standing[i]!;
      expect(maxDepthMeters).toBeCloseTo(pool.maxDepthMeters, 9);
      expect(hoursToDry).toBeCloseTo(pool.hoursToDry!, 6);
    }
  });
});

describe('of a project', () => {
  test('the plan lies on its ground, and the numbers are those that the page gives', async () => {
    const out = join(folder, 'demo');
    const of = await run('demo', '--out', out);
    expect(of.used).toMatchObject({
      waterOn: 'with-the-plan',
      carries: [{ kind: 'berm' }, { kind: 'culvert' }],
    });
    const plan = await readPlan('demo');
    const ground = await plan.grounds[0]!.open({});
    const { site } = answerPlan(
      { ...plan, settings: { ...plan.settings, waterOn: 'with-the-plan' }, rasters: { ground } },
      definitionsFor(['lowSpots', 'storm', 'flowLines']),
    );
    expect(of.lowSpots).toMatchObject(site.lowSpots!.value.lowSpots);
    for (const [key, value] of Object.entries(of.storm)) {
      if (key === 'standing') continue;
      expect([key, value]).toEqual([key, site.storm!.value[key as 'rainMeters']]);
    }
    // The very lines of the page, in its order.
    const lines = site.flowLines!.value.lines;
    const written = JSON.parse(readFileSync(join(out, 'flow-lines.geojson'), 'utf8')) as {
      features: { geometry: { coordinates: number[][] }; properties: { drainsSquareMeters: number } }[]; // prettier-ignore
    };
    expect(written.features.map(({ geometry }) => geometry.coordinates)).toEqual(lines.map(({ line }) => line)); // prettier-ignore
    expect(written.features.map(({ properties }) => properties.drainsSquareMeters)).toEqual(
      lines.map(({ catchmentSquareMeters }) => catchmentSquareMeters.at(-1)),
    );
    expect(of.flowLines!.lines).toBe(lines.length);
  });

  test('left off, its flow lines are those of the bare ground; an outlet drawn in P1 lets it go', async () => {
    const bare = await run('demo', '--as-surveyed', '--out', join(folder, 'bare'));
    const dem = await run('fixtures/demo/ground.tif', '--rain', '1.7in', '--out', join(folder, 'dem')); // prettier-ignore
    expect(bare.flowLines).toEqual(dem.flowLines);
    expect(bare.filledVolumeCubicMeters).toBe(dem.filledVolumeCubicMeters);
    const mine = join(folder, 'mine');
    mkdirSync(mine);
    copyFileSync('fixtures/demo/ground.tif', join(mine, 'ground.tif'));
    const demo = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as { features: object[]; grounds: { file: string }[] }; // prettier-ignore
    const geometry = { type: 'Point', coordinates: bare.lowSpots[0]!.deepestAt };
    const outlet = { id: 'drain', kind: 'outlet', name: '', geometry, properties: {} };
    const grounds = demo.grounds.filter(({ file }) => file === 'ground.tif');
    const features = [...demo.features, outlet];
    writeFileSync(join(mine, 'plan.json'), JSON.stringify({ ...demo, features, grounds }));
    const letOut = await run(mine);
    expect(bare.lowSpots[0]!.volumeCubicMeters).toBeGreaterThan(500);
    expect(letOut.lowSpots[0]!.volumeCubicMeters).toBeLessThan(50);
    expect((await run(mine, '--as-surveyed')).lowSpots[0]!.volumeCubicMeters).toBe(
      bare.lowSpots[0]!.volumeCubicMeters,
    );
  });

  test.each([
    [['demo', '--cn', '70'], /--cn is for a bare ground/],
    [['demo', '--vertical-error', '2in'], /--vertical-error is for a bare ground/],
    [['demo', '--rain', 'much'], /--rain cannot be "much"/],
    [['demo', '--flow-area', '0'], /--flow-area cannot be "0"/],
    [['demo', '--ground', 'none.tif'], /has no ground "none.tif"/],
    [['none.tif', '--rain', '1in'], /no such file/],
  ])('%j is refused in one line', async (args, says) => {
    await expect(run(...args)).rejects.toThrow(says);
  });
});
