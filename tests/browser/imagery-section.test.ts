import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sizes, startRig, watchErrors, type Rig } from './browser.ts';
import { plainPng, startImageryServer, type ImageryServer } from './imagery-server.ts';
import { mapPlace, settled } from './map-place.ts';
import { faults } from './page-faults.ts';

/** Imagery from elsewhere against a local stand-in, contour labels, and the section chart. */

let rig: Rig;
let server: ImageryServer;
let page: Page;
let errors: string[];
/** Every address that the page asked for beyond this machine. */
const abroad: string[] = [];

beforeAll(async () => {
  rig = await startRig();
  server = await startImageryServer();
  // A smaller map is drawn faster.
  const context = await rig.context(sizes.laptop);
  // No public host is ever reached: what is asked of one is answered here.
  await context.route(
    (url) => url.hostname !== '127.0.0.1',
    (route) => {
      abroad.push(route.request().url());
      return route.fulfill({
        contentType: 'image/png',
        headers: { 'access-control-allow-origin': '*' },
        body: plainPng([30, 120, 60]),
      });
    },
  );
  page = await context.newPage();
  errors = watchErrors(page);
  await page.goto(rig.url);
  await page.locator('[data-testid=map][data-rasters~=photo]').waitFor({ timeout: 60_000 });
  await settled(page);
});
afterAll(async () => {
  await rig?.stop();
  await server?.stop();
});

const panel = () => page.getByRole('region', { name: 'Layers' });

async function add(address: string): Promise<void> {
  await panel().getByLabel('Address of tiles, WMS or WMTS').fill(address);
  await panel().getByRole('button', { name: 'Add it' }).click();
}

/** East of the demo's property line, on its photo. */
const bareGround = [-74.99027, 36.14853] as const;

/** Colour of the map at a point, from a picture of it. */
async function colorAt(x: number, y: number): Promise<number[]> {
  const shot = await page.screenshot({ clip: { x, y, width: 1, height: 1 }, timeout: 60_000 });
  return page.evaluate(async (encoded) => {
    const bytes = Uint8Array.from(atob(encoded), (letter) => letter.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const context = new OffscreenCanvas(1, 1).getContext('2d')!;
    context.drawImage(bitmap, 0, 0);
    return [...context.getImageData(0, 0, 1, 1).data].slice(0, 3);
  }, shot.toString('base64'));
}

/** The colour once it stays the same: a finer tile may still be on its way to a resting map. */
async function steadyColor(x: number, y: number): Promise<number[]> {
  let before: number[] = [];
  for (let i = 0; i < 20; i++) {
    const color = await colorAt(x, y);
    if (color.join() === before.join()) return color;
    before = color;
    await settled(page);
  }
  throw new Error('the map does not come to rest');
}

test('nothing is fetched from elsewhere until it is chosen; the preset asks row before column', async () => {
  expect(abroad).toEqual([]);
  await page.getByRole('button', { name: 'Layers' }).click();
  await panel().getByRole('button', { name: 'National imagery, public domain' }).click();
  await expect.poll(() => abroad.length, { timeout: 20_000 }).toBeGreaterThan(0);
  // The demo lies near 36.14° N, 74.99° W: at level 16 that is column 19115, row 25695 or so.
  const [, z, row, column] = /tile\/(\d+)\/(\d+)\/(\d+)$/.exec(abroad.at(-1)!)!.map(Number);
  const across = 2 ** z!;
  expect(Math.abs(column! / across - (180 - 74.996) / 360)).toBeLessThan(0.001);
  const radians = (36.147 * Math.PI) / 180;
  expect(Math.abs(row! / across - (1 - Math.asinh(Math.tan(radians)) / Math.PI) / 2)).toBeLessThan(
    0.001,
  );
  expect(await page.getByTestId('attribution').innerText()).toMatch(/Geological Survey/);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => page.getByTestId('attribution').count()).toBe(0);
});

