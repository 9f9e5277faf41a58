import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { drawTools } from '../../app/words/draw-tools.ts';
import { canonicalJson } from '../../geo/plan/canonical-json.ts';
import { kindNames } from '../../geo/plan/kinds.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { forHands, sizes, startRig, watchErrors, type Rig } from './browser.ts';
import { mapPlace, settled } from './map-place.ts';
import { ownGround, ownGroundTiff } from './own-ground.ts';
import { faults } from './page-faults.ts';

/**
 * A whole plan laid out by hand from an empty project: every kind through its tool, by pointer, by
 * keys alone and by typed numbers; shapes changed; all of it undone and redone; the table and the
 * list of actions. GDAL says where a pixel, a run and an area are.
 */

type XY = readonly [number, number];

const foot = 0.3048;
let rig: Rig;
let page: Page;
let gdal: Gdal;
let errors: string[];
/** The plan of the empty project with its ground, before anything is drawn. */
let blank: string;

let comeNow: () => void;
const isBlank = new Promise<void>((resolve) => {
  comeNow = resolve;
});

beforeAll(async () => {
  const [started, opened] = await Promise.all([startRig('dist', forHands), openGdal()]);
  [rig, gdal] = [started, opened];
  page = await (await rig.context(sizes.laptop)).newPage();
  errors = watchErrors(page);
  // The demo's ground comes when its project is off the screen already.
  await page.route(/\/ground\.tif$/, async (route) => {
    await isBlank;
    await route.continue();
  });
  await page.goto(rig.url);
  // At once: the demo of a fresh profile need not be drawn for this.
  await page.getByRole('button', { name: 'Projects', exact: true }).click();
  const projects = page.getByRole('dialog', { name: 'Projects' });
  expect(await faults(page)).toEqual([]);
  await projects.getByRole('button', { name: 'New project' }).click();
  await projects.waitFor({ state: 'detached' });
});
afterAll(() => rig?.stop());

interface Feature {
  readonly id: string;
  readonly kind: string;
  readonly name: string;
  readonly geometry: { readonly type: string; readonly coordinates: unknown };
  readonly properties: Readonly<Record<string, unknown>>;
  readonly locked: boolean;
  readonly hidden: boolean;
}

/** Whether a place is on the screen, and the map near enough to draw a plot on. */
async function isSeen([lng, lat]: XY): Promise<boolean> {
  const place = await mapPlace(page);
  const { x, y } = place.toPixel(lng, lat);
  const isIn = x > 340 && x < sizes.laptop.width && y > 0 && y < sizes.laptop.height;
  return isIn && place.toPixel(lng + 0.01, lat).x - x > 200;
}

const model = () =>
  page.evaluate(() => {
    const { session } = (
      globalThis as unknown as {
        assart: { session: { getState(): Readonly<Record<string, unknown>> } };
      }
    ).assart;
    const now = session.getState();
    const { features, settings, conditions, grounds, selectedId, view, site } = now;
    return { plan: { features, settings, conditions, grounds }, selectedId, view, site };
  });
const plan = async () => canonicalJson((await model()).plan);
const features = async () =>
  Object.values((await model()).plan.features as Record<string, Feature>);
const count = async () => (await features()).length;
const named = async (name: string) => (await features()).find((one) => one.name === name)!;
const ringOf = ({ geometry }: Feature, ring = 0) => (geometry.coordinates as XY[][])[ring]!;
const lineOf = ({ geometry }: Feature) => geometry.coordinates as XY[];

/** Metres to the right and down from the upper left corner of the ground, as whole pixels now. */
async function pixels(points: readonly XY[]): Promise<[number, number][]> {
  const { west, north, epsg } = ownGround;
  const utm = points.map(([x, y]): XY => [west + x, north - y]);
  const degrees = await gdal.transform(utm, `EPSG:${epsg}`, 'OGC:CRS84');
  const place = await mapPlace(page);
  return degrees.map(([lng, lat]) => {
    const { x, y } = place.toPixel(lng, lat);
    return [Math.round(x), Math.round(y)];
  });
}

async function tap(points: readonly XY[]): Promise<void> {
  for (const [x, y] of await pixels(points)) await page.mouse.click(x, y);
}

