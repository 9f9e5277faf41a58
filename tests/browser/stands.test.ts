import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sizes, type Rig } from './browser.ts';
import { settled } from './map-place.ts';
import { openDemo } from './open-demo.ts';
import { faults } from './page-faults.ts';

/** A wind record through the file picker, the wind turned, and the way in to a stand. */

let rig: Rig;
let page: Page;
let errors: readonly string[];

beforeAll(async () => {
  ({ rig, page, errors } = await openDemo(sizes.desk));
});
afterAll(() => rig?.stop());

const get = (path: string) => page.evaluate(`globalThis.assart.session.getState().${path}`);

test('a record of no known layout is asked about and then says what the wind does', async () => {
  await page.getByRole('button', { name: /^Stands/ }).click();
  const record = page.getByRole('region', { name: 'Wind record' });
  await record.getByRole('button', { name: 'Take it out' }).click();
  await expect.poll(() => get('site.standSeasons ?? null')).toBeNull();
  const rows = Array.from({ length: 4000 }, (_, i) => {
    const when = new Date(Date.UTC(2025, 9, 1, i)).toISOString().slice(0, 16).replace('T', ' ');
    return `${when},${i % 5 === 0 ? 180 : 310},${3 + (i % 7)}`;
  });
  const buffer = Buffer.from(`when,from,strength\n${rows.join('\n')}\n`);
  await page.getByLabel('Wind record file').setInputFiles({ name: 'mast.csv', mimeType: 'text/csv', buffer }); // prettier-ignore
  const asking = page.getByRole('group', { name: 'Opening mast.csv' });
  await asking.waitFor();
  // Whatever it asks is answered with the page's own controls.
  for (let k = 0; k < 12 && (await asking.isVisible()); k++) {
    // It may be gone between the look and the reading.
    const text = await asking.innerText({ timeout: 2000 }).catch(() => '');
    if (await asking.getByLabel('Speed', { exact: true }).isVisible()) {
      await asking.getByLabel('Date and time').selectOption('0');
      await asking.getByLabel('Direction it blows from').selectOption('1');
      await asking.getByLabel('Speed', { exact: true }).selectOption('2');
      await asking.getByRole('button', { name: 'Read these columns' }).click();
    } else if (await asking.getByRole('button', { name: 'mph' }).isVisible()) {
      await asking.getByRole('button', { name: 'mph' }).click();
    } else if (await asking.getByRole('button', { name: 'Use it' }).isVisible()) {
      await asking.getByRole('button', { name: 'Use it' }).click();
    }
    await expect.poll(async () => !(await asking.isVisible()) || (await asking.innerText({ timeout: 2000 }).catch(() => '')) !== text).toBe(true); // prettier-ignore
  }
  await expect
    .poll(() => record.innerText(), { timeout: 20_000 })
    .toMatch(/most often from the northwest/);
  await expect.poll(() => record.innerText()).toMatch(/4,000 hours/);
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => record.innerText(), { timeout: 20_000 }).toMatch(/5 whole seasons/);
});

test('the wind turned, stands change their verdict and say why', async () => {
  const verdict = async (id: string) => await get(`site.standWinds?.value.stands.${id}.verdict`);
  await expect.poll(() => verdict('A1'), { timeout: 20_000 }).toBe('works');
  const scale = page.getByRole('slider', { name: 'Wind direction' });
  await scale.focus();
  // North is both ends of the scale: the keys go round over it.
  const from = () => get('conditions.wind.fromDegrees');
  for (const [key, degrees] of [
    ['End', 0],
    ['ArrowLeft', 355],
    ['ArrowRight', 0],
    ['PageDown', 315],
  ] as const) {
    // prettier-ignore
    await page.keyboard.press(key);
    await expect.poll(from).toBe(degrees);
  }
  for (let k = 0; k < 25; k++) await page.keyboard.press('ArrowLeft');
  // From 315 to 190: a south wind (trade notes §6.4: A2 does not work on it).
  await expect.poll(() => verdict('A2')).toBe('does-not');
  await page.getByRole('button', { name: 'A2', exact: true }).click();
  const why = page.getByRole('region', { name: 'On this wind' });
  await expect.poll(() => why.innerText()).toMatch(/Does not work: scent goes .* Bench plot/);
  expect(await page.getByRole('region', { name: 'Over the season' }).innerText()).toMatch(/legal morning hours/); // prettier-ignore
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/stands.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);
});