test('bad addresses are refused in a sentence with the way out, and nothing is kept', async () => {
  const bad: [string, RegExp][] = [
    ['http://tiles.test/{z}/{x}/{y}', /http:\/\/.*https:\/\//s],
    [`${server.url}/page/{z}/{x}/{y}.png`, /web page/],
    [`${server.url}/page`, /web page/],
    [`${server.url}/no-cors/{z}/{x}/{y}.png`, /cannot be reached.*CORS/s],
    [`${server.url}/nothing/{z}/{x}/{y}.png`, /no picture of this ground/],
    [`${server.url}/wfs?SERVICE=WFS`, /feature service \(WFS\)/],
  ];
  for (const [address, sentence] of bad) {
    await add(address);
    await expect
      .poll(() => panel().getByRole('alert').innerText({ timeout: 5000 }), { timeout: 20_000 })
      .toMatch(sentence);
  }
  // One that never ends can be stopped.
  await add(`${server.url}/never/{z}/{x}/{y}.png`);
  await panel().getByRole('button', { name: 'Stop' }).click();
  await panel().getByRole('button', { name: 'Add it' }).waitFor();
  expect(await panel().getByRole('checkbox').count()).toBe(0);
});

test('tiles, WMS and WMTS come onto the map, in the order and opacity that are set', async () => {
  await add(`${server.url}/photo/{z}/{y}/{x}.png`);
  await panel().getByRole('checkbox', { name: '127.0.0.1' }).waitFor();
  // The finest level that answered is the last that is asked for.
  await settled(page);
  const zooms = server.asked.flatMap((path) => /^\/photo\/(\d+)/.exec(path)?.slice(1) ?? []);
  expect(Math.max(...zooms.slice(-4).map(Number))).toBeLessThanOrEqual(17);

  await page.getByRole('button', { name: 'Photo', exact: true }).click();
  await settled(page);
  // Ground of the photo that is clear of linework and panels.
  const { x, y } = (await mapPlace(page)).toPixel(...bareGround);
  const at = [Math.round(x), Math.round(y)] as const;
  const below = await steadyColor(...at);
  await panel().getByRole('button', { name: 'Move 127.0.0.1 up' }).click();
  await settled(page);
  // Over the photo now: the stand-in's own blue.
  await expect.poll(() => colorAt(...at), { timeout: 20_000 }).toEqual([40, 90, 200]);
  const slider = panel().getByRole('slider', { name: 'Opacity of 127.0.0.1' });
  await slider.focus();
  await slider.press('Home');
  await expect.poll(() => colorAt(...at), { timeout: 20_000 }).toEqual(below);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => colorAt(...at), { timeout: 20_000 }).toEqual([40, 90, 200]);

  await add(`${server.url}/ows`);
  await panel().getByRole('button', { name: 'Leaf-off 2023 & 2024' }).click();
  await panel().getByRole('checkbox', { name: 'Leaf-off 2023 & 2024' }).waitFor();
  expect(await page.getByTestId('attribution').innerText()).toMatch(/Invented County/);
  await expect
    .poll(() => server.asked.some((path) => /REQUEST=GetMap.*CRS=EPSG%3A3857/.test(path)))
    .toBe(true);

  await add(`${server.url}/wmts.xml`);
  await panel().getByRole('button', { name: 'By keys' }).click();
  await expect
    .poll(() =>
      server.asked.some((path) => /REQUEST=GetTile.*TILEMATRIX=EPSG%3A900913%3A1\d/.test(path)),
    )
    .toBe(true);
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/layers.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);
  await page.getByRole('button', { name: 'Layers' }).click();
  await page.getByRole('button', { name: 'Plan', exact: true }).click();
  for (let i = 0; i < 4; i++) await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => page.getByTestId('attribution').count()).toBe(0);
}, 240_000);

/** The demo's section line through P1, as its plan has it. */
const sectionLine: readonly (readonly [number, number])[] = [
  [-74.997265433, 36.147576053],
  [-74.996231687, 36.146458075],
];

/** Taps along the line until it is what is selected: other things lie over parts of it. */
async function chooseSection(): Promise<void> {
  const place = await mapPlace(page);
  const [a, b] = sectionLine.map(([lng, lat]) => place.toPixel(lng, lat));
  const found = page.getByRole('region', { name: 'What it is: Section through P1' });
  for (const share of [0.06, 0.2, 0.8, 0.95]) {
    await page.mouse.click(a!.x + share * (b!.x - a!.x), a!.y + share * (b!.y - a!.y));
    await settled(page);
    if ((await found.count()) > 0) return;
  }
  throw new Error('the section line could not be tapped');
}

