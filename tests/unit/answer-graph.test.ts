import { expect, test } from 'vitest';
import type { Definition } from '../../geo/answers/definition.ts';
import { AnswerGraph, type Settled } from '../../geo/answers/graph.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
import { finish, type Progress } from '../../geo/work.ts';

function stand(id: string, lng: number): PlanFeature {
  return {
    id,
    kind: 'stand',
    name: id,
    geometry: { type: 'Point', coordinates: [lng, 36] },
    properties: { facingDegrees: null, seatHeightMeters: 3, seat: 'ladder-stand', weapon: null },
    locked: false,
    hidden: false,
  };
}

/** Three small answers that note when they run: a site product, a site answer on it, one a stand. */
function setUp() {
  const runs: string[] = [];
  const definitions: Definition[] = [
    {
      name: 'threshold',
      per: 'site',
      reads: ['setting:listMinDepthMeters'],
      shown: false,
      compute: ({ settings }) => {
        runs.push('threshold');
        return { done: settings.listMinDepthMeters * 2 };
      },
    },
    {
      name: 'count',
      per: 'site',
      reads: ['answer:threshold', 'features:stand'],
      *compute(inputs): Generator<Progress, string, void> {
        runs.push('count');
        yield { share: 0.5, doing: 'counting' };
        return `${inputs.features('stand').length} over ${String(inputs.answer('threshold'))}`;
      },
    },
    {
      name: 'place',
      per: 'stand',
      reads: ['condition:wind'],
      compute: (_inputs, feature) => {
        runs.push(`place ${feature.id}`);
        return { done: feature.geometry.coordinates[0] };
      },
    },
  ];
  const graph = new AnswerGraph(definitions);
  const settled: Settled[] = [];
  const settle = (s: Settled) => settled.push(s);
  const runAll = () => {
    runs.length = 0;
    settled.length = 0;
    for (let job = graph.next(settle); job; job = graph.next(settle)) {
      const work = job.begin();
      let step = work.next();
      while (!step.done) step = work.next();
      graph.done(job, step.value, settle);
    }
    return runs.slice();
  };
  return { graph, runAll, settled, settle };
}

test('a change recomputes only what reads it, what was touched last first', () => {
  const { graph, runAll, settled } = setUp();
  graph.putFeatures({ a: stand('a', 1), b: stand('b', 2) });
  graph.putFeatures({ c: stand('c', 3) });
  expect(runAll()).toEqual(['place c', 'place a', 'place b', 'threshold', 'count']);
  expect(settled.find((s) => s.name === 'count')?.value).toBe('3 over 0.1016');
  expect(runAll()).toEqual([]);

  graph.putFeatures({ b: stand('b', 2.5) });
  expect(runAll()).toEqual(['place b', 'count']);

  graph.setSettings({ ...defaultSettings, listMinDepthMeters: 1 });
  expect(runAll()).toEqual(['threshold', 'count']);

  graph.setSettings({ ...defaultSettings, listMinDepthMeters: 1, siteName: 'another name' });
  expect(runAll()).toEqual([]);
});

test('an unhurried answer waits with those of the site, until its own feature was touched last', () => {
  const runs: string[] = [];
  const note = (name: string) => (_: unknown, feature?: PlanFeature) => {
    runs.push(feature ? `${name} ${feature.id}` : name);
    return { done: name };
  };
  const graph = new AnswerGraph([
    { name: 'pond', per: 'site', reads: ['features:stand'], compute: note('pond') },
    {
      name: 'sight',
      per: 'stand',
      unhurried: true,
      reads: ['features:stand'],
      compute: note('sight'),
    },
    { name: 'place', per: 'stand', reads: [], compute: note('place') },
  ]);
  const runAll = () => {
    runs.length = 0;
    for (let job = graph.next(() => {}); job; job = graph.next(() => {})) {
      graph.done(job, finish(job.begin()), () => {});
    }
    return runs;
  };
  graph.putFeatures({ a: stand('a', 1) });
  graph.putFeatures({ b: stand('b', 2) });
  expect(runAll()).toEqual(['sight b', 'place b', 'place a', 'pond', 'sight a']);
  graph.putFeatures({ a: stand('a', 1.5) });
  expect(runAll()).toEqual(['sight a', 'place a', 'pond', 'sight b']);
});

test('an input that comes back finds its result without work', () => {
  const { graph, runAll, settled } = setUp();
  graph.putFeatures({ a: stand('a', 1) });
  runAll();
  graph.putFeatures({ a: stand('a', 9) });
  runAll();
  graph.putFeatures({ a: stand('a', 1) });
  expect(runAll()).toEqual([]);
  expect(settled.map((s) => [s.name, s.value])).toContainEqual(['place', 1]);
});

test('an equal feature from another thread is no change', () => {
  const { graph, runAll } = setUp();
  graph.setFeatures([stand('a', 1), stand('b', 2)]);
  runAll();
  graph.setFeatures([stand('a', 1), stand('b', 2)]);
  expect(runAll()).toEqual([]);
});