/** Takes up a tool from the menu, by its letter, or by its words in the list of actions. */
async function takeTool(label: string, how = 'menu'): Promise<void> {
  if (how.length === 1) await page.keyboard.press(how);
  else if (how === 'words') {
    await page.keyboard.press('Control+k');
    await page.getByRole('dialog', { name: 'Actions' }).waitFor();
    await page.keyboard.type(`draw ${label}`);
    await page.keyboard.press('Enter');
  } else {
    await page.getByRole('button', { name: 'Draw', exact: true }).click();
    await page.getByRole('menuitem', { name: label, exact: true }).click();
  }
}

/** Square metres on the ellipsoid: the shoelace in a projection that keeps areas, by GDAL. */
async function areaOf(ring: readonly XY[]): Promise<number> {
  const [[lng, lat]] = ring as [XY];
  const equalArea = `+proj=laea +lat_0=${lat} +lon_0=${lng} +ellps=GRS80`;
  const plane = await gdal.transform([...ring], 'OGC:CRS84', equalArea);
  let twice = 0;
  plane.forEach(([x, y], i) => {
    const [nextX, nextY] = plane[(i + 1) % plane.length]!;
    twice += x * nextY - nextX * y;
  });
  return Math.abs(twice / 2);
}

/** Where a place lies from another, true: metres east and north along the geodesic, by GDAL. */
async function fromTo([lng, lat]: XY, to: XY): Promise<XY> {
  // Azimuthal equidistant: lengths and directions from its middle are those of the geodesic.
  const around = `+proj=aeqd +lat_0=${lat} +lon_0=${lng} +ellps=GRS80`;
  return (await gdal.transform([to], 'OGC:CRS84', around))[0]!;
}

/** What is left to draw, as metres of the ground; a point needs no finish. */
const layout: readonly (readonly [how: string, tool: string, ...points: XY[]])[] = [
  ['menu', 'Property line', [20, 110], [580, 110], [580, 470], [20, 470]],
  ['t', 'Timber block', [440, 120], [560, 120], [560, 180], [440, 180]],
  ['b', 'Berm', [60, 330], [150, 350], [240, 340]],
  ['h', 'Brush pile, spot', [270, 350]],
  ['words', 'Brush pile, outline', [290, 330], [320, 330], [310, 355]],
  ['s', 'Stand', [330, 290]],
  ['words', 'Access point', [40, 440]],
  ['words', 'Bedding area', [420, 380], [530, 380], [530, 450], [420, 450]],
  ['words', 'Travel corridor, line', [400, 360], [340, 250], [330, 130]],
  ['menu', 'Travel corridor, outline', [370, 120], [400, 120], [410, 200], [380, 200]],
  ['d', 'Ditch', [300, 270], [300, 310]],
  ['words', 'Outlet', [300, 322]],
  ['menu', 'Culvert', [60, 400], [75, 415]],
  ['words', 'Power line', [20, 255], [120, 265]],
  ['words', 'Buried line', [540, 200], [560, 350]],
  ['words', 'Structure, spot', [480, 200]],
  ['words', 'Structure, line', [440, 210], [520, 230]],
  ['menu', 'Structure, outline', [480, 250], [510, 250], [510, 275], [480, 275]],
  ['words', 'Soil sample', [150, 220]],
  ['words', 'Soil area', [360, 390], [400, 390], [380, 440]],
  ['n', 'Note', [250, 420]],
  ['words', 'Section line', [180, 380], [340, 390]],
];

test('from an empty plan to one’s own ground, by numbers and by a file', async () => {
  expect(await features()).toEqual([]);
  const demoGround = page.waitForResponse(/\/ground\.tif$/);
  comeNow();
  await (await demoGround).finished();
  // Nothing is there yet, so the way to one's own ground is asked for: by numbers, as they are.
  const goTo = page.getByRole('region', { name: 'Go to your ground' });
  const blankFor = goTo.getByLabel('Latitude, longitude; or easting, northing and system');
  await blankFor.fill('336, -574');
  await blankFor.press('Enter');
  await expect.poll(() => goTo.getByRole('alert').innerText()).toMatch(/out of range/);
  await goTo.getByLabel('Name or EPSG code').waitFor();
  expect(await faults(page)).toEqual([]);
  await blankFor.fill('342300 E 4650750 N EPSG:26915');
  await blankFor.press('Enter');
  await goTo.waitFor({ state: 'detached' });
  const [there] = await gdal.transform([[342_300, 4_650_750]], 'EPSG:26915', 'OGC:CRS84');
  await expect.poll(() => isSeen(there as XY)).toBe(true);
  await settled(page);
  expect((await model()).site).toEqual({});
  await page.getByTestId('open-elevation').setInputFiles({
    name: 'home-place.tif',
    mimeType: 'image/tiff',
    buffer: Buffer.from(await ownGroundTiff()),
  });
  await page.waitForFunction(() => {
    const { session } = (
      globalThis as unknown as {
        assart: { session: { getState(): { site: { ground?: object }; opening: object | null } } };
      }
    ).assart;
    const { site, opening } = session.getState();
    return site.ground !== undefined && opening === null;
  });
  await settled(page);
  blank = await plan();
});

