import type { Page } from 'playwright-core';
import { finish } from '../../geo/work.ts';
import { writeGeoTiff } from '../../geo/formats/geotiff/write-geotiff.ts';
import { startRig } from '../browser/browser.ts';
import { mapPlace, settled } from '../browser/map-place.ts';
import { benchGround } from './bench-ground.ts';
import type { BenchRow } from './bench-row.ts';

/**
 * A corner of a 3-acre plot dragged over a site of 16 M cells: from the input event to all live
 * answers of that plot in the store, painting left out; and the longest that a script of ours held
 * the main thread meanwhile (long animation frames, script time only).
 */
export async function run(): Promise<BenchRow[]> {
  const rig = await startRig('dist', []);
  try {
    const page = await (await rig.context()).newPage();
    await page.goto(rig.url);
    await page.locator('[data-testid=map][data-rasters~=photo]').waitFor({ timeout: 120_000 });
    const grid = benchGround(4000);
    await page.getByTestId('open-elevation').setInputFiles({
      name: 'large.tif',
      mimeType: 'image/tiff',
      buffer: Buffer.from(finish(writeGeoTiff(grid, { vertical: 'NAVD88' }))),
    });
    await waitFor(page, 'site.lowSpots.value.totalCount > 100');
    const plot = await drawPlot(page);
    const { answers, longest } = await drag(page, plot);
    const p95 = answers.toSorted((a, b) => a - b)[Math.floor(0.95 * answers.length)]!;
    return [
      figure(
        `corner of a 3-acre plot dragged over 16 M cells: input to answers, 95th percentile of ${answers.length}, ms`,
        p95,
        'at most 50 ms',
      ),
      figure('longest script on the main thread while dragging, ms', longest, 'at most 50 ms'),
    ];
  } finally {
    await rig.stop();
  }
}

function figure(name: string, ours: number, bar: string): BenchRow {
  return { name, ours, reference: null, referenceName: 'none', ratio: null, bar };
}

function waitFor(page: Page, condition: string): Promise<unknown> {
  return page.waitForFunction(
    `(() => { try { const { site, answers, selectedId } = assart.session.getState(); return ${condition}; } catch { return false; } })()`,
    undefined,
    { timeout: 180_000 },
  );
}

/** A square of 110 m in the middle of the map, brought near first. */
async function drawPlot(page: Page): Promise<{ x: number; y: number }> {
  await settled(page);
  await page.mouse.move(760, 380);
  let half = 0;
  for (let turns = 0; half < 130 && turns < 40; turns++) {
    await page.mouse.wheel(0, -120);
    await page.waitForTimeout(600);
    await settled(page);
    const place = await mapPlace(page);
    const [lng, lat] = place.toLngLat(760, 380);
    const metersPerDegree = 111_320 * Math.cos((lat * Math.PI) / 180);
    half = place.toPixel(lng + 55 / metersPerDegree, lat).x - 760;
  }
  const corners = [
    [760 - half, 380 - half],
    [760 + half, 380 - half],
    [760 + half, 380 + half],
    [760 - half, 380 + half],
  ] as const;
  await page.getByRole('button', { name: 'Draw', exact: true }).click();
  await page.getByRole('menuitem', { name: /plot/i }).click();
  for (const [x, y] of corners) {
    await page.mouse.move(x, y);
    await page.mouse.click(x, y);
  }
  await page.getByRole('button', { name: 'Finish' }).click();
  await waitFor(page, 'selectedId && answers[selectedId]?.plotLowSpots');
  await page.getByRole('button', { name: 'Edit shape' }).click();
  await settled(page);
  return { x: corners[0][0], y: corners[0][1] };
}

async function drag(page: Page, corner: { x: number; y: number }) {
  await page.evaluate(() => {
    const log = { input: 0, waiting: false, times: [] as number[], longest: 0 };
    Object.assign(globalThis, { dragLog: log });
    addEventListener(
      'pointermove',
      () => {
        log.input = performance.now();
        log.waiting = true;
      },
      { capture: true },
    );
    type State = {
      draft: { id: string } | null;
      answers: Record<string, { plotGround?: unknown; plotLowSpots?: unknown }>;
    };
    const { session } = (
      globalThis as unknown as {
        assart: { session: { subscribe(f: (now: State, was: State) => void): void } };
      }
    ).assart;
    let pending = { plotGround: false, plotLowSpots: false };
    session.subscribe((now, was) => {
      if (now.draft !== was.draft) pending = { plotGround: true, plotLowSpots: true };
      const id = now.draft?.id;
      if (!id || !log.waiting) return;
      for (const name of ['plotGround', 'plotLowSpots'] as const) {
        if (now.answers[id]?.[name] !== was.answers[id]?.[name]) pending[name] = false;
      }
      if (pending.plotGround || pending.plotLowSpots || now.draft !== was.draft) return;
      log.times.push(performance.now() - log.input);
      log.waiting = false;
    });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) {
        const { scripts } = entry as unknown as { scripts: { duration: number }[] };
        for (const script of scripts) log.longest = Math.max(log.longest, script.duration);
      }
    }).observe({ type: 'long-animation-frame' });
  });
  await page.mouse.move(corner.x, corner.y);
  await page.mouse.down();
  for (let i = 1; i <= 120; i++) {
    // Slower than an answer takes, so that each input has its own.
    await page.mouse.move(corner.x - (i % 40), corner.y - (i % 30));
    await page.waitForTimeout(150);
  }
  await page.mouse.up();
  const log = await page.evaluate(
    () => (globalThis as unknown as { dragLog: { times: number[]; longest: number } }).dragLog,
  );
  return { answers: log.times, longest: log.longest };
}
