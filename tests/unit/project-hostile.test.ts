import { zipSync, type Zippable } from 'fflate';
import { beforeAll, describe, expect, test } from 'vitest';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { isProjectZip, openProjectZip } from '../../geo/formats/project/project-parts.ts';
import { valueOf } from '../geotiff-samples.ts';
import { openZip, projectOf, testProject, unzipped, zipOf } from '../project-rig.ts';
import { seeded } from '../seeded.ts';

/** Project files from strangers: each is refused in one sentence, or costs only its bad part. */

const project = testProject();
let zip: Uint8Array;
let parts: Record<string, Uint8Array>;
beforeAll(async () => {
  zip = await zipOf(project);
  parts = unzipped(zip);
});

const text = (content: string) => new TextEncoder().encode(content);
const json = (value: unknown) => text(JSON.stringify(value));
const settings = () =>
  JSON.parse(new TextDecoder().decode(parts['settings.json'])) as Record<string, unknown> & {
    grounds: { id: string; file: string; place: Record<string, unknown> }[];
  };
const withParts = (changed: Zippable) => zipSync({ ...parts, ...changed });

async function refusal(bytes: Uint8Array): Promise<string> {
  const opened = await openZip(bytes);
  if (opened.ok) throw new Error('it was opened');
  const { what, wayOut, code } = opened.problem;
  for (const sentence of [what, wayOut]) expect(sentence).toMatch(/^[A-Z"0-9p].*\.$/s);
  return code;
}

/** Overwrites a field of a member's entry in the directory. */
function lie(bytes: Uint8Array, path: string, field: number, value: number): Uint8Array {
  const out = bytes.slice();
  const view = new DataView(out.buffer);
  for (let at = out.length - 22; at >= 0; at--) {
    if (view.getUint32(at, true) !== 0x02014b50) continue;
    const name = new TextDecoder().decode(
      out.subarray(at + 46, at + 46 + view.getUint16(at + 28, true)),
    );
    if (name === path) view.setUint32(at + field, value, true);
  }
  return out;
}
const sizeField = 24;

describe('a zip that is no project, or not whole', () => {
  test.each([
    ['nothing', new Uint8Array(0), 'project-damaged'],
    ['text', text('Dear neighbour'), 'project-damaged'],
    ['another zip', zipSync({ 'letter.txt': text('Dear neighbour') }), 'project-none'],
    [
      'a plan alone',
      zipSync({ 'plan.geojson': text('{"type":"FeatureCollection","features":[]}') }),
      'project-none',
    ],
  ])('%s', async (_, bytes, code) => {
    expect(await refusal(bytes)).toBe(code);
  });

  test('cut anywhere', async () => {
    for (const share of [0.1, 0.5, 0.9, 0.999]) {
      expect(await refusal(zip.slice(0, zip.length * share))).toBe('project-damaged');
    }
  });

  test('it is told from other zips and files by its directory', async () => {
    const is = (bytes: Uint8Array) => isProjectZip(memorySource('x', bytes));
    expect(await is(zip)).toBe(true);
    expect(await is(zipSync({ 'roads.shp': text('x') }))).toBe(false);
    expect(await is(text('PK but not a zip'))).toBe(false);
    expect(await is(new Uint8Array(0))).toBe(false);
  });
});

describe('promises', () => {
  test('10 GB, in a field that says "see elsewhere" and in one that does not', async () => {
    expect(await refusal(lie(zip, 'plan.geojson', sizeField, 0xffffffff))).toBe(
      'project-too-large',
    );
    expect(await refusal(lie(zip, 'settings.json', sizeField, 4_000_000_000))).toBe(
      'project-too-large',
    );
  });

  test('more than deflate can pack, and less than there is', async () => {
    expect(await refusal(lie(zip, 'plan.geojson', sizeField, 60_000_000))).toBe(
      'project-too-large',
    );
    expect(await refusal(lie(zip, 'plan.geojson', sizeField, 20))).toBe('project-damaged');
  });

  test('64 MB of blanks packed into 64 kB', async () => {
    const blanks = new Uint8Array(65 * 1024 * 1024).fill(32);
    expect(await refusal(withParts({ 'plan.geojson': [blanks, { level: 9 }] }))).toBe(
      'project-too-large',
    );
  });

  test('a raster record of a billion cells goes, the rest opens', async () => {
    const said = settings();
    Object.assign(said.grounds[0].place, { width: 40_000, height: 40_000 });
    const { plan, problems } = await projectOf(withParts({ 'settings.json': json(said) }));
    expect(problems.map((one) => one.what)).toEqual([
      '"Bench lidar" says it is 40000 × 40000 cells, more than fit.',
    ]);
    expect(plan.grounds).toEqual({});
    expect(Object.keys(plan.features)).toHaveLength(4);
  });
});

describe('names', () => {
  test('paths that lead out are left out and told; nothing is read by them', async () => {
    const said = settings();
    said.grounds[0].file = '../../etc/passwd';
    const bytes = withParts({
      'settings.json': json(said),
      '../../etc/passwd': text('x'),
      '/root/plan.geojson': text('x'),
      'C:\\plan.geojson': text('x'),
    });
    const { notes, problems, plan } = await projectOf(bytes);
    expect(notes[0]).toBe('3 paths in the zip lead out of it: left out.');
    expect(problems.map((one) => one.what)).toEqual(['"Bench lidar" is not in this project file.']);
    expect(Object.keys(plan.features)).toHaveLength(4);
  });

  test('a name that is there twice is refused', async () => {
    const two = zipSync({
      'plan.geojson': parts['plan.geojson'],
      'plan.geojsoN': parts['plan.geojson'],
      'settings.json': parts['settings.json'],
    });
    const same = text(new TextDecoder('latin1').decode(two)).length > 0 ? two.slice() : two;
    for (let i = 0; i < same.length - 12; i++) {
      if (new TextDecoder().decode(same.subarray(i, i + 12)) === 'plan.geojsoN')
        same[i + 11] = 0x6e;
    }
    expect(await refusal(same)).toBe('project-name-twice');
  });

  test('HTML and scripts in names come back as the letters they are', async () => {
    const { plan } = await projectOf(zip);
    expect(plan.features['plot-1']).toMatchObject({ name: 'Plot <b>one</b> & "two"' });
  });

  test('__proto__ as an id, a property and a setting pollutes nothing', async () => {
    const planText = `{"type":"FeatureCollection","features":[{"type":"Feature","id":"__proto__","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"kind":"outlet","name":"o","__proto__":{"polluted":1}}}]}`;
    const settingsText = `{"schemaVersion":1,"settings":{"__proto__":{"polluted":1}},"grounds":[{"id":"__proto__"}]}`;
    const bytes = zipSync({ 'plan.geojson': text(planText), 'settings.json': text(settingsText) });
    const { plan } = valueOf(await openZip(bytes));
    expect(plan.features).toMatchObject({ 'added-1': { kind: 'outlet' } });
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
    expect((plan.settings as { polluted?: number }).polluted).toBeUndefined();
  });
});

describe('what is missing, changed, newer or unknown', () => {
  test('a missing raster costs only itself', async () => {
    const { [settings().grounds[0].file]: _, ...rest } = parts;
    const { problems, rasters, plan } = await projectOf(zipSync(rest));
    expect(problems).toMatchObject([
      { code: 'project-raster-missing', what: '"Bench lidar" is not in this project file.' },
    ]);
    expect(rasters.size).toBe(3);
    expect(Object.keys(plan.grounds)).toHaveLength(1);
  });

  test('another raster under its name is not taken for it, nor a damaged one', async () => {
    const { file } = settings().grounds[0];
    const [photo] = Object.keys(parts).filter((path) => path.startsWith('rasters/photo-'));
    const damaged = parts[file].slice();
    damaged.fill(7, damaged.length / 2);
    for (const bytes of [parts[photo], damaged, damaged.slice(0, 100), new Uint8Array(0)]) {
      const { problems, rasters } = await projectOf(withParts({ [file]: [bytes, { level: 0 }] }));
      expect(problems.map((one) => one.code)).toEqual(['project-raster-missing']);
      expect(rasters.size).toBe(3);
    }
  });

  test('a newer version is refused with both versions named', async () => {
    const opened = await openZip(
      withParts({ 'settings.json': json({ ...settings(), schemaVersion: 2 }) }),
    );
    expect(opened).toMatchObject({
      ok: false,
      problem: {
        code: 'project-newer',
        what: 'The project was saved by a newer Assart (plan version 2; this one reads up to 1).',
      },
    });
    for (const version of ['1', -1, 1.5, {}]) {
      expect(
        await refusal(
          withParts({ 'settings.json': json({ ...settings(), schemaVersion: version }) }),
        ),
      ).toBe('project-none');
    }
  });

  test('unknown kinds, properties and settings are kept, told, and written again', async () => {
    const plan = JSON.parse(new TextDecoder().decode(parts['plan.geojson'])) as {
      features: object[];
    };
    const tower = {
      type: 'Feature',
      id: 'tower-1',
      geometry: { type: 'Point', coordinates: [-75, 36] },
      properties: { kind: 'fire-tower', name: 'T', steps: 90 },
    };
    const broken = {
      type: 'Feature',
      id: 'bow',
      geometry: {
        type: 'Polygon',
        coordinates: [
          [
            [0, 0],
            [1, 1],
          ],
        ],
      },
      properties: { kind: 'plot', name: 'B' },
    };
    plan.features.push(tower, broken);
    const said = {
      ...settings(),
      settings: { ...(settings().settings as object), roofColour: 'red' },
    };
    const opened = await projectOf(
      withParts({ 'plan.geojson': json(plan), 'settings.json': json(said) }),
    );
    expect(opened.notes[0]).toMatch(
      /^3 parts of the plan cannot be used by this version and are kept aside, not shown\./,
    );
    const again = await projectOf(await zipOf(opened));
    expect(again.plan).toEqual(opened.plan);
    expect(again.plan.features['tower-1']).toMatchObject({
      kind: 'fire-tower',
      properties: { steps: 90 },
    });
    expect(again.plan.features['bow']).toMatchObject({ geometry: broken.geometry });
    expect(again.plan.settings).toMatchObject({ roofColour: 'red' });
    expect(again.plan.extras).toEqual(project.plan.extras);
  });

  test('a plan in another coordinate system is refused; one out of range is kept aside', async () => {
    const point = (coordinates: number[]) => ({
      type: 'Feature',
      id: 'a',
      geometry: { type: 'Point', coordinates },
      properties: { kind: 'outlet', name: 'o' },
    });
    const collection = (extra: object) =>
      json({ type: 'FeatureCollection', features: [point([500_000, 4_000_000])], ...extra });
    const crs = { type: 'name', properties: { name: 'urn:ogc:def:crs:EPSG::26918' } };
    expect(await refusal(withParts({ 'plan.geojson': collection({ crs }) }))).toBe(
      'project-plan-crs',
    );
    const { notes } = valueOf(await openZip(withParts({ 'plan.geojson': collection({}) })));
    expect(notes.join()).toMatch(/One part of the plan cannot be used.*longitude within ±180/);
  });

  test('JSON that is none, or nested without end', async () => {
    const bad = ['{', '[]', '{"type":"FeatureCollection"}', 'null', `${'['.repeat(5_000_000)}`];
    for (const content of bad) {
      expect(await refusal(withParts({ 'plan.geojson': text(content) }))).toMatch(/^project-p/);
    }
    expect(await refusal(withParts({ 'settings.json': text('[1') }))).toBe('project-part-damaged');
  });
});

test('long lists of everything take no time to speak of', async () => {
  const nameless = {
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [1, 2] },
    properties: { kind: 'outlet' },
  };
  const rings = Array.from({ length: 30_000 }, () => [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 0],
  ]);
  const many = {
    type: 'Feature',
    id: 'many',
    geometry: { type: 'Polygon', coordinates: rings },
    properties: { kind: 'plot' },
  };
  const features = [many, ...Array.from({ length: 30_000 }, () => nameless)];
  const said = {
    ...settings(),
    turnedRings: { many: Array.from({ length: 30_000 }, (_, i) => i) },
    settings: Object.fromEntries(Array.from({ length: 30_000 }, (_, i) => [`s${i}`, i])),
  };
  const bytes = withParts({
    'plan.geojson': json({ type: 'FeatureCollection', features }),
    'settings.json': json(said),
  });
  // Time of this process alone, so that a busy machine fails nothing.
  const before = process.cpuUsage().user;
  const { plan } = valueOf(await openZip(bytes));
  const tookSeconds = (process.cpuUsage().user - before) / 1e6;
  expect(Object.keys(plan.features)).toHaveLength(30_001);
  expect(tookSeconds).toBeLessThan(5);
  const lists = {
    ...settings(),
    grounds: Array.from({ length: 501 }, () => settings().grounds[0]),
  };
  expect(await refusal(withParts({ 'settings.json': json(lists) }))).toBe('project-too-large');
});

test('1,000 seeded mutations: a refusal or a project, never an exception, never a hang', async () => {
  // Without the rasters, so that the bytes that steer are hit often.
  const small = zipSync({
    'plan.geojson': parts['plan.geojson'],
    'settings.json': parts['settings.json'],
  });
  const random = seeded(20260801);
  for (let run = 0; run < 1000; run++) {
    const bytes = small.slice();
    for (let n = 0; n <= run % 5; n++) bytes[Math.floor(random() * bytes.length)] = random() * 256;
    const started = performance.now();
    const opened = await openProjectZip(memorySource('m.zip', bytes));
    const whole = opened.ok ? await openZip(bytes) : opened;
    if (!whole.ok) expect(whole.problem.wayOut).not.toBe('');
    expect(performance.now() - started).toBeLessThan(5000);
  }
});
