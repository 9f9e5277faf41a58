import { expect, test } from 'vitest';
import { createDesk } from '../../app/workers/desk.ts';
import type { Definition } from '../../geo/answers/definition.ts';
import { AnswerGraph } from '../../geo/answers/graph.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
import { parseFeature } from '../../geo/plan/feature.ts';
import type { Progress } from '../../geo/work.ts';

/** Long work that notes every step it takes. */
function setUp(steps: number, onThirdSlice: () => void = () => {}) {
  const log: string[] = [];
  const hold = (milliseconds: number) => {
    const until = performance.now() + milliseconds;
    while (performance.now() < until);
  };
  const definitions: Definition[] = [
    {
      name: 'slow',
      per: 'site',
      reads: ['setting:listMinDepthMeters'],
      *compute(inputs): Generator<Progress, string, void> {
        log.push(`slow begins with ${inputs.settings.listMinDepthMeters}`);
        for (let i = 0; i < steps; i++) {
          hold(5);
          yield { share: i / steps, doing: 'slow' };
        }
        return 'slow ended';
      },
    },
    {
      name: 'quick',
      per: 'note',
      reads: [],
      compute: (_inputs, feature) => ({ done: `quick ${feature.name}` }),
    },
  ];
  const graph = new AnswerGraph(definitions);
  const shares: number[] = [];
  const keys: string[] = [];
  const left: (readonly string[] | null)[] = [];
  const desk = createDesk(graph, {
    settled: (s) => log.push(String(s.value)),
    // The messages of a page arrive between slices: the third one stands for them here.
    working: (share, _doing, key) => {
      keys.push(key);
      if (shares.push(share) === 3) onThirdSlice();
    },
    failed: (job, error) => log.push(`${job.name} failed: ${String(error)}`),
    left: (keys) => left.push(keys),
  });
  return { graph, desk, log, shares, keys, left };
}

function note(name: string) {
  const parsed = parseFeature({
    id: 'n',
    kind: 'note',
    name,
    geometry: { type: 'Point', coordinates: [-75, 36] },
  });
  if (!parsed.ok) throw new Error(parsed.problem.what);
  return parsed.value;
}

test('slow work lets an edit and a tile in between its slices, and begins only once', async () => {
  const { graph, desk, log, shares, keys } = setUp(40, () => {
    graph.putFeatures({ n: note('moved') });
    desk.addTile({ dropped: () => false, run: () => void log.push('tile') });
    desk.addTile({ dropped: () => true, run: () => void log.push('dropped tile') });
  });
  desk.wake();
  await desk.idle();
  expect(log).toEqual(['slow begins with 0.0508', 'quick moved', 'tile', 'slow ended']);
  expect(shares.at(-1)).toBe(1);
  expect(new Set(keys)).toEqual(new Set(['slow', '']));
  expect(shares.length).toBeGreaterThan(3);
});

test('work that a change made stale is dropped and begun anew', async () => {
  const { graph, desk, log } = setUp(20, () =>
    graph.setSettings({ ...defaultSettings, listMinDepthMeters: 0.2 }),
  );
  desk.wake();
  await desk.idle();
  expect(log).toEqual(['slow begins with 0.0508', 'slow begins with 0.2', 'slow ended']);
});

test('a stopped desk still answers for what is drawn, and goes on where it was', async () => {
  const { graph, desk, log, left } = setUp(20, () => {
    desk.stop();
    graph.putFeatures({ n: note('drawn') });
  });
  desk.wake();
  await desk.idle();
  expect(log).toEqual(['slow begins with 0.0508', 'quick drawn']);
  expect(left).toEqual([['slow']]);
  desk.goOn();
  await desk.idle();
  expect(log).toEqual(['slow begins with 0.0508', 'quick drawn', 'slow ended']);
  expect(left).toEqual([['slow'], null]);
});

test('a stopped desk says anew what it leaves when an edit or an undo changes that', async () => {
  const { graph, desk, log, left } = setUp(1);
  desk.wake();
  await desk.idle();
  desk.stop();
  expect(left).toEqual([[]]);
  graph.setSettings({ ...defaultSettings, listMinDepthMeters: 0.2 });
  desk.wake();
  await desk.idle();
  expect(left).toEqual([[], ['slow']]);
  graph.setSettings(defaultSettings);
  desk.wake();
  await desk.idle();
  expect(left).toEqual([[], ['slow'], []]);
  // What is still the last answer given is not given again.
  expect(log).toEqual(['slow begins with 0.0508', 'slow ended']);
});

test('a stopped desk gives up a long answer of a feature as well, and what waits behind it goes on', async () => {
  const log: string[] = [];
  const endless: Definition = {
    name: 'endless',
    per: 'note',
    reads: [],
    *compute(): Generator<Progress, string, void> {
      for (let step = 0; !stopping; step++) {
        const until = performance.now() + 4;
        while (performance.now() < until);
        yield { share: 0.5, doing: 'endless' };
        if (step === 20) {
          desk.stop();
          graph.putFeatures({ other: { ...note('other'), id: 'other', locked: true } });
        }
      }
      return 'ended';
    },
  };
  const short: Definition = {
    name: 'short',
    per: 'note',
    reads: ['answer:base'],
    compute: (_inputs, { id }) => ({ done: `short of ${id}` }),
  };
  // Ahead of all features, and stale: it bars only those who read it.
  const base: Definition = { name: 'base', per: 'site', reads: ['setting:listMinDepthMeters'], first: true, compute: () => ({ done: 'base' }) }; // prettier-ignore
  const graph = new AnswerGraph([base, short, endless]);
  let stopping = false;
  let left: readonly string[] | null = null;
  const desk = createDesk(graph, {
    settled: ({ value }) => log.push(String(value)),
    working: () => {},
    failed: (job, error) => log.push(`${job.name}: ${String(error)}`),
    left: (keys) => {
      left = keys;
    },
  });
  graph.putFeatures({ n: note('n') });
  desk.wake();
  await desk.idle();
  expect(left).toEqual(['endless/n', 'endless/other']);
  expect(log).toEqual(['base', 'short of n', 'short of other']);
  graph.setSettings({ ...defaultSettings, listMinDepthMeters: 0.2 });
  desk.wake();
  await desk.idle();
  expect(left).toEqual(['base', 'short/n', 'short/other', 'endless/n', 'endless/other']);
  stopping = true;
  desk.goOn();
  await desk.idle();
  expect(left).toBeNull();
  expect(log.slice(3).sort()).toEqual(['base', 'ended', 'ended', 'short of n', 'short of other']);
});

test('a kernel that throws is said and does not stop the desk', async () => {
  const { graph, desk, log } = setUp(1);
  const broken = new AnswerGraph([
    {
      name: 'broken',
      per: 'site',
      reads: [],
      compute: () => {
        throw new RangeError('grid of 0 cells');
      },
    },
  ]);
  const failures: string[] = [];
  const other = createDesk(broken, {
    settled: (s) => failures.push(`settled ${String(s.value)}`),
    working: () => {},
    left: () => {},
    failed: (job, error) => failures.push(`${job.name}: ${String(error)}`),
  });
  other.wake();
  await other.idle();
  expect(failures).toEqual(['broken: RangeError: grid of 0 cells', 'settled null']);
  graph.putFeatures({ n: note('a') });
  desk.wake();
  await desk.idle();
  expect(log).toContain('quick a');
});
