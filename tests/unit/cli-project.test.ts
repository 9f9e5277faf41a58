import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { openGround } from '../../geo/formats/open-ground.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { emptyRawPlan } from '../../geo/plan/raw-plan.ts';
import { sha256, unzipped, zipOf } from '../project-rig.ts';

/**
 * A project on the command line: its zip, or the folder it was unzipped into. Each run is a process
 * of its own that answers the whole demo, and three follow each other: 17 s alone, over a minute
 * where other suites have the cores.
 */
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

let folder: string;
let zip: Uint8Array;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'assart-project-'));
  zip = await demoProject();
  await writeFile(join(folder, 'bench.zip'), zip);
  for (const [path, bytes] of Object.entries(unzipped(zip))) {
    await mkdir(join(folder, 'bench', dirname(path)), { recursive: true });
    await writeFile(join(folder, 'bench', path), bytes);
  }
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** The demo as the page would save it, without its photo. */
async function demoProject(): Promise<Uint8Array> {
  const demo = JSON.parse(await readFile('fixtures/demo/plan.json', 'utf8')) as {
    features: { id: string }[];
    settings: object;
    conditions: object;
    grounds: { file: string; name: string; surveyedOn: string | null }[];
  };
  const { file, name, ...said } = demo.grounds[0];
  const source = memorySource(file, await readFile(`fixtures/demo/${file}`));
  const opening = await openGround([source], said);
  if (opening.kind !== 'opened') throw new Error(opening.kind);
  const data = opening.grid.data as Float32Array<ArrayBuffer>;
  const record = { ...opening.draft, name, id: sha256(data) };
  const plan = {
    ...emptyRawPlan(),
    features: Object.fromEntries(demo.features.map((feature) => [feature.id, feature])),
    settings: { ...demo.settings, groundId: record.id },
    conditions: { ...demo.conditions },
    grounds: { [record.id]: record },
  };
  return zipOf({ plan, rasters: new Map([[record.id, data]]) });
}

const assart = (...args: readonly string[]) =>
  new Promise<{ code: number; out: string; err: string }>((done) => {
    const all = ['--import', 'tsx', 'app/cli/main.ts', ...args];
    execFile(process.execPath, all, { maxBuffer: 1e8 }, (error, out, err) => {
      done({ code: error ? Number(error.code) : 0, out, err });
    });
  });

interface Answered {
  readonly plan: { readonly notes?: readonly string[] };
  readonly site: object;
  readonly features: object;
}

test('answer gives the demo’s own answers from its zip and from its folder', async () => {
  const printed = (await assart('answer', 'demo')).out;
  // Measures stand in the sentences, not the names of inputs.
  expect(printed.match(/\{[A-Za-z]+\}/g)).toBeNull();
  expect(printed).toContain('To about 0.3 m of floor on bare ground');
  const demo = JSON.parse(printed) as Answered;
  for (const path of ['bench.zip', 'bench']) {
    const { code, out, err } = await assart('answer', join(folder, path));
    expect([path, code, err]).toEqual([path, 0, '']);
    const { plan, site, features } = JSON.parse(out) as Answered;
    expect(plan.notes).toBeUndefined();
    expect(features).toEqual(demo.features);
    expect(site).toEqual(demo.site);
  }
});

test('inspect says what is in a project', async () => {
  const [fromZip, fromFolder] = await Promise.all(
    ['bench.zip', 'bench'].map((path) => assart('inspect', join(folder, path))),
  );
  expect(fromZip).toMatchObject({ code: 0, err: '' });
  expect(fromFolder.out).toBe(fromZip.out);
  const facts = JSON.parse(fromZip.out) as { grounds: object[] };
  expect(facts).toMatchObject({
    kind: 'project',
    siteName: 'Quillstone Bench',
    featuresByKind: { plot: 3 },
    photos: [],
    missing: [],
  });
  expect(facts.grounds).toMatchObject([{ columns: 900, rows: 720, inUse: true }]);
});

test('a project that cannot be opened is bad input, in one line with the way out', async () => {
  await writeFile(join(folder, 'cut.zip'), zip.slice(0, 3000));
  const settings = unzipped(zip)['settings.json'];
  const newer = new TextDecoder()
    .decode(settings)
    .replace('"schemaVersion": 1', '"schemaVersion": 9');
  await mkdir(join(folder, 'newer'));
  await writeFile(join(folder, 'newer', 'settings.json'), newer);
  await writeFile(join(folder, 'newer', 'plan.geojson'), unzipped(zip)['plan.geojson']);
  const cases: [string, RegExp][] = [
    ['cut.zip', /no saved project/],
    ['newer', /newer Assart \(plan version 9; this one reads up to 1\)/],
  ];
  for (const [path, line] of cases) {
    const { code, out, err } = await assart('answer', join(folder, path));
    expect([path, code, out]).toEqual([path, 1, '']);
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(err).toMatch(line);
  }
});
