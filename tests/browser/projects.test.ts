import { readFile } from 'node:fs/promises';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { canonicalJson } from '../../geo/plan/canonical-json.ts';
import { forHands, sizes, startRig, watchErrors, type Rig } from './browser.ts';
import { mapPlace, settled } from './map-place.ts';

/** Projects in a real browser: copies that open elsewhere the same, tabs, a killed tab. */

let rig: Rig;
let context: BrowserContext;
let page: Page;
let errors: string[];

beforeAll(async () => {
  rig = await startRig('dist', forHands);
  context = await rig.context(sizes.laptop);
  page = await context.newPage();
  errors = watchErrors(page);
  await page.goto(rig.url);
  await rasters(page, 'photo');
});
afterAll(() => rig?.stop());

interface ReadModel {
  readonly projectId: string;
  readonly features: Readonly<Record<string, { readonly name: string }>>;
  readonly settings: { readonly siteName: string; readonly jobNumber: string };
  readonly saved: { readonly state: string };
  readonly problem: unknown;
  readonly answers: Readonly<Record<string, { readonly plotGround?: { readonly value: object } }>>;
}

const model = (of: Page) =>
  of.evaluate(() => {
    const { session } = (
      globalThis as unknown as { assart: { session: { getState(): ReadModel } } }
    ).assart;
    return JSON.parse(JSON.stringify(session.getState())) as ReadModel;
  });

/** The plan itself, as one text. */
async function plan(of: Page): Promise<string> {
  const now = (await model(of)) as unknown as Record<string, unknown>;
  const parts = ['features', 'settings', 'conditions', 'grounds', 'photos'];
  return canonicalJson(Object.fromEntries(parts.map((part) => [part, now[part]])));
}

/** Whether two pages show the same plan; the texts themselves are too long for a report. */
const same = async (a: Page, b: Page) => (await plan(a)) === (await plan(b));

async function rasters(of: Page, kind: string): Promise<void> {
  await of.locator(`[data-testid=map][data-rasters~=${kind}]`).waitFor({ timeout: 60_000 });
  await settled(of);
}

const dialog = (of: Page) => of.getByRole('dialog', { name: 'Projects' });
const openProjects = (of: Page) =>
  of.getByRole('button', { name: 'Projects', exact: true }).click();

async function writeJobNumber(of: Page, text: string): Promise<void> {
  const field = of.getByLabel('Job number');
  await field.fill(text);
  await field.press('Enter');
}

test('what was drawn is saved as a copy, and opens the same in another profile', async () => {
  const place = await mapPlace(page);
  await page.keyboard.press('p');
  for (const [x, y] of [
    [700, 300],
    [820, 300],
    [820, 380],
  ] as const)
    await page.mouse.click(x, y);
  await page.keyboard.press('Enter');
  await expect
    .poll(async () => Object.keys((await model(page)).features).length)
    .toBeGreaterThan(20);
  expect(place.toLngLat(700, 300)[0]).toBeLessThan(0);

  // Written over where it stands, and the copy is called so.
  const name = page.getByLabel('Name of this site');
  await name.fill('Quillstone Bench, east');
  await name.press('Enter');
  await openProjects(page);
  const download = page.waitForEvent('download', { timeout: 60_000 });
  await dialog(page)
    .getByRole('button', { name: /^Save a copy of Quillstone Bench, east/ })
    .click();
  const file = await download;
  expect(file.suggestedFilename()).toMatch(/^quillstone-bench-east-\d{4}-\d\d-\d\d\.zip$/);
  const bytes = await readFile(await file.path());
  await dialog(page)
    .getByText(/last copy/)
    .waitFor();
  await dialog(page).getByRole('button', { name: 'Close' }).click();

  const elsewhere = await rig.context(sizes.laptop);
  const other = await elsewhere.newPage();
  const otherErrors = watchErrors(other);
  await other.goto(rig.url);
  // At once, while the demo of the fresh profile is still being read.
  await other.getByRole('button', { name: 'Projects', exact: true }).waitFor();
  const demoId = (await model(other)).projectId;
  await openProjects(other);
  await other.getByTestId('open-copy').setInputFiles({
    name: 'copy.zip',
    mimeType: 'application/zip',
    buffer: bytes,
  });
  await expect
    .poll(async () => (await model(other)).projectId, { timeout: 60_000 })
    .not.toBe(demoId);
  await expect.poll(() => same(other, page)).toBe(true);
  await rasters(other, 'photo');
  const acres = async (of: Page) =>
    Object.entries((await model(of)).answers).map(([id, { plotGround }]) => [
      id,
      plotGround?.value,
    ]);
  await expect
    .poll(async () => canonicalJson(Object.fromEntries(await acres(other))))
    .toBe(canonicalJson(Object.fromEntries(await acres(page))));
  expect((await model(other)).problem).toBeNull();

  // Deleted and taken back; then the tab comes back to it after a reload.
  await openProjects(other);
  await dialog(other)
    .getByRole('button', { name: /^Delete / })
    .first()
    .click();
  await dialog(other)
    .getByRole('button', { name: /^Undo delete of / })
    .click();
  await expect
    .poll(() =>
      dialog(other)
        .getByRole('button', { name: /^Delete / })
        .count(),
    )
    .toBe(2);
  expect(otherErrors).toEqual([]);
  await elsewhere.close();
});

