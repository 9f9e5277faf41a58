import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sizes, type Rig } from './browser.ts';
import { settled } from './map-place.ts';
import { openDemo } from './open-demo.ts';
import { faults } from './page-faults.ts';

/** Stop pressed while ways in are looked for: nothing waits on, what is out of date says so; go on. */

let rig: Rig;
let page: Page;
let errors: readonly string[];

beforeAll(async () => {
  ({ rig, page, errors } = await openDemo(sizes.desk));
});
afterAll(() => rig?.stop());

const ways = () => page.getByRole('region', { name: 'Ways in' });
const worksheet = () => page.getByRole('region', { name: 'Worksheet' });
const marked = () => page.locator('[data-left=true]');
const get = (path: string) => page.evaluate(`globalThis.assart.session.getState().${path}`);

test('what is waited for says that it was stopped, and nothing else is marked', async () => {
  await page.getByRole('button', { name: /^Stands/ }).click();
  await page.getByRole('button', { name: 'B1', exact: true }).click();
  // Pressed in the page as soon as it is there: a press from here may come when the work is done.
  const stopped = page.evaluate(
    () =>
      new Promise<void>((done) => {
        const look = new MutationObserver(() => {
          const buttons = document.querySelectorAll<HTMLElement>('.notices button');
          const stop = [...buttons].find(({ textContent }) => textContent === 'Stop');
          if (!stop) return;
          look.disconnect();
          stop.click();
          done();
        });
        look.observe(document.body, { childList: true, subtree: true });
      }),
  );
  await page.getByRole('button', { name: 'Find ways in' }).click();
  await stopped;
  await expect.poll(() => ways().innerText()).toMatch(/Stopped\.\s+Go on/);
  expect(await ways().innerText()).not.toMatch(/…/);
  await page.getByRole('button', { name: 'Where should a stand go?' }).click();
  const siting = page.getByRole('region', { name: 'Where a stand could go' });
  await expect.poll(() => siting.innerText()).toMatch(/Stopped\.\s+Go on/);
  expect(await siting.innerText()).not.toMatch(/…/);
  expect(await marked().count()).toBe(0);
  await siting.getByRole('button', { name: 'Put the places away' }).click();
});

test('a berm is made wider: what hangs on it is marked as it was, its own figures come', async () => {
  const before = await get('site.debris.value.roomCubicMeters');
  const acres = await get('answers.A.plantable.value.plantableSquareMeters');
  await page.getByRole('button', { name: 'Put it down' }).click();
  await page.getByRole('button', { name: /^Debris/ }).click();
  expect(await marked().count()).toBe(0);
  await worksheet().getByRole('button', { name: 'Berm, high edge' }).click();
  await page.getByText('Set what it is').click();
  const width = page.locator('.what').getByLabel(/Base/).first();
  await width.fill('30 ft');
  await width.press('Enter');
  // Acres to plant hang on the line and width alone, and are there at once.
  await expect.poll(() => get('answers.A.plantable.value.plantableSquareMeters')).toBeLessThan(acres as number); // prettier-ignore
  const holds = page.locator('[data-left=true]', { has: page.getByRole('region', { name: 'What it holds' }) }); // prettier-ignore
  await expect.poll(() => holds.innerText()).toMatch(/As it was before/);
  const debris = page.locator('.section[data-open=true] [data-left=true]');
  await expect
    .poll(() => debris.innerText())
    .toMatch(/As it was before[^]*Berms and brush piles hold/);
  expect(await get('site.debris.value.roomCubicMeters')).toBe(before);
  expect(
    await worksheet()
      .getByRole('button', { name: /^Water/ })
      .innerText(),
  ).toMatch(/stopped/);
  await settled(page);
  expect(await faults(page)).toEqual([]);
});

test('gone on from the panel, every answer comes and no mark is left', async () => {
  const before = (await get('site.debris.value.roomCubicMeters')) as number;
  await page.locator('.what').getByRole('button', { name: 'Go on' }).click();
  await expect.poll(() => get('site.debris.value.roomCubicMeters')).toBeGreaterThan(before);
  await expect.poll(() => get('left')).toBeNull();
  await expect.poll(() => page.getByText(/Stopped|As it was before/).count()).toBe(0);
  await settled(page);
  await page.getByRole('button', { name: 'Put it down' }).click();
  await page.getByRole('button', { name: /^Stands/ }).click();
  await page.getByRole('button', { name: 'B1', exact: true }).click();
  await expect.poll(() => ways().innerText(), { timeout: 60_000 }).toMatch(/Best: .* yd, .* min from Gate/); // prettier-ignore
  expect(errors).toEqual([]);
});