test('a plot by keys alone: the cross, arrows, Space, Enter', async () => {
  await takeTool('Food plot', 'words');
  await page.getByRole('region', { name: 'Drawing: Food plot' }).waitFor();
  const corners: XY[] = [];
  const arrows = ['', 'ArrowRight', 'ArrowDown', 'ArrowLeft'];
  for (const arrow of arrows) {
    for (let i = 0; arrow && i < 2; i++) await page.keyboard.press(arrow);
    // The first Space shows the cross, later ones set a point under it.
    if (!arrow) await page.keyboard.press('Space');
    const cross = (await page.locator('.map-cross').boundingBox())!;
    const place = await mapPlace(page);
    corners.push(place.toLngLat(cross.x + cross.width / 2, cross.y + cross.height / 2));
    await page.keyboard.press('Space');
    await expect.poll(() => page.getByTestId('placed').innerText()).toMatch(`${corners.length} `);
  }
  await page.keyboard.press('Enter');
  await expect.poll(count).toBe(1);
  const ring = ringOf(await named('Food plot 1'));
  expect(ring.length).toBe(5);
  for (const [i, corner] of corners.entries()) {
    const [east, north] = await fromTo(corner, ring[i]!);
    // Half a pixel of the screen.
    expect(Math.hypot(east, north)).toBeLessThan(0.6);
  }
  // Presses to the right move nothing up or down, whatever the bar above does.
  const [east, north] = await fromTo(ring[0]!, ring[1]!);
  expect(east).toBeGreaterThan(50);
  expect(Math.abs(north)).toBeLessThan(0.6);
  await page.keyboard.press('Escape');
  await page.keyboard.press('f');
  await settled(page);
});

test('a clearing catches a corner of the plot, bit for bit', async () => {
  const ring = ringOf(await named('Food plot 1'));
  const place = await mapPlace(page);
  const at = ring.slice(0, 4).map(([lng, lat]) => place.toPixel(lng, lat));
  const right = Math.max(...at.map(({ x }) => x));
  const corner = at.findIndex(
    ({ x, y }) => x > right - 2 && y > Math.min(...at.map((p) => p.y)) + 9,
  );
  const { x, y } = at[corner]!;
  await takeTool('Clearing');
  await page.getByRole('button', { name: 'Cross', exact: true }).click();
  await page.mouse.click(x + 5, y + 4);
  await page.mouse.click(x + 90, y + 10);
  await page.mouse.click(x + 80, y + 70);
  await page.getByRole('button', { name: 'Finish' }).click();
  await expect.poll(count).toBe(2);
  expect(ringOf(await named('Clearing 1'))[0]).toEqual(ring[corner]);
});