test('a section line opens its chart; pointer and map answer each other', async () => {
  await page.setViewportSize(sizes.desk);
  await page.keyboard.press('f');
  await settled(page);
  await chooseSection();
  const section = page.getByRole('region', { name: 'Section: Section through P1' });
  const chart = section.getByRole('slider', { name: 'Place along the section' });
  await chart.locator('canvas').waitFor();
  await settled(page);
  const here = page.getByTestId('section-here');
  const box = (await chart.locator('.u-over').boundingBox())!;

  // From the chart to the map: the middle of the chart is the middle of the line.
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await expect.poll(() => here.innerText()).toMatch(/^2\+\d\d · \d{3}\.\d ft/);
  const marked = await page.evaluate(() => {
    const { session } = (
      globalThis as unknown as {
        assart: { session: { getState(): { sectionPlace: [number, number] } } };
      }
    ).assart;
    return session.getState().sectionPlace;
  });
  expect(Math.abs(marked[0] - (sectionLine[0]![0] + sectionLine[1]![0]) / 2)).toBeLessThan(2e-6);
  expect(Math.abs(marked[1] - (sectionLine[0]![1] + sectionLine[1]![1]) / 2)).toBeLessThan(2e-6);

  // The storm's water stands on it, drawn and in words.
  await expect.poll(() => section.innerText()).toMatch(/water of 1\.70\s*in rain/);
  await expect
    .poll(() => section.textContent())
    .toMatch(/Water stands from 2\+\d\d to 3\+\d\d, about 1\d in deep/);
  await page.mouse.move(box.x + box.width * 0.62, box.y + box.height / 2);
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/section.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);

  // From the map to the chart: a quarter along the line.
  const place = await mapPlace(page);
  const [a, b] = sectionLine.map(([lng, lat]) => place.toPixel(lng, lat));
  const quarter = { x: a!.x + (b!.x - a!.x) / 4, y: a!.y + (b!.y - a!.y) / 4 };
  await page.mouse.move(quarter.x, quarter.y);
  await expect.poll(() => here.innerText()).toMatch(/^1\+\d\d · /);
  const pointed = Number(
    /^(\d)\+(\d\d)/
      .exec(await here.innerText())!
      .slice(1)
      .join(''),
  );
  const length = Number(await chart.getAttribute('aria-valuemax'));
  // The pointer is told in whole pixels, a station in whole feet.
  const feetPerPixel = length / Math.hypot(b!.x - a!.x, b!.y - a!.y);
  expect(Math.abs(pointed - length / 4)).toBeLessThan(1 + feetPerPixel);

  // By keys, and in words.
  await chart.focus();
  await chart.press('End');
  expect(Number(await chart.getAttribute('aria-valuenow'))).toBe(length);
  expect(await chart.getAttribute('aria-valuetext')).toMatch(/ft · (rises|falls|level)/);

  await section.getByText('Read it as a table').click();
  const rows = section.getByRole('row');
  await expect.poll(() => rows.count()).toBeGreaterThan(3);
  expect(await rows.nth(1).innerText()).toMatch(/^0\+00\s/);
  expect(await faults(page)).toEqual([]);
  await page.getByRole('button', { name: 'Put the section away' }).click();
  await section.waitFor({ state: 'detached' });
  await page.keyboard.press('x');
  await section.waitFor();
  expect(errors.filter((text) => !/ERR_|CORS|404/.test(text))).toEqual([]);
});

test('the section is there on a laptop and a phone', async () => {
  for (const size of ['laptop', 'phone'] as const) {
    await page.keyboard.press('Escape');
    await page.setViewportSize(sizes[size]);
    await page.keyboard.press('f');
    await settled(page);
    await chooseSection();
    if (size === 'phone')
      await page
        .getByRole('navigation', { name: 'Panels' })
        .getByRole('button', { name: 'Section' })
        .click();
    await page.locator('.section-chart canvas').waitFor();
    await settled(page);
    await page.screenshot({ path: `fixtures/pictures/section-${size}.png`, timeout: 60_000 });
  }
});
