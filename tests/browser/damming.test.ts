import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { demoPlace } from '../demo-answers.ts';
import { sizes, type Rig } from './browser.ts';
import { mapPlace, settled } from './map-place.ts';
import { openDemo } from './open-demo.ts';
import { faults } from './page-faults.ts';

/** A berm with returned ends on the low edge of the demo's bench plot: it dams, gaps let it drain. */

let rig: Rig;
let page: Page;
let errors: readonly string[];

beforeAll(async () => {
  ({ rig, page, errors } = await openDemo(sizes.desk));
});
afterAll(() => rig?.stop());

const does = () => page.getByRole('region', { name: 'What it does to the water' });
/** Acres that it dams; 0 where it says that there is none. */
const acres = async () => {
  const text = await does().innerText();
  if (text.includes('No water worth listing')) return 0;
  return Number(/Dams, brim full:\s*([\d.]+)\s*ac/.exec(text)?.[1] ?? NaN);
};

test('drawn, it dams; with the gaps put in, it drains; taken back, it dams again', async () => {
  await page.keyboard.press('b');
  // What is drawn nearby is not to pull the corners.
  await page.getByRole('button', { name: 'Catch' }).click();
  const place = await mapPlace(page);
  // Trade notes §6.6: 50-ft returns, 24 ft wide, its middle 12 ft off the low edge (d 566).
  for (const [c, d] of [
    [-124, 551],
    [-124, 570],
    [54, 570],
    [54, 551],
  ] as const) {
    // prettier-ignore
    const { x, y } = place.toPixel(...(demoPlace(c, d) as [number, number]));
    await page.mouse.click(x, y);
  }
  await page.keyboard.press('Enter');
  await does().waitFor();
  // On the finish of the notes 0.58 ac; the rough ground has a hollow of its own behind it.
  await expect.poll(acres, { timeout: 20_000 }).toBeGreaterThan(0.5);
  await expect
    .poll(() => does().innerText())
    .toMatch(/comes down to \d\+\d\d and goes round an end/);
  const put = does().getByRole('button', { name: /^Put the gaps? in$/ });
  await put.waitFor();
  await put.scrollIntoViewIfNeeded();
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/damming.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);

  const before = await acres();
  await put.click();
  await expect.poll(acres, { timeout: 20_000 }).toBeLessThan(before / 5);
  await page.keyboard.press('Control+z');
  await expect.poll(acres, { timeout: 20_000 }).toBe(before);
  expect(errors).toEqual([]);
});