test('a lane goes on by a typed length and bearing', async () => {
  await takeTool('Approach lane');
  await tap([[60, 430]]);
  const field = page.getByLabel('Length, bearing');
  await field.waitFor();
  const before = (await model()).view;
  // Typed with the map in focus: the digits begin the run, and none of the letters is a shortcut.
  await page.keyboard.type('200 ft N45E');
  expect(await field.inputValue()).toBe('200 ft N45E');
  expect((await model()).view).toEqual(before);
  await page.keyboard.press('Enter');
  await expect.poll(() => page.getByTestId('placed').innerText()).toBe('2 points');
  // A run that leads out of sight or under the bar brings the map along; then it is taken back.
  await field.fill('2000 ft N');
  await field.press('Enter');
  await expect.poll(() => page.getByTestId('placed').innerText()).toBe('3 points');
  const far = (await pixels([[60 + 200 * foot * Math.SQRT1_2, 430 - 200 * foot * Math.SQRT1_2 - 2000 * foot]]))[0]!; // prettier-ignore
  const bar = (await page.locator('.draw-bar').boundingBox())!;
  expect(bar.height).toBeLessThan(120);
  expect(far[1]).toBeGreaterThan(bar.y + bar.height);
  expect(far[1]).toBeLessThan(sizes.laptop.height);
  await page.getByRole('button', { name: 'Last point back' }).click();
  await expect.poll(() => page.getByTestId('placed').innerText()).toBe('2 points');
  await field.fill('100, 143');
  await field.press('Enter');
  await expect.poll(() => page.getByTestId('placed').innerText()).toBe('3 points');
  await page.getByRole('button', { name: 'Finish' }).click();
  await expect.poll(count).toBe(3);
  const [a, b, c] = lineOf(await named('Approach lane 1'));
  const runs = [
    [a!, b!, 200, 45],
    [b!, c!, 100, 143],
  ] as const;
  for (const [from, to, feet, bearing] of runs) {
    const [east, north] = await fromTo(from, to);
    const turn = (bearing * Math.PI) / 180;
    // Degrees are kept to 1e-9: a tenth of a millimetre.
    expect(Math.abs(east - feet * foot * Math.sin(turn))).toBeLessThan(5e-4);
    expect(Math.abs(north - feet * foot * Math.cos(turn))).toBeLessThan(5e-4);
  }
  await page.keyboard.press('f');
  await settled(page);
});

test('no-go ground asks for its reason, which is given by keys', async () => {
  await takeTool('No-go ground');
  await tap([
    [60, 150],
    [130, 150],
    [130, 210],
    [60, 210],
  ]);
  await page.keyboard.press('Enter');
  const question = page.getByRole('group', { name: /Why keep out of it/ });
  await question.waitFor();
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await expect
    .poll(async () => (await named('No-go ground 1')).properties['reason'])
    .toBe('stream-buffer');
  await page.getByText('Keep out: stream buffer.').waitFor();
});

test('every other kind and shape comes out of its tool', async () => {
  const before = await count();
  for (const [i, [how, tool, ...points]] of layout.entries()) {
    await takeTool(tool, how);
    // Where the pointer is, not where something near it is.
    if (i === 0) await page.getByRole('button', { name: 'Catch', exact: true }).click();
    await tap(points);
    if (points.length > 1) await page.keyboard.press('Enter');
    await expect.poll(count).toBe(before + i + 1);
  }
  const drawn = await features();
  expect(new Set(drawn.map(({ kind }) => kind))).toEqual(new Set(kindNames));
  const shapes = new Set(drawn.map(({ kind, geometry }) => `${kind} ${geometry.type}`));
  expect(shapes).toEqual(new Set(drawTools.map(({ kind, type }) => `${kind} ${type}`)));
  // What was drawn is where it was tapped, to a pixel of the screen, by GDAL.
  const { west, north, epsg } = ownGround;
  for (const [, tool, ...points] of layout) {
    const { kind, type } = drawTools.find(({ label }) => label === tool)!;
    const { geometry } = drawn.find((one) => one.kind === kind && one.geometry.type === type)!;
    const flat = [geometry.coordinates].flat(3) as number[];
    const first = points[0]!;
    const utm = await gdal.transform([[flat[0]!, flat[1]!]], 'OGC:CRS84', `EPSG:${epsg}`);
    const [x, y] = utm[0]!;
    expect(Math.hypot(x - west - first[0], north - y - first[1]), tool).toBeLessThan(2);
    // A ring ends where it began.
    const corners = flat.length / 2 - (type === 'Polygon' ? 1 : 0);
    expect(corners, tool).toBe(points.length);
  }
  await page.keyboard.press('Escape');
});

/** Selects by a tap on the map, opens what can be made of its shape, and takes one of that. */
async function changeShape(name: string, place: XY, change: string): Promise<void> {
  await page.mouse.click(...place);
  const panel = page.getByRole('region', { name: `What it is: ${name}` });
  await panel.getByText('Change its shape').click();
  await panel.getByRole('button', { name: change, exact: true }).click();
}

