import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sizes, type Rig } from './browser.ts';
import { mapPlace, settled } from './map-place.ts';
import { openDemo } from './open-demo.ts';
import { faults } from './page-faults.ts';

/** The water question by hand on the demo: what stands after a storm, the stop, the way out. */

let rig: Rig;
let page: Page;
let errors: readonly string[];

beforeAll(async () => {
  ({ rig, page, errors } = await openDemo(sizes.laptop));
  await page
    .getByRole('region', { name: 'Worksheet' })
    .getByRole('button', { name: /^Water/ })
    .click();
});
afterAll(() => rig?.stop());

/** A place under the water of P1, away from its middle, where a section line and its words lie. */
function inPond(of: Page): Promise<[number, number]> {
  return of.evaluate<[number, number]>(`(() => {
    const { pools, outlines } = assart.session.getState().site.storm.value;
    const [x, y] = pools[0].deepestAt;
    const away = ([a, b]) => Math.hypot(a - x, b - y);
    const [far] = outlines.P1[0][0].toSorted((a, b) => away(b) - away(a));
    return [x + 0.45 * (far[0] - x), y + 0.45 * (far[1] - y)];
  })()`);
}

const water = () => page.getByRole('region', { name: 'Worksheet' });
const row = (id: string) =>
  water().getByRole('row', { name: new RegExp(`^Show ${id} on the map`) });

test('1.70 in in 6 h: the big pond in acres, inches and days, and its stop', async () => {
  // Trade notes §6.6: 62 % full, over two weeks from full: a stop before any cut.
  const p1 = row('P1').first();
  await expect.poll(() => p1.innerText(), { timeout: 20_000 }).toMatch(/6\d %/);
  const text = await p1.innerText();
  expect(text).toMatch(/about 1[4-8] in/);
  expect(text).toMatch(/0\.5\d ac/);
  // 13 days with the growing day's 3 mm (§6.6); a November day evaporates a third of that.
  expect(text).toMatch(/1[45] days/);
  await expect.poll(() => water().innerText()).toMatch(/Stop\. Have P1 looked at before any cut/);
  await p1.scrollIntoViewIfNeeded();
  await page.screenshot({ path: 'fixtures/pictures/water.png', timeout: 60_000 });
});

test('more rain fills it, no rain leaves it dry', async () => {
  const gauge = page.getByRole('slider', { name: 'Rain depth' });
  await gauge.focus();
  await page.keyboard.press('End');
  await expect.poll(() => row('P1').first().innerText(), { timeout: 20_000 }).toMatch(/100 %/);
  await page.keyboard.press('Home');
  await expect.poll(() => row('P1').first().innerText(), { timeout: 20_000 }).not.toMatch(/ac/);
});

test('the big pond by itself: what drains in, how it fills, where water runs', async () => {
  await page.getByRole('slider', { name: 'Rain depth' }).focus();
  await page.keyboard.press('End');
  await row('P1').first().getByRole('button').click();
  const own = page.getByRole('region', { name: 'P1 by itself' });
  // Trade notes §6.6: 17.3 ac drain into it.
  await expect.poll(() => own.innerText(), { timeout: 20_000 }).toMatch(/1\d\.\d+ ac/);
  await own.getByRole('img', { name: /How P1 fills/ }).waitFor();
  await own.scrollIntoViewIfNeeded();
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/flow.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await own.waitFor({ state: 'detached' });
  // A tap on the pond is the same as its row.
  const [place, at] = [await mapPlace(page), await inPond(page)];
  const { x, y } = place.toPixel(...at);
  await page.mouse.click(x, y);
  await own.waitFor();
  await page.keyboard.press('Escape');
  await own.waitFor({ state: 'detached' });
});

test('what drains to a place, pointed at by keys alone', async () => {
  await water().getByRole('button', { name: 'What drains to a place' }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('region', { name: /^Drawing: What drains/ }).waitFor();
  // The first press shows the cross, the next sets the point under it.
  await page.keyboard.press('Space');
  await page.keyboard.press('Space');
  const pointed = page.getByRole('region', { name: 'The place pointed at' });
  await expect.poll(() => pointed.innerText(), { timeout: 20_000 }).toMatch(/\d (ac|ft²)/);
  await page.keyboard.press('Escape');
  await pointed.waitFor({ state: 'detached' });
});

test('once it has been looked at, the notch is put on the plan and the pond is gone', async () => {
  await page.getByRole('slider', { name: 'Rain depth' }).focus();
  await page.keyboard.press('End');
  await page.getByText('The way out of each low spot').click();
  const way = page.getByRole('region', { name: 'The way out of P1' });
  const lay = way.getByRole('button', { name: 'Put the notch on the plan' });
  expect(await lay.count()).toBe(0);
  await way.getByLabel('It has been looked at, and may be drained').check();
  // Trade notes §6.6: about 62 yd³ bank, 2.0 ft at the deepest.
  await expect.poll(() => way.innerText(), { timeout: 20_000 }).toMatch(/Cut about [56]\d yd³/);
  expect(await way.innerText()).toMatch(/to 2\.[01] ft deep/);
  // What six inches bring through it, and the minutes of both ways: 1 to 2 h by hand (§6.6).
  await expect
    .poll(() => way.innerText())
    .toMatch(/brings \d+ ft³\/s at the most, from about 20 ac/);
  expect(await way.innerText()).toMatch(
    /would wash, in good grass too\. (Make the bottom|Lay stone)/,
  );
  expect(await way.innerText()).toMatch(
    /Cut it: about 4\d min \(30 to 7\d\) .* against about 22 h/,
  );
  await lay.scrollIntoViewIfNeeded();
  await page.screenshot({ path: 'fixtures/pictures/way-out.png', timeout: 60_000 });
  await lay.click();
  // What was P1 held 521 m³; what is left of any low spot holds a tenth at the most.
  const largest = () =>
    page.evaluate(() => {
      const { session } = (
        globalThis as unknown as {
          assart: {
            session: {
              getState(): {
                site: { lowSpots?: { value: { lowSpots: { volumeCubicMeters: number }[] } } };
              };
            };
          };
        }
      ).assart;
      return session.getState().site.lowSpots?.value.lowSpots[0]?.volumeCubicMeters ?? -1;
    });
  await expect.poll(largest, { timeout: 30_000 }).toBeLessThan(52);
  await page.getByRole('region', { name: /What it is: Notch out of P1/ }).waitFor();
  // Taken back in one step, and the pond is there again.
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(largest, { timeout: 30_000 }).toBeGreaterThan(500);
  expect(errors).toEqual([]);
});
