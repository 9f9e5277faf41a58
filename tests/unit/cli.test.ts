import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openGdal } from '../gdal.ts';

// The real command in a process of its own: exit codes, one line on stderr, JSON on stdout.

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'assart-cli-'));
  const rows = Array.from({ length: 40 }, (_, r) =>
    Array.from({ length: 50 }, (_, c) => (100 + 0.5 * c + 0.25 * r).toFixed(2)).join(' '),
  );
  const head = 'ncols 50\nnrows 40\nxllcorner 500000\nyllcorner 4000000\ncellsize 2\n';
  await writeFile(join(folder, 'slope.asc'), `${head}${rows.join('\n')}\n`);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** As package.json runs it, without npm in between: one test goes through npm, the others save it. */
const assart = (...args: readonly string[]) =>
  run(process.execPath, ['--import', 'tsx', 'app/cli/main.ts', ...args]);

function run(program: string, args: readonly string[]): Promise<Ran> {
  return new Promise((done) => {
    execFile(program, args, (error, out, err) => {
      done({ code: error ? Number(error.code) : 0, out, err });
    });
  });
}

const METRES = ['--crs', '26915', '--vertical-unit', 'metre'] as const;
const at = (name: string) => join(folder, name);

test('inspect prints what a grid holds, in SI', async () => {
  const asked = ['inspect', at('slope.asc'), ...METRES];
  const { code, out, err } = await run('npm', ['run', '-s', 'assart', '--', ...asked]);
  expect([code, err]).toEqual([0, '']);
  expect(JSON.parse(out)).toMatchObject({
    kind: 'ground',
    columns: 50,
    rows: 40,
    cells: 2000,
    cellsWithData: 2000,
    cellWidthMeters: 2,
    lowestMeters: 100,
    highestMeters: 134.25,
    frame: { epsg: 26915 },
    boundsMeters: { west: 500_000, south: 4_000_000, east: 500_100, north: 4_000_080 },
  });
});

test('bad input is exit 1 and one line with the way out; wrong usage is exit 2', async () => {
  const cases: [readonly string[], number, RegExp][] = [
    [['inspect', at('slope.asc')], 1, /coordinate system.*--crs/],
    [['inspect', at('slope.asc'), '--crs', '26915'], 1, /metres or feet.*--vertical-unit/],
    [
      ['inspect', at('slope.asc'), '--vertical-unit', 'feet'],
      1,
      /"feet" is not known.*us-survey-foot/,
    ],
    [['inspect', at('missing.tif')], 1, /no such file/],
    [['inspect'], 2, /--help/],
    [['inspect', at('slope.asc'), '--colour'], 2, /--colour.*--help/],
    [['mow'], 2, /no verb "mow"/],
    [[], 2, /Name a verb/],
    [['convert', at('slope.asc'), at('slope.doc'), ...METRES], 2, /does not end in/],
  ];
  const ran = await Promise.all(cases.map(([args]) => assart(...args)));
  for (const [i, [args, exit, line]] of cases.entries()) {
    const { code, out, err } = ran[i]!;
    expect({ args, code, out }).toEqual({ args, code: exit, out: '' });
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(err).toMatch(line);
  }
});

test('help of each verb, and the version', async () => {
  for (const verb of ['inspect', 'convert', 'answer']) {
    const { code, out } = await assart(verb, '--help');
    expect(code).toBe(0);
    expect(out).toMatch(new RegExp(`^assart ${verb} `));
  }
  const { version } = JSON.parse(await readFile('package.json', 'utf8')) as { version: string };
  expect((await assart('--version')).out.trim()).toBe(version);
});

// Reference: GDAL reads what the command writes.
test('convert goes through all formats and back to the same numbers', async () => {
  const chain = ['slope.tif', 'again.xyz', 'again.csv', 'last.asc'];
  let from = 'slope.asc';
  let options: readonly string[] = METRES;
  for (const to of chain) {
    const beside = /\.(xyz|csv)$/.test(from) ? [at(from.replace(/\.\w+$/, '.prj'))] : [];
    const { code, err } = await assart('convert', at(from), ...beside, at(to), ...options);
    expect([to, code, err]).toEqual([to, 0, '']);
    from = to;
    options = [];
  }
  const numbers = async (name: string) =>
    (await readFile(at(name), 'utf8'))
      .split('\n')
      .slice(6)
      .join(' ')
      .trim()
      .split(/\s+/)
      .map(Number);
  const before = (await readFile(at('slope.asc'), 'utf8'))
    .split('\n')
    .slice(5)
    .join(' ')
    .trim()
    .split(/\s+/);
  expect(await numbers('last.asc')).toEqual(before.map(Number));

  const gdal = await openGdal();
  const tif = gdal.write('slope.tif', await readFile(at('slope.tif')));
  const band = await gdal.band(tif);
  expect([band.width, band.height, band.data[0], band.data[1999]]).toEqual([50, 40, 100, 134.25]);
  const info = (await gdal.info(tif)) as { geoTransform: number[] };
  expect(info.geoTransform).toEqual([500_000, 2, 0, 4_000_080, 0, -2]);
});

test('answer reads a plan folder and gives each feature its answers', async () => {
  const plan = {
    schemaVersion: 1,
    settings: { siteName: 'Invented' },
    conditions: {},
    grounds: [
      {
        file: 'slope.asc',
        name: 'Slope',
        surveyedOn: '2024-03-19',
        clearing: 'unknown',
        verticalErrorMeters: 0.1,
      },
    ],
    features: [
      {
        id: 'stand-1',
        kind: 'stand',
        name: 'Stand',
        geometry: { type: 'Point', coordinates: [-92.9995, 36.1449] },
        properties: {},
      },
    ],
  };
  await writeFile(at('plan.json'), JSON.stringify(plan));
  const { code, out, err } = await assart('answer', folder, ...METRES, '--out', at('made'));
  expect([code, err]).toEqual([0, '']);
  const printed = JSON.parse(out) as { ground: object; features: Record<string, object> };
  expect(printed.ground).toMatchObject({ name: 'Slope', cells: 2000 });
  expect(Object.keys(printed.features)).toContain('stand-1');
  expect(JSON.parse(await readFile(join(at('made'), 'answers.json'), 'utf8'))).toEqual(printed);
  await writeFile(at('plan.json'), '{"schemaVersion": 1');
  expect(await assart('answer', folder)).toMatchObject({ code: 1, out: '' });
});
