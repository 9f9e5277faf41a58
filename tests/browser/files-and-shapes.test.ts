import { spawnSync } from 'node:child_process';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openGdal } from '../gdal.ts';
import { forHands, sizes, type Rig } from './browser.ts';
import { mapPlace, settled } from './map-place.ts';
import { openDemo } from './open-demo.ts';

/** Bad and silent files, the other shapes, and the same numbers from page and command line. */

let rig: Rig;
let page: Page;
let errors: readonly string[];

beforeAll(async () => {
  ({ rig, page, errors } = await openDemo(sizes.laptop, forHands));
});
afterAll(() => rig?.stop());

async function open(name: string, bytes: Uint8Array | string): Promise<void> {
  await page
    .getByTestId('open-elevation')
    .setInputFiles({ name, mimeType: 'image/tiff', buffer: Buffer.from(bytes) });
}

test('a bad file is refused in one sentence with the way out, and the plan stays', async () => {
  const dialog = page.getByRole('dialog');
  const bad: [string, Uint8Array | string, RegExp][] = [
    [
      'letter.tif',
      'Dear neighbour, this is no elevation file at all.',
      /named a TIFF but is not one/,
    ],
    ['empty.tif', '', /empty/i],
    ['cut.tif', new Uint8Array([0x49, 0x49, 42, 0, 8, 0, 0, 0, 20, 0]), /cut|short|damaged|end/i],
  ];
  for (const [name, bytes, sentence] of bad) {
    await open(name, bytes);
    await dialog.waitFor();
    expect(await dialog.innerText()).toMatch(sentence);
    expect(await dialog.innerText()).toContain('The plan and the ground in use are as they were.');
    await dialog.getByRole('button').first().click();
    await dialog.waitFor({ state: 'detached' });
  }
  expect(await page.getByText('Bench plot').count()).toBeGreaterThan(0);
});

test('a file that does not say its height unit is asked for it', async () => {
  const gdal = await openGdal();
  const rows = Array.from({ length: 40 }, (_, r) =>
    Array.from({ length: 40 }, (_, c) => (700 + 0.2 * r + 0.1 * c).toFixed(2)).join(' '),
  );
  const head = 'ncols 40\nnrows 40\nxllcorner 2000000\nyllcorner 600000\ncellsize 5\n';
  const asc = gdal.write('feet.asc', new TextEncoder().encode(`${head}${rows.join('\n')}\n`));
  const made = await gdal.run(
    'gdal_translate',
    asc,
    ['-of', 'GTiff', '-a_srs', 'EPSG:2264'],
    'feet.tif',
  );
  await open('county.tif', gdal.read(made));
  const dialog = page.getByRole('dialog');
  await dialog.waitFor();
  await dialog.getByLabel('US survey feet').check();
  await dialog.getByRole('button', { name: 'Use it' }).click();
  await dialog.waitFor({ state: 'detached' });
  // 700 ft in one corner, 711.7 ft in the other: feet in, feet out.
  const sheet = page.getByRole('region', { name: 'Worksheet' });
  await expect
    .poll(() => sheet.innerText(), { timeout: 20_000 })
    .toMatch(/700(\.0)?\s*ft to 71[12](\.\d)?\s*ft/);
  // It lies elsewhere than the demo: a project of its own, and the demo is where it was.
  expect(await page.getByText('Bench plot').count()).toBe(0);
  await page.getByRole('button', { name: 'Projects', exact: true }).click();
  await page.getByRole('button', { name: 'Open Quillstone Bench' }).click();
  await expect.poll(() => page.getByText('Bench plot').count()).toBeGreaterThan(0);
  await settled(page);
});

test('a berm and a stand are drawn; a crossed outline is offered its repair', async () => {
  const place = await mapPlace(page);
  // Where the pointer is, not where something near it is.
  await page.keyboard.press('b');
  await page.getByRole('button', { name: 'Catch', exact: true }).click();
  await page.keyboard.press('Escape');
  const draw = async (key: string, points: readonly (readonly [number, number])[]) => {
    await page.keyboard.press(key);
    for (const [x, y] of points) await page.mouse.click(x, y);
    if (points.length > 1) await page.keyboard.press('Enter');
  };
  const panel = page.getByRole('region', { name: /What it is/ });

  await draw('b', [
    [740, 330],
    [830, 330],
  ]);
  const [west, east] = [place.toLngLat(740, 330), place.toLngLat(830, 330)];
  const gdal = await openGdal();
  const [a, b] = await gdal.transform([west, east], 'OGC:CRS84', 'EPSG:26918');
  // The demo lies on its zone's meridian, where UTM is short by 0.9996.
  const feet = Math.hypot(b![0] - a![0], b![1] - a![1]) / 0.9996 / 0.3048;
  const shown = async () =>
    Number(
      /Length along the line\s*([\d,]+)\s*ft/.exec(await panel.innerText())?.[1]?.replace(',', ''),
    );
  await expect.poll(shown, { timeout: 20_000 }).toBeGreaterThan(0);
  expect(Math.abs((await shown()) - feet)).toBeLessThan(0.51);

  await draw('s', [[660, 480]]);
  await expect.poll(() => panel.innerText(), { timeout: 20_000 }).toMatch(/\d{3}(\.\d)?\s*ft/);

  await draw('p', [
    [740, 350],
    [820, 396],
    [820, 350],
    [740, 396],
  ]);
  const mend = page.getByRole('button', { name: 'Mend the outline' });
  await mend.waitFor();
  await mend.click();
  await expect.poll(() => page.getByText(/part 2/).count()).toBeGreaterThan(0);
  for (let i = 0; i < 4; i++) await page.keyboard.press('Control+z');
  await expect.poll(() => page.getByText(/part 2|Berm 1/).count()).toBe(0);
});

test('the command line gives the page’s numbers and findings', async () => {
  const run = spawnSync('npm', ['run', '-s', 'assart', '--', 'answer', 'demo'], {
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  expect(run.status).toBe(0);
  const printed = JSON.parse(run.stdout) as Answers;
  const inPage = await page.evaluate(() => {
    const { session } = (globalThis as unknown as { assart: { session: { getState(): Answers } } })
      .assart;
    const { site, answers } = session.getState();
    return JSON.parse(JSON.stringify({ site, answers })) as Answers;
  });
  const fromPage = inPage.answers;
  const fromLine = printed.features ?? printed.answers;
  for (const id of ['A', 'B', 'C']) {
    expect(rounded(fromLine[id]!.plotGround)).toEqual(rounded(fromPage[id]!.plotGround));
    expect(rounded(fromLine[id]!.plotLowSpots)).toEqual(rounded(fromPage[id]!.plotLowSpots));
  }
  expect(rounded(printed.site['lowSpots'])).toEqual(rounded(inPage.site['lowSpots']));
  expect(errors).toEqual([]);
});

/**
 * Six digits of every number: the sines of two versions of the engine differ in the last bit, and
 * an area on the ellipsoid is a small difference of large numbers (seen: 1e-9 of a plot's area).
 */
function rounded(value: unknown): unknown {
  return JSON.parse(
    JSON.stringify(value, (_key, part: unknown) =>
      typeof part === 'number' ? Number(part.toPrecision(6)) : part,
    ),
  );
}

interface Answers {
  readonly site: Record<string, unknown>;
  readonly answers: Record<
    string,
    Record<string, { value: unknown; findings: unknown } | undefined>
  >;
  readonly features: Record<
    string,
    Record<string, { value: unknown; findings: unknown } | undefined>
  >;
}