/** The box of an outline, pixels of the screen now. */
async function boxOf(ring: readonly XY[]) {
  const place = await mapPlace(page);
  const at = ring.map(([lng, lat]) => place.toPixel(lng, lat));
  const [x, y] = [at.map((p) => p.x), at.map((p) => p.y)];
  return {
    left: Math.min(...x),
    right: Math.max(...x),
    top: Math.min(...y),
    bottom: Math.max(...y),
  };
}

/** Keeps what is tried, and gives what is new in the plan. */
async function apply(before: readonly Feature[]): Promise<Feature[]> {
  await page.getByRole('button', { name: 'Apply' }).click();
  await page.getByRole('button', { name: 'Apply' }).waitFor({ state: 'detached' });
  const known = new Set(before.map((feature) => canonicalJson(feature)));
  return (await features()).filter((feature) => !known.has(canonicalJson(feature)));
}

test('a plot is split by a line: two plots, and not a foot lost', async () => {
  await page.setViewportSize(sizes.desk);
  await page.keyboard.press('f');
  await settled(page);
  const before = await features();
  const whole = ringOf(await named('Food plot 1'));
  const { left, right, top, bottom } = await boxOf(whole);
  await changeShape('Food plot 1', [right - 8, bottom - 8], 'Split');
  await page.mouse.click(left + 30, top - 20);
  await page.mouse.click(left + 42, bottom + 20);
  await page.keyboard.press('Enter');
  const parts = await apply(before);
  const areas = await Promise.all(parts.map((part) => areaOf(ringOf(part))));
  expect(areas.length).toBe(2);
  expect(Math.min(...areas)).toBeGreaterThan(1000);
  // Degrees are kept to 1e-9: a hair of the area.
  expect(Math.abs((areas[0]! + areas[1]!) / (await areaOf(whole)) - 1)).toBeLessThan(1e-6);
});

test('a hole comes off a timber block, a ditch gets the ground around it', async () => {
  const before = await features();
  const block = await named('Timber block 1');
  const tapped = await boxOf(ringOf(block));
  await changeShape('Timber block 1', [tapped.left + 8, tapped.bottom - 8], 'Cut a hole');
  // It was moved out from under the panel.
  await settled(page);
  const { left, right, top, bottom } = await boxOf(ringOf(block));
  const [x, y] = [(left + right) / 2, (top + bottom) / 2];
  const cutAt = await mapPlace(page);
  const taps = [
    [-20, -12],
    [20, -12],
    [20, 12],
    [-20, 12],
  ].map(([dx, dy]): XY => [Math.round(x + dx!), Math.round(y + dy!)]);
  for (const at of taps) await page.mouse.click(...at);
  await page.keyboard.press('Enter');
  const [holed] = await apply(before);
  const corners = (ring: readonly XY[]) => new Set(ring.map((at) => at.join(' ')));
  expect(corners(ringOf(holed!))).toEqual(corners(ringOf(block)));
  const hole = ringOf(holed!, 1);
  expect(hole.length).toBe(5);
  const tappedHole = taps.map((at) => cutAt.toLngLat(...at));
  expect(Math.abs((await areaOf(hole)) / (await areaOf(tappedHole)) - 1)).toBeLessThan(0.01);

  const [a, b] = lineOf(await named('Ditch 1'));
  const place = await mapPlace(page);
  const [from, to] = [
    place.toPixel(...(a as [number, number])),
    place.toPixel(...(b as [number, number])),
  ];
  await changeShape('Ditch 1', [(from.x + to.x) / 2, from.y * 0.6 + to.y * 0.4], 'Ground around');
  const panel = page.getByRole('region', { name: 'What it is: Ditch 1' });
  await panel.getByLabel('Within').fill('25 ft');
  const [strip] = await apply([...before, holed!]);
  expect(strip!.kind).toBe('no-go');
  // A P r + π r² of a straight line: a strip with half a round at each end, less the round's chords.
  const r = 25 * foot;
  const length = Math.hypot(...(await fromTo(a!, b!)));
  const share = (await areaOf(ringOf(strip!))) / (2 * r * length + Math.PI * r * r);
  expect(share).toBeLessThan(1.0001);
  expect(share).toBeGreaterThan(0.995);
});