test('ways in are looked for, shown and drawn on the plan', async () => {
  await page.getByRole('button', { name: 'B1', exact: true }).click();
  const ways = page.getByRole('region', { name: 'Ways in' });
  // How far it is, a stop, and how to go on stand where the ways in will be. They come quickly, so
  // that the page itself presses the stop as soon as it is there.
  const stoppedAt = ways.evaluate(
    (element) =>
      new Promise<string>((resolve) => {
        new MutationObserver((_, observer) => {
          const stop = [...element.querySelectorAll('button')].find((one) => one.textContent === 'Stop'); // prettier-ignore
          if (!stop) return;
          observer.disconnect();
          resolve(element.textContent);
          stop.click();
        }).observe(element, { subtree: true, childList: true });
      }),
  );
  await page.getByRole('button', { name: 'Find ways in' }).click();
  expect(await stoppedAt).toMatch(/Looking for ways in ….*\d %/);
  await expect.poll(() => ways.innerText()).toMatch(/Stopped\.\s+Go on/);
  expect(await ways.innerText()).not.toMatch(/Best:/);
  await ways.getByRole('button', { name: 'Go on' }).click();
  await expect
    .poll(() => ways.innerText(), { timeout: 40_000 })
    .toMatch(/Best: .* yd, .* min from Gate/);
  expect(await ways.innerText()).toMatch(/leave the truck at/);
  await ways.scrollIntoViewIfNeeded();
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/ways-in.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);
  await ways.getByRole('button', { name: 'Draw it on the plan' }).first().click();
  await expect.poll(() => page.evaluate(`Object.values(globalThis.assart.session.getState().features).some((one) => one.kind === 'lane' && one.name === 'Way in to B1' && one.properties.toStand === 'B1')`)).toBe(true); // prettier-ignore
  expect(errors).toEqual([]);
});

test('where a stand could go keeps off those drawn; without a wind record that is said there', async () => {
  await page.getByRole('button', { name: 'Where should a stand go?' }).click();
  const places = page.getByRole('region', { name: 'Where a stand could go' });
  // A1 is 27 yd from the best place of the bench plot, and no other place there is out of the others' way.
  await expect.poll(() => places.innerText(), { timeout: 60_000 }).toMatch(/Bench plot: you have a stand at the best place already\. A1 is 27 yd from it/); // prettier-ignore
  expect(await places.innerText()).toMatch(
    /Bench plot, place 1\. Never sit it at once with A2, 165 yd off/,
  );
  const listed = await places.locator('li', { hasText: 'Spring plot, place 1.' }).innerText();
  const [hours] = /Works in \d+ % of the legal morning hours and \d+ % of the evening hours/.exec(listed)!; // prettier-ignore
  await places.scrollIntoViewIfNeeded();
  expect(await faults(page)).toEqual([]);
  await page.getByRole('button', { name: 'Set a stand here: Spring plot, place 1' }).click();
  await page.getByRole('region', { name: 'What it is: Spring plot stand' }).waitFor();
  const season = page.getByRole('region', { name: 'Over the season' });
  await expect.poll(() => season.innerText(), { timeout: 30_000 }).toContain(hours);
  await page.getByRole('region', { name: 'Wind record' }).getByRole('button', { name: 'Take it out' }).click(); // prettier-ignore
  await expect
    .poll(() => places.innerText(), { timeout: 30_000 })
    .toMatch(/Open a wind record first\./);
  expect(errors).toEqual([]);
});
