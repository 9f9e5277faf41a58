import { readdirSync, readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { startRig } from '../browser/browser.ts';
import { mapPlace } from '../browser/map-place.ts';
import type { BenchRow } from './bench-row.ts';

/**
 * Page load of the built page with the demo, each in a fresh browser profile, median of five: first
 * contentful paint; time until the demo's plan is drawn and its answers are in the store, against
 * the time until the bare map (no plan, no ground) is idle; and the scripts that a first load takes.
 */
export async function run(): Promise<BenchRow[]> {
  const paints: number[] = [];
  const demos: number[] = [];
  const bare: number[] = [];
  for (let i = 0; i < 5; i++) {
    const rig = await startRig('dist', []);
    try {
      const page = await (await rig.context()).newPage();
      await page.goto(rig.url);
      demos.push(await demoAnswered(page));
      paints.push(await firstContentfulPaint(page));
      const empty = await (await rig.context()).newPage();
      // Without its plan the demo does not start, and the page comes up with a bare map.
      await empty.route('**/plan.json', (route) => route.abort());
      await empty.goto(rig.url);
      await mapPlace(empty);
      bare.push(await idleTime(empty));
    } finally {
      await rig.stop();
    }
  }
  const size = firstLoadKilobytes();
  return [
    row(
      'first contentful paint with the demo, median of 5, ms',
      median(paints),
      null,
      'under 1000 ms',
    ),
    row(
      'demo drawn and answered against the bare map idle, medians of 5',
      median(demos),
      median(bare),
      'ratio at most 1.5',
    ),
    row('first-load scripts, gzip, kB (map worker not counted)', size, null, 'under 600 kB'),
  ];
}

function row(name: string, ours: number, reference: number | null, bar: string): BenchRow {
  return {
    name,
    ours,
    reference,
    referenceName: reference === null ? 'none' : 'bare map',
    ratio: reference === null ? null : ours / reference,
    bar,
  };
}

function firstContentfulPaint(page: Page): Promise<number> {
  return page.evaluate(
    () => performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
  );
}

/** Milliseconds from navigation until the plots' answers stand in the store and the map is idle. */
async function demoAnswered(page: Page): Promise<number> {
  await page.waitForFunction(
    () => {
      const { session } = (globalThis as unknown as { assart?: { session: { getState(): never } } })
        .assart ?? { session: null };
      const state = session?.getState() as
        | { answers: Record<string, { plotLowSpots?: unknown }>; site: { lowSpots?: unknown } }
        | undefined;
      if (!state?.site.lowSpots) return false;
      const answered = Object.values(state.answers).filter((a) => a.plotLowSpots).length >= 3;
      const host = document.querySelector<HTMLElement>('[data-testid=map]');
      return answered && host?.dataset['idle'] === 'yes';
    },
    undefined,
    { timeout: 120_000, polling: 'raf' },
  );
  return page.evaluate(() => performance.now());
}

async function idleTime(page: Page): Promise<number> {
  await page.waitForFunction(
    () => document.querySelector<HTMLElement>('[data-testid=map]')?.dataset['idle'] === 'yes',
    undefined,
    { timeout: 120_000, polling: 'raf' },
  );
  return page.evaluate(() => performance.now());
}

/** What the built page itself names, and the map's chunk that it loads at once. */
function firstLoadKilobytes(): number {
  const names = readdirSync('dist/assets').filter((name) =>
    /^(index|map-controller|ground-worker|rolldown).*\.js$/.test(name),
  );
  const bytes = names.reduce(
    (sum, name) => sum + gzipSync(readFileSync(`dist/assets/${name}`)).byteLength,
    0,
  );
  return bytes / 1000;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}