test('a removed feature takes its answers along', () => {
  const { graph, runAll, settle } = setUp();
  graph.putFeatures({ a: stand('a', 1) });
  runAll();
  expect(graph.putFeatures({ a: null })).toEqual([
    { name: 'place', featureId: 'a', shown: true, value: null },
  ]);
  expect(runAll()).toEqual(['count']);
  expect(graph.next(settle)).toBeNull();
});

test('a result that a change overtook is not settled', () => {
  const { graph, settled, settle } = setUp();
  graph.putFeatures({ a: stand('a', 1) });
  const job = graph.next(settle)!;
  expect(job.name).toBe('place');
  graph.putFeatures({ a: stand('a', 5) });
  expect(graph.isCurrent(job)).toBe(false);
  graph.done(job, 1, settle);
  expect(settled).toEqual([]);
});

test('a definition may read only answers that stand before it', () => {
  const late: Definition = {
    name: 'late',
    per: 'site',
    reads: ['answer:later'],
    compute: () => ({ done: 0 }),
  };
  expect(() => new AnswerGraph([late])).toThrow(RangeError);
});

test('one answer for several kinds is given per feature, and goes with it', () => {
  const runs: string[] = [];
  const graph = new AnswerGraph([
    {
      name: 'measure',
      per: ['stand', 'lane'],
      reads: [],
      compute: (_inputs, feature) => {
        runs.push(`${feature.kind} ${feature.id}`);
        return { done: feature.kind };
      },
    },
  ]);
  const settled: Settled[] = [];
  const runAll = () => {
    for (let job = graph.next((s) => settled.push(s)); job; job = graph.next(() => {})) {
      graph.done(job, job.begin().next().value, (s) => settled.push(s));
    }
  };
  const lane = { ...stand('b', 2), kind: 'lane', properties: { toStand: null } } as PlanFeature;
  const note = { ...stand('c', 3), kind: 'note' } as PlanFeature;
  graph.putFeatures({ a: stand('a', 1), b: lane, c: note });
  runAll();
  expect(runs.sort()).toEqual(['lane b', 'stand a']);
  // A kind that becomes another of the list is answered anew; one that leaves it has no answer.
  graph.putFeatures({ a: { ...lane, id: 'a' } });
  runAll();
  expect(settled.at(-1)).toMatchObject({ featureId: 'a', value: 'lane' });
  expect(graph.putFeatures({ a: { ...note, id: 'a' } })).toEqual([
    { name: 'measure', featureId: 'a', shown: true, value: null },
  ]);
});

test('a result that is seen as the same makes nothing stale', () => {
  const runs: string[] = [];
  const graph = new AnswerGraph([
    {
      name: 'gate',
      per: 'site',
      shown: false,
      reads: ['features:stand', 'setting:waterOn'],
      compute: ({ features, settings }) => {
        runs.push('gate');
        return { done: settings.waterOn === 'as-surveyed' ? 0 : features('stand').length };
      },
      seenAs: String,
    },
    {
      name: 'slow',
      per: 'site',
      reads: ['answer:gate'],
      compute: (inputs) => {
        runs.push('slow');
        return { done: inputs.answer('gate') };
      },
    },
  ]);
  const settled: Settled[] = [];
  const runAll = () => {
    for (let job = graph.next(() => {}); job; job = graph.next(() => {})) {
      graph.done(job, job.begin().next().value, (s) => settled.push(s));
    }
  };
  graph.putFeatures({ a: stand('a', 1) });
  runAll();
  expect(runs.splice(0)).toEqual(['gate', 'slow']);
  graph.putFeatures({ b: stand('b', 2) });
  runAll();
  expect(runs.splice(0)).toEqual(['gate']);
  graph.setSettings({ ...defaultSettings, waterOn: 'with-the-plan' });
  runAll();
  expect(runs.splice(0)).toEqual(['gate', 'slow']);
  expect(settled.at(-1)).toMatchObject({ name: 'slow', value: 2 });
});

test('what is to come first goes before what was touched last, and the rest waits for it', () => {
  const runs: string[] = [];
  const noted = (name: string, more: object): Definition =>
    ({ name, reads: ['features:stand'], compute: () => ({ done: runs.push(name) }), ...more }) as unknown as Definition; // prettier-ignore
  const graph = new AnswerGraph([
    noted('slow', { per: 'stand' }),
    noted('share', { per: 'site', first: true }),
    noted('own', { per: 'stand', reads: ['answer:share'] }),
    noted('site', { per: 'site' }),
  ]);
  graph.putFeatures({ a: stand('a', 1) });
  for (let job = graph.next(() => {}); job; job = graph.next(() => {})) {
    const work = job.begin();
    graph.done(job, work.next().value, () => {});
  }
  expect(runs).toEqual(['share', 'slow', 'own', 'site']);
});
