import type { Page } from 'playwright-core';
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import { bermOf, standOf } from '../answers-rig.ts';
import { demoPlace } from '../demo-answers.ts';
import { sizes, startRig, watchErrors, type Rig } from './browser.ts';
import { settled } from './map-place.ts';
import { faults } from './page-faults.ts';

/**
 * A still evening: the demo with a stand above plot A and the berm of trade notes §6.6 round its low
 * edge. What stands behind the berm is said and drawn, and wind takes it away.
 */
let rig: Rig;
let page: Page;
let errors: readonly string[];

const half = 3.6576;
const corners = [
  [-120 - half, 550.76],
  [-120 - half, 566 + half],
  [50 + half, 566 + half],
  [50 + half, 550.76],
] as const;

beforeAll(async () => {
  const plan = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
    features: PlanFeature[];
    conditions: object;
  };
  const berm = { ...bermOf('low', corners.map(([c, d]) => demoPlace(c, d))), name: 'Low berm' }; // prettier-ignore
  const rim = { ...standOf('rim', demoPlace(-35, 482)), name: 'Rim' };
  const shell = { type: 'Feature' };
  const features = [...plan.features.filter(({ kind }) => kind !== 'berm'), { ...shell, ...berm }, { ...shell, ...rim }]; // prettier-ignore
  const conditions = { ...plan.conditions, wind: { fromDegrees: 225, speedMetersPerSecond: 0 }, hourUtc: '2026-11-14T22:20:00Z' }; // prettier-ignore
  rig = await startRig();
  page = await (await rig.context(sizes.desk)).newPage();
  errors = watchErrors(page);
  await page.route('**/plan.json', (route) => route.fulfill({ json: { ...plan, features, conditions } })); // prettier-ignore
  // On the finish grade: before it a hollow holds air there by itself.
  await page.route('**/ground.tif', (route) => route.fulfill({ path: 'fixtures/demo/finish.tif' }));
  await page.goto(rig.url);
  await page.locator('[data-testid=map][data-rasters~=photo]').waitFor({ timeout: 60_000 });
  await settled(page);
});
afterAll(() => rig?.stop());

test('air of a stand that stands behind a berm is said, with what lies in it and what holds it', async () => {
  await page.getByRole('button', { name: /^Stands/ }).click();
  await page.getByRole('button', { name: 'Rim', exact: true }).click();
  const why = page.getByRole('region', { name: 'On this wind' });
  await expect
    .poll(() => why.innerText(), { timeout: 30_000 })
    .toMatch(/[Ee]vening air from here runs down .*Low berm.* yd off, and stands there over Bench plot/); // prettier-ignore
  expect(await why.innerText()).toMatch(/Does not work/);
  expect(await why.innerText()).toMatch(/Low confidence: .*nobody measures where evening air stands/); // prettier-ignore
  await settled(page);
  if (process.env['SHOTS']) await page.screenshot({ path: `${process.env['SHOTS']}/evening.png` });
  expect(await faults(page)).toEqual([]);
});

test('a wind that is no light air takes it away', async () => {
  const why = page.getByRole('region', { name: 'On this wind' });
  const strength = page.getByRole('slider', { name: 'Wind strength' });
  await strength.focus();
  for (let k = 0; k < 10; k++) await page.keyboard.press('ArrowRight');
  await expect.poll(() => why.innerText()).not.toMatch(/vening air/);
  await settled(page);
  if (process.env['SHOTS']) await page.screenshot({ path: `${process.env['SHOTS']}/windy.png` });
  expect(errors).toEqual([]);
});
