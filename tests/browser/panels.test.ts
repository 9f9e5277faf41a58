import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { brokenQuantities, cutOff, openFolds } from './cut-off.ts';
import { sizes, startRig, watchErrors, type Rig } from './browser.ts';
import { faults } from './page-faults.ts';

/** Nothing that must be read is cut off, or needs a scroll sideways, on a desk, a laptop or a phone. */

let rig: Rig;

beforeAll(async () => {
  rig = await startRig();
});
afterAll(() => rig?.stop());

describe.each(['desk', 'laptop', 'phone'] as const)('on a %s', (size) => {
  let page: Page;
  let errors: string[];

  beforeAll(async () => {
    page = await (await rig.context(sizes[size])).newPage();
    errors = watchErrors(page);
    await page.goto(rig.url);
    await page.locator('[data-testid=map][data-rasters~=photo]').waitFor({ timeout: 60_000 });
  });
  afterAll(async () => {
    expect(errors).toEqual([]);
    await page.close();
  });

  /** On a phone one panel is in sight at a time. */
  async function openSection(name: string): Promise<void> {
    const tab = page.getByRole('button', { name: 'Worksheet', exact: true });
    if (size === 'phone' && (await tab.getAttribute('aria-expanded')) === 'false')
      await tab.click();
    const line = page.getByRole('button', { name: new RegExp(`^${name}`) }).and(page.locator('.section-line')); // prettier-ignore
    if ((await line.getAttribute('aria-expanded')) === 'false') await line.click();
  }

  test.each(['B1', 'A1'])('the tables of stand %s', async (name) => {
    await openSection('Stands');
    await page.getByRole('button', { name, exact: true }).click();
    const shots = page.getByRole('region', { name: 'Which way to shoot' });
    await expect.poll(() => shots.innerText(), { timeout: 30_000 }).toMatch(/blocked/);
    const season = page.getByRole('region', { name: 'Over the season' });
    await season.waitFor({ timeout: 30_000 });
    expect(await season.innerText()).toMatch(/works, dusk/);
    await openFolds(page);
    expect(await cutOff(page)).toEqual([]);
    expect(await brokenQuantities(page)).toEqual([]);
  });

  test('a stand’s name keeps its words whole beside the longest verdict', async () => {
    await openSection('Stands');
    const table = page.getByRole('table', { name: 'Stands', exact: true });
    await expect.poll(() => table.innerText(), { timeout: 30_000 }).not.toMatch(/…/);
    const broken = await table.evaluate((element) => {
      const texts = [...element.querySelectorAll('.pick')].map((pick) => pick.firstChild as Text);
      const verdicts = [...element.querySelectorAll('.verdict b')].map((one) => one.firstChild as Text); // prettier-ignore
      const before = [...texts, ...verdicts].map(({ data }) => data);
      for (const text of texts) text.data = 'Stand 12';
      for (const verdict of verdicts) verdict.data = 'does not work';
      const word = document.createRange();
      const lines = texts.map((text) => {
        word.setStart(text, 0);
        word.setEnd(text, 'Stand'.length);
        return word.getClientRects().length;
      });
      const body = element.closest('.section-body')!;
      const { paddingLeft, paddingRight } = getComputedStyle(body);
      const room = body.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight);
      const wide = element.scrollWidth - room;
      [...texts, ...verdicts].forEach((text, index) => (text.data = before[index]!));
      return { lines, wide };
    });
    expect(broken.lines).toEqual([1, 1, 1]);
    expect(broken.wide).toBeLessThanOrEqual(0);
  });

  test('every section of the worksheet, and its title block', async () => {
    for (const name of [
      'Ground',
      'Clearing',
      'Water',
      'Grade',
      'Debris',
      'Planting',
      'Stands',
      'Papers',
    ]) {
      await openSection(name);
      await openFolds(page);
      expect(await cutOff(page), name).toEqual([]);
      expect(await brokenQuantities(page), name).toEqual([]);
    }
  });

  test('a section opened while one before it is open is in sight from its head on', async () => {
    await openSection('Water');
    const body = page.locator('#section-body-water');
    await expect.poll(() => body.evaluate((one) => one.clientHeight)).toBeGreaterThan(1000);
    const head = page.locator('#section-stands');
    // Far down the worksheet, and as high up in it as it goes: on a desk that is its lower half still.
    for (const share of [0.8, 0.2]) {
      await openSection('Water');
      const pressedAt = await head.evaluate((one, at) => {
        const panel = one.closest('.margin')!;
        const { top, height } = panel.getBoundingClientRect();
        panel.scrollTop += one.getBoundingClientRect().top - (top + height * at);
        return one.getBoundingClientRect().top;
      }, share);
      await head.click();
      const seen = await head.evaluate((one) => {
        const panel = one.closest('.margin')!.getBoundingClientRect();
        const stop = document.querySelector('#section-body-stands .stop')!.getBoundingClientRect();
        return { top: one.getBoundingClientRect().top, from: panel.top, to: panel.bottom, stop: stop.top }; // prettier-ignore
      });
      const isLow = pressedAt > (seen.from + seen.to) / 2;
      if (size !== 'desk') expect(isLow).toBe(share > 0.5);
      expect(Math.abs(seen.top - (isLow ? seen.from : pressedAt))).toBeLessThan(2);
      expect(seen.stop).toBeGreaterThan(seen.top);
      expect(seen.stop).toBeLessThan(seen.to);
    }
  });

  test('a berm', async () => {
    await openSection('Debris');
    await page.getByRole('button', { name: 'Berm, high edge', exact: true }).click();
    await page.getByRole('region', { name: 'Gaps that it should have' }).waitFor({ timeout: 30_000 }); // prettier-ignore
    await openFolds(page);
    expect(await cutOff(page)).toEqual([]);
    expect(await brokenQuantities(page)).toEqual([]);
    expect(await faults(page)).toEqual([]);
  });

  test('the three ways side by side, each in reach to be laid out', async () => {
    await openSection('Debris');
    await page.getByRole('button', { name: 'Compare three ways' }).click();
    const dialog = page.getByRole('dialog', { name: 'Three ways to lay the debris' });
    const table = dialog.getByRole('table', { name: 'The three ways' });
    await table.waitFor();
    await openFolds(page);
    expect(await cutOff(page)).toEqual([]);
    expect(await brokenQuantities(page)).toEqual([]);
    expect(await faults(page)).toEqual([]);
    const { height } = sizes[size];
    for (const name of ['Close', 'Lay it out']) {
      for (const button of await dialog.getByRole('button', { name, exact: true }).all()) {
        const box = (await button.boundingBox())!;
        expect(box.y).toBeGreaterThan(0);
        expect(box.y + box.height, name).toBeLessThan(height);
      }
    }
    // A measure's name stands level with its values, or on a line above them where it is narrow.
    const lines = await table.locator('tbody tr').evaluateAll((rows) =>
      rows.map((row) =>
        [...row.children].map((cell) => {
          const words = document.createRange();
          words.selectNodeContents(cell.querySelector('button') ?? cell);
          return words.getClientRects()[0]!.top;
        }),
      ),
    );
    for (const [name, ...values] of lines) {
      for (const value of values) {
        if (size === 'phone') expect(value - name!).toBeGreaterThan(15);
        else expect(Math.abs(value - name!)).toBeLessThan(3);
      }
    }
    const cost = table.getByRole('row', { name: /^Cost now/ });
    expect(await cost.innerText()).toMatch(/not known/);
    const rate = dialog.getByLabel('An hour costs');
    await rate.fill('100');
    await rate.press('Enter');
    // Hours times 100 to two figures: "19 h" for the brush piles is 1,900.
    await expect.poll(() => cost.innerText(), { timeout: 30_000 }).toMatch(/1,900 \(/);
    await dialog.getByRole('button', { name: 'Close' }).click();
    await dialog.waitFor({ state: 'detached' });
  });
});