test('two tabs on one project are equal, two on different ones do not mix', async () => {
  const second = await context.newPage();
  await second.goto(rig.url);
  await expect.poll(() => same(second, page), { timeout: 30_000 }).toBe(true);
  await writeJobNumber(second, 'from the second');
  await expect.poll(async () => (await model(page)).settings.jobNumber).toBe('from the second');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => same(second, page)).toBe(true);

  await openProjects(second);
  await dialog(second).getByRole('button', { name: 'New project' }).click();
  await dialog(second).waitFor({ state: 'detached' });
  await writeJobNumber(second, 'of the new one');
  await page.bringToFront();
  await writeJobNumber(page, 'of the demo');
  const [here, there] = [await model(page), await model(second)];
  expect([here.settings.jobNumber, Object.keys(here.features).length > 10]).toEqual([
    'of the demo',
    true,
  ]);
  expect([there.settings.jobNumber, Object.keys(there.features)]).toEqual(['of the new one', []]);
  await second.close();
});

test('a tab killed in the middle of 100 edits loses none older than a second', async () => {
  const killed = await context.newPage();
  await killed.goto(rig.url);
  await killed.getByLabel('Job number').waitFor();
  const written: { number: number; at: number }[] = [];
  await killed.exposeFunction('noted', (number: number) => {
    written.push({ number, at: performance.now() });
  });
  void killed
    .evaluate(async () => {
      const field = document.querySelector<HTMLInputElement>('.title-block input[id]')!;
      const inputs = [...document.querySelectorAll<HTMLInputElement>('.title-block input')];
      const job = inputs[1] ?? field;
      const { noted } = globalThis as unknown as { noted(number: number): void };
      // As React hears typing: the element's own setter, then the event.
      const { set } = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!;
      for (let i = 1; i <= 100; i++) {
        set!.call(job, `edit ${i}`);
        job.dispatchEvent(new Event('input', { bubbles: true }));
        await new Promise((done) => setTimeout(done, 5));
        job.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true }));
        noted(i);
        await new Promise((done) => setTimeout(done, 15));
      }
    })
    .catch(() => {});
  await expect.poll(() => written.length, { timeout: 20_000, interval: 5 }).toBeGreaterThan(50);
  const session = await context.newCDPSession(killed);
  const gone = performance.now();
  await Promise.race([session.send('Page.crash'), killed.waitForEvent('crash')]).catch(() => {});
  const lastWritten = written.at(-1)!.number;
  expect(lastWritten).toBeLessThan(100);

  const again = await context.newPage();
  await again.goto(rig.url);
  await expect
    .poll(async () => (await model(again)).settings.jobNumber, { timeout: 30_000 })
    .toMatch(/^edit /);
  const kept = Number(/\d+/.exec((await model(again)).settings.jobNumber)![0]);
  const lost = written.filter(({ number }) => number > kept);
  expect(kept).toBeLessThan(100);
  expect(Math.max(0, ...lost.map(({ at }) => gone - at))).toBeLessThan(1000);
  await again.close();
});

test('where nothing can be kept it says so in words, and the demo is there all the same', async () => {
  const hidden = await rig.context(sizes.laptop);
  const without = await hidden.newPage();
  await without.addInitScript(() => {
    Object.defineProperty(globalThis, 'indexedDB', { get: () => undefined });
  });
  await without.goto(rig.url);
  await without.getByText('This browser window does not let Assart save anything').waitFor();
  await expect
    .poll(async () => Object.keys((await model(without)).features).length)
    .toBeGreaterThan(10);
  await openProjects(without);
  await dialog(without).getByRole('alert').waitFor();
  await hidden.close();
  expect(errors).toEqual([]);
});