test('all of it is undone to the empty plan and done again to the last corner', async () => {
  const last = await plan();
  await page.keyboard.press('Escape');
  const undo = page.getByRole('button', { name: 'Undo' });
  const redo = page.getByRole('button', { name: 'Redo' });
  let steps = 0;
  while ((await count()) > 0) {
    await page.keyboard.press('Control+z');
    expect(++steps).toBeLessThan(60);
  }
  expect(await plan()).toBe(blank);
  expect(await undo.isEnabled()).toBe(true);
  for (let i = 0; i < steps; i++) await page.keyboard.press('Control+Shift+z');
  expect(await redo.isEnabled()).toBe(false);
  expect(await plan()).toBe(last);
});

test('the table: renamed in place, found, sorted, locked, hidden, several picked', async () => {
  await page.getByRole('button', { name: 'More' }).click();
  await page.getByRole('menuitem', { name: /^Table/ }).click();
  const table = page.getByRole('dialog', { name: 'Table of everything drawn' });
  const rows = table.locator('[data-row]');
  const firstName = () => rows.first().locator('[data-column=name] input').inputValue();
  await table.getByText(`${await count()} drawn`).waitFor();

  const find = table.getByRole('searchbox');
  await find.fill('berm');
  await expect.poll(() => rows.count()).toBe(1);
  await table.getByLabel('Name of Berm 1').fill('South berm');
  await table.getByLabel('Name of Berm 1').press('Enter');
  await expect.poll(async () => (await named('South berm'))?.kind).toBe('berm');
  await table.getByRole('button', { name: 'Lock South berm' }).click();
  await table.getByRole('button', { name: 'Hide South berm' }).click();
  await expect.poll(async () => (await named('South berm')).locked).toBe(true);
  expect((await named('South berm')).hidden).toBe(true);

  await find.fill('');
  await table.getByRole('button', { name: /^Name/ }).click();
  const names = (await features()).map(({ name }) => name);
  const byName = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });
  await expect.poll(firstName).toBe(names.toSorted(byName.compare)[0]);
  await table.getByRole('button', { name: /^Name/ }).click();
  await expect.poll(firstName).toBe(names.toSorted(byName.compare).at(-1));
  await table.getByRole('button', { name: /^Size/ }).click();
  // The tract is the largest of the areas, and areas come first.
  await expect.poll(firstName).toBe('Property line 1');

  await table.getByLabel('Select Property line 1').check();
  await table.getByLabel('Select Bedding area 1').check();
  await table.getByRole('group', { name: '2 picked' }).waitFor();
  await page.screenshot({ path: 'fixtures/pictures/table.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);
  await table.getByRole('button', { name: 'Close' }).click();
  await page.getByRole('region', { name: '2 selected' }).waitFor();
  await page.keyboard.press('Escape');
});

test('the list of actions does what is typed', async () => {
  await page.keyboard.press('Control+k');
  const list = page.getByRole('dialog', { name: 'Actions' });
  await list.getByRole('combobox').fill('slo');
  expect(await faults(page)).toEqual([]);
  await page.keyboard.press('Enter');
  await list.waitFor({ state: 'detached' });
  expect((await model()).view).toMatchObject({ base: 'slope' });
  await page.keyboard.press('1');
  expect((await model()).view).toMatchObject({ base: 'plan' });
});

test('nothing on the page is out of reach for those who do not see or point', async () => {
  await page.getByRole('button', { name: 'Fit to site' }).click();
  await settled(page);
  await takeTool('Food plot', 'p');
  await tap([
    [60, 230],
    [230, 235],
    [220, 310],
  ]);
  await page.mouse.move(...(await pixels([[70, 315]]))[0]!);
  expect(await faults(page)).toEqual([]);
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/drawing.png', timeout: 60_000 });
  await page.keyboard.press('Escape');

  expect(await faults(page)).toEqual([]);
  await page.getByRole('button', { name: 'Draw', exact: true }).click();
  await page.getByRole('menu', { name: 'Draw' }).waitFor();
  expect(await faults(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Layers' }).click();
  await page.getByRole('region', { name: 'Layers' }).waitFor();
  expect(await faults(page)).toEqual([]);
  await page.keyboard.press('Escape');

  const { left, bottom } = await boxOf(ringOf(await named('Timber block 1')));
  await changeShape('Timber block 1', [left + 8, bottom - 8], 'Grow or shrink');
  await page.getByRole('button', { name: 'Apply' }).waitFor();
  expect(await faults(page)).toEqual([]);
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/change-shape.png', timeout: 60_000 });
  await page.getByRole('button', { name: 'Leave' }).click();
  expect(errors).toEqual([]);
});
