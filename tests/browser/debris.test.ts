import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { neededFor } from '../answers-rig.ts';
import { demoAnswers } from '../demo-answers.ts';
import { sizes, type Rig } from './browser.ts';
import { settled } from './map-place.ts';
import { openDemo } from './open-demo.ts';
import { faults } from './page-faults.ts';

/** From the demo's timber blocks to the three ways, and one of them laid out. */

let rig: Rig;
let page: Page;
let errors: readonly string[];

beforeAll(async () => {
  ({ rig, page, errors } = await openDemo(sizes.desk));
});
afterAll(() => rig?.stop());

const number = (path: string) => page.evaluate(`globalThis.assart.session.getState().${path}`);

type Three = Readonly<Record<'low' | 'likely' | 'high', number>>;
/** The browser's own sines and logarithms may differ from Node's in the last digits. */
function alike(shown: Three, own: Three): void {
  for (const name of ['low', 'likely', 'high'] as const) {
    expect(Math.abs(shown[name] / own[name] - 1)).toBeLessThan(1e-6);
  }
}

test('says what the clearing leaves, as the command line does, and what it takes', async () => {
  const own = await demoAnswers([], {}, 'ground.tif', neededFor('debris', 'clearingWork'));
  await page.getByRole('button', { name: /^Clearing/ }).click();
  const total = page.getByRole('region', { name: 'Debris in all' });
  // Trade notes §6.6: 3,250 yd³ loose.
  await expect.poll(() => total.innerText(), { timeout: 20_000 }).toMatch(/3,250\s*yd³ loose/);
  alike((await number('site.debris.value.looseCubicMeters')) as Three, own.site.debris!.value.looseCubicMeters); // prettier-ignore
  await expect
    .poll(() => number('site.clearingWork?.value.hours'), { timeout: 20_000 })
    .toBeTruthy();
  alike((await number('site.clearingWork.value.hours')) as Three, own.site.clearingWork!.value!.hours); // prettier-ignore
  expect(await page.getByRole('region', { name: 'Machine hours' }).innerText()).toMatch(/stretched to this machine/i); // prettier-ignore
  await total.scrollIntoViewIfNeeded();
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/clearing.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);
});

test('a tally written in the panel changes the debris at once', async () => {
  await page.getByRole('button', { name: 'T2 pole oak-maple', exact: true }).click();
  const before = (await number('site.debris.value.looseCubicMeters.likely')) as number;
  await page.getByText('Set what it is').click();
  const stems = page.getByRole('group', { name: 'Row 1' }).getByLabel('Stems');
  await stems.fill('220');
  await stems.press('Enter');
  await expect.poll(() => number('site.debris.value.looseCubicMeters.likely')).toBeGreaterThan(before * 1.1); // prettier-ignore
  await stems.fill('100000');
  await stems.press('Enter');
  await expect.poll(() => page.locator('.what').innerText()).toMatch(/more trees than can stand/); // prettier-ignore
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Put it down' }).click();
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => number('site.debris.value.looseCubicMeters.likely')).toBe(before);
});

test('the three ways side by side; the windrow laid out changes this fall and next', async () => {
  await page.getByRole('button', { name: /^Debris/ }).click();
  await page.getByRole('button', { name: 'Compare three ways' }).click();
  const dialog = page.getByRole('dialog', { name: 'Three ways to lay the debris' });
  await dialog.getByRole('button', { name: 'Bench plot' }).click();
  await expect.poll(() => dialog.innerText()).toMatch(/2,650 yd³/);
  await page.screenshot({ path: 'fixtures/pictures/three-ways.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);
  await dialog.getByRole('button', { name: 'To plant next fall' }).click();
  expect(await dialog.locator('thead th').first().innerText()).toContain('Center windrow');
  await dialog.getByRole('button', { name: 'Lay it out' }).first().click();
  const panel = page.getByRole('region', { name: 'What it is: Bench plot' });
  await expect.poll(() => panel.innerText(), { timeout: 20_000 }).toMatch(/this fall\s+3\.0\d ac next fall/); // prettier-ignore
  // It took the place of the berm, and asks before anybody burns it.
  await panel.getByRole('button', { name: /Center windrow/ }).click();
  const windrow = page.getByRole('region', { name: 'If it burns' });
  await windrow.waitFor();
  await expect.poll(() => windrow.innerText()).toMatch(/standing trees/);
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/windrow.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByRole('button', { name: 'Berm, high edge' }).waitFor();
  expect(errors).toEqual([]);
});

test('B1 is short of its setback until it is moved; what bars its shots is said and drawn', async () => {
  await page.getByRole('button', { name: /^Stands/ }).click();
  await page.getByRole('button', { name: 'B1', exact: true }).click();
  const shots = page.getByRole('region', { name: 'Which way to shoot' });
  // Trade notes §6.3: 492 ft of 500; moved 4.1 m to the southwest it is 505 ft off.
  await expect.poll(() => shots.innerText(), { timeout: 20_000 }).toMatch(/492 ft of 500 ft: 8 ft short, move SW 240°/); // prettier-ignore
  expect(await shots.innerText()).toMatch(/blocked, A1 in line/);
  const panel = page.locator('.what');
  expect(await panel.innerText()).toMatch(/Stop\. Never sit both at once/);
  await shots.scrollIntoViewIfNeeded();
  expect(await faults(page)).toEqual([]);
  await page.getByText('Change its shape').click();
  await page.getByRole('button', { name: 'Move', exact: true }).click();
  await page.getByLabel('By', { exact: true }).fill('13.5 ft');
  await page.getByLabel(/^Toward/).fill('229');
  await page.getByRole('button', { name: 'Apply' }).click();
  await expect.poll(() => shots.innerText(), { timeout: 20_000 }).toMatch(/505 ft of 500 ft: not short/); // prettier-ignore
  expect(await panel.innerText()).not.toMatch(/from a dwelling and needs/);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => shots.innerText(), { timeout: 20_000 }).toMatch(/8 ft short/);
  // Where a stand could go, asked for; one is set there, facing the plot, and has its own answers.
  await page.getByRole('button', { name: 'Where should a stand go?' }).click();
  await page
    .getByRole('button', { name: 'Set a stand here: Spring plot, place 1' })
    .click({ timeout: 30_000 });
  await page.getByRole('region', { name: 'What it is: Spring plot stand' }).waitFor();
  await expect.poll(() => shots.innerText(), { timeout: 20_000 }).not.toMatch(/ft short/);
  await settled(page);
  expect(await faults(page)).toEqual([]);
  expect(errors).toEqual([]);
});
