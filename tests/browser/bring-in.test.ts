import { readFile } from 'node:fs/promises';
import { unzipSync, zipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openGdal, type Gdal } from '../gdal.ts';
import { asGdalReads, flatPositions, utf8 } from '../vector-rig.ts';
import { sizes, startRig, watchErrors, type Rig } from './browser.ts';
import { mapPlace, settled } from './map-place.ts';
import { faults } from './page-faults.ts';

/**
 * What the user already has, brought into the demo in a real browser: a parcel layer with owners, a
 * walked loop with a spike, a zipped shapefile in state-plane feet, the calls of a deed. GDAL makes
 * the shapefile, reads what is saved, and says where everything has to lie.
 */

const foot = 0.3048;
const patient = { timeout: 20_000 };
/** The demo lies on its zone's middle meridian, where UTM is short by this. */
const utmScale = 0.9996;

let rig: Rig;
let page: Page;
let gdal: Gdal;
let errors: string[];
/** Middle of the demo's ground in UTM 18N. */
let middle: readonly [number, number];

beforeAll(async () => {
  [rig, gdal] = await Promise.all([startRig(), openGdal()]);
  page = await (await rig.context(sizes.laptop)).newPage();
  errors = watchErrors(page);
  await page.goto(rig.url);
  await page.locator('[data-testid=map][data-rasters]').waitFor({ timeout: 60_000 });
  const [ground] = Object.values((await model()).grounds);
  const [west, south, east, north] = ground!.bounds;
  const at: [number, number] = [(west + east) / 2, (south + north) / 2];
  [middle] = (await gdal.transform([at], 'OGC:CRS84', 'EPSG:26918')) as [[number, number]];
});
afterAll(() => rig?.stop());

interface Feature {
  readonly kind: string;
  readonly name: string;
  readonly geometry: { readonly type: string; readonly coordinates: unknown };
  readonly properties: Readonly<Record<string, unknown>>;
}
interface ReadModel {
  readonly features: Readonly<Record<string, Feature>>;
  readonly grounds: Readonly<Record<string, { bounds: [number, number, number, number] }>>;
  readonly selectedId: string | null;
  readonly helper: object | null;
  readonly deed: { readonly start: [number, number] | null; readonly text: string };
}

const model = () =>
  page.evaluate(() => {
    const { session } = (
      globalThis as unknown as { assart: { session: { getState(): ReadModel } } }
    ).assart;
    const { features, grounds, selectedId, helper, deed } = session.getState();
    return JSON.parse(JSON.stringify({ features, grounds, selectedId, helper, deed })) as ReadModel;
  });
/** Whether a text stands anywhere in all that the page holds of the plan and its answers. */
const holds = (text: string) =>
  page.evaluate((sought) => {
    const { session } = (globalThis as unknown as { assart: { session: { getState(): object } } })
      .assart;
    return JSON.stringify(session.getState()).includes(sought);
  }, text);
const features = async () => Object.values((await model()).features);
const named = async (name: string) => (await features()).find((one) => one.name === name);

type XY = [number, number];
/** Metres on the ground from the middle of the demo, as degrees. */
async function degrees(metres: readonly XY[]): Promise<XY[]> {
  const utm = metres.map(([x, y]): XY => [middle[0] + x * utmScale, middle[1] + y * utmScale]);
  return gdal.transform(utm, 'EPSG:26918', 'OGC:CRS84');
}

async function drop(given: Readonly<Record<string, Uint8Array | string>>): Promise<void> {
  const list = Object.entries(given).map(([name, content]) => ({
    name,
    base64: Buffer.from(content).toString('base64'),
  }));
  const transfer = await page.evaluateHandle((files) => {
    const carried = new DataTransfer();
    for (const { name, base64 } of files) {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      carried.items.add(new File([bytes], name));
    }
    return carried;
  }, list);
  await page.dispatchEvent('body', 'dragenter', { dataTransfer: transfer });
  await page.getByText(/^Let go to open it/).waitFor();
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
}

const parcels: Readonly<Record<string, readonly XY[]>> = {
  '07-114': [
    [-180, -150],
    [60, -160],
    [70, 150],
    [-170, 140],
    [-180, -150],
  ],
  '07-115': [
    [60, -160],
    [190, -150],
    [180, 140],
    [70, 150],
    [60, -160],
  ],
};

async function parcelLayer(): Promise<string> {
  const made = Object.entries(parcels).map(async ([PIN, ring], i) => ({
    type: 'Feature',
    properties: { PIN, OWNER: `Ottoline Quade ${i}`, MAILADDR: '12 Nowhere Lane', ACRES: 20 + i },
    geometry: { type: 'Polygon', coordinates: [await degrees(ring)] },
  }));
  return JSON.stringify({ type: 'FeatureCollection', features: await Promise.all(made) });
}

const loop = { radius: 60, fixes: 180, spike: 70 };

/** A loop walked at 2.1 m/s, a fix a second, one of them 300 m off. */
async function walkedTrack(): Promise<string> {
  const { radius, fixes, spike } = loop;
  const metres = Array.from({ length: fixes + 1 }, (_, i): XY => {
    const angle = (2 * Math.PI * i) / fixes;
    return i === spike
      ? [radius + 300, radius]
      : [-40 + radius * Math.cos(angle), radius * Math.sin(angle)];
  });
  const points = (await degrees(metres)).map(([lng, lat], i) => {
    const time = new Date(Date.UTC(2026, 3, 12, 14, 0, i)).toISOString();
    return `<trkpt lat="${lat.toFixed(9)}" lon="${lng.toFixed(9)}"><time>${time}</time></trkpt>`;
  });
  return `<?xml version="1.0"?><gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>Walked edge</name><trkseg>${points.join('')}</trkseg></trk></gpx>`;
}

/** Two ditches in North Carolina state-plane feet, written by GDAL, with their .prj. */
async function ditchShapefile(): Promise<Record<string, Uint8Array>> {
  const runs: readonly XY[][] = [
    [
      [-120, 60],
      [-60, 90],
      [20, 100],
    ],
    [
      [90, -40],
      [110, 60],
    ],
  ];
  const made = runs.map(async (run, i) => ({
    type: 'Feature',
    properties: { NAME: `Swale ${i + 1}` },
    geometry: { type: 'LineString', coordinates: await degrees(run) },
  }));
  const text = JSON.stringify({ type: 'FeatureCollection', features: await Promise.all(made) });
  const input = gdal.write('ditches.geojson', utf8(text));
  const args = ['-f', 'ESRI Shapefile', '-t_srs', 'EPSG:2264', '-nln', 'ditches'];
  const folder = await gdal.run('ogr2ogr', input, args, 'ditches');
  return Object.fromEntries(
    ['shp', 'shx', 'dbf', 'prj'].map((ending) => [
      `ditches.${ending}`,
      gdal.read(`${folder}/ditches.${ending}`).slice(),
    ]),
  );
}

test('parcels, a walk and a shapefile are looked over, chosen, kept and taken back', async () => {
  const before = await model();
  const [geojson, gpx, shp] = await Promise.all([parcelLayer(), walkedTrack(), ditchShapefile()]);
  await drop({ 'parcels.geojson': geojson, 'walk.gpx': gpx, 'ditches.zip': zipSync(shp) });
  const panel = page.getByRole('dialog', { name: /^Bring in/ });
  await panel.waitFor();

  // People stay out, tracks are cleaned, and it is said.
  expect(await panel.innerText()).toMatch(/Left out about people:.*OWNER/);
  await expect.poll(() => panel.innerText(), patient).toMatch(/spike|impossible|jump/i);
  expect(Object.keys((await model()).features)).toEqual(Object.keys(before.features));

  // Names and kinds are chosen; one parcel is the neighbour's and stays out.
  await panel
    .getByRole('region', { name: /parcels/ })
    .getByLabel('Names from')
    .selectOption('PIN');
  const [mine, neighbour] = Object.keys(parcels) as [string, string];
  await panel.getByText(neighbour, { exact: true }).waitFor();
  await panel.getByRole('checkbox', { name: new RegExp(neighbour) }).uncheck();
  await panel.getByLabel(`${mine} becomes`).selectOption('property-line');
  await panel.getByLabel('Walked edge becomes').selectOption('plot');
  await panel.getByRole('region', { name: /ditches/ }).getByLabel('All of it becomes').selectOption('ditch'); // prettier-ignore
  await expect.poll(() => panel.innerText(), patient).not.toContain('Cleaning the track');
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/bring-in.png', timeout: 60_000 });
  expect(await faults(page)).toEqual([]);

  await panel.getByRole('button', { name: 'Bring in 4' }).click();
  await panel.waitFor({ state: 'detached' });
  await expect.poll(() => named(mine), patient).toBeTruthy();
  expect(await holds(mine)).toBe(true);
  for (const personal of ['Ottoline', 'Nowhere Lane']) expect(await holds(personal)).toBe(false);

  // Where GDAL says: the parcel as it was written, the ditches out of state-plane feet.
  const [parcel] = await asGdalReads(gdal, { 'parcels.geojson': geojson }, 'parcels.geojson');
  expect(await named(mine)).toMatchObject({ kind: 'property-line' });
  expectSamePlaces((await named(mine))!, parcel!.geometry!.coordinates);
  const ditches = await asGdalReads(gdal, shp, 'ditches.shp', ['-t_srs', 'EPSG:4269']);
  for (const { geometry, properties } of ditches) {
    const ours = (await named(String(properties['NAME'])))!;
    expect(ours.kind).toBe('ditch');
    expectSamePlaces(ours, geometry!.coordinates);
  }
  // The walk closed to an outline without its spike: a circle's area, never 300 m off.
  const walked = (await named('Walked edge'))!;
  expect(walked).toMatchObject({ kind: 'plot', geometry: { type: 'Polygon' } });
  const ring = await toMetres(flatPositions(walked.geometry.coordinates));
  for (const [x, y] of ring) expect(Math.hypot(x + 40, y)).toBeLessThan(loop.radius + 2);
  // Straightened by 4 ft 6 in, no chord of the circle rises by more: that bounds the area lost.
  const share = shoelace(ring) / (Math.PI * loop.radius ** 2);
  const chord = 2 * Math.acos(1 - (4.5 * foot) / loop.radius);
  expect(share).toBeLessThan(1);
  expect(share).toBeGreaterThan(Math.sin(chord) / chord);

  // One undo takes back all of it, one redo brings it again.
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(async () => (await model()).features, patient).toEqual(before.features);
  await page.getByRole('button', { name: 'Redo', exact: true }).click();
  await expect.poll(() => named('Swale 2'), patient).toBeTruthy();
});

test('what is drawn is saved as a shapefile that GDAL reads, without owners', async () => {
  const sheet = page.getByRole('region', { name: 'Worksheet' });
  await sheet.getByRole('button', { name: /^Papers/ }).click();
  await sheet.getByRole('radio', { name: /shapefile/i }).check();
  const download = page.waitForEvent('download', { timeout: 60_000 });
  await sheet.getByRole('button', { name: 'Save drawings' }).click();
  const bytes = await readFile(await (await download).path());
  const parts = unzipSync(bytes);
  const layers = Object.keys(parts).filter((name) => name.endsWith('.shp'));
  const read: { name: string; coordinates: unknown }[] = [];
  for (const layer of layers) {
    const stem = layer.slice(0, -4);
    const own = Object.fromEntries(
      Object.entries(parts).filter(([name]) => name.startsWith(`${stem}.`)),
    );
    for (const { geometry, properties } of await asGdalReads(gdal, own, layer)) {
      const name = Object.entries(properties).find(([key]) => key.toLowerCase() === 'name')?.[1];
      if (geometry) read.push({ name: String(name), coordinates: geometry.coordinates });
    }
  }
  const drawn = await features();
  expect(read.length).toBe(drawn.length);
  for (const name of ['07-114', 'Swale 1', 'Swale 2', 'Walked edge', 'Bench plot']) {
    const ours = drawn.find((one) => one.name === name)!;
    const theirs = read.find((one) => one.name === name)!;
    // A shapefile's rings run the other way round; the corners are the same ones.
    expect(cornerSet(theirs.coordinates)).toEqual(cornerSet(ours.geometry.coordinates));
  }
  expect(Buffer.from(bytes).toString('latin1') + JSON.stringify(read)).not.toMatch(/Ottoline/);
});

test('the calls of a deed, by keyboard alone, become a property line', async () => {
  await page.keyboard.press('Control+k');
  await page.getByRole('dialog', { name: /actions/i }).waitFor();
  await page.keyboard.type('metes');
  await page.keyboard.press('Enter');
  const panel = page.getByRole('dialog', { name: 'Property line from deed calls' });
  await panel.waitFor();

  // The point of beginning under the cross, a little to the north-west of the middle.
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await expect.poll(async () => (await model()).helper !== null, patient).toBe(true);
  await page.keyboard.press(' ');
  for (const key of ['ArrowLeft', 'ArrowUp']) for (let i = 0; i < 2; i++) await page.keyboard.press(key); // prettier-ignore
  await page.keyboard.press(' ');
  await expect.poll(async () => (await model()).deed.start !== null, patient).toBe(true);
  const start = (await model()).deed.start!;

  // The calls go into the field that has the keys now; the second one has E for W.
  const calls = ['N 12°30\' E 330 ft', 'S 80-15 W 30 rods', 'S 5°00\'00" W 6 chains', 'S 80 30 E 432.6 ft']; // prettier-ignore
  await expect.poll(() => panel.locator('textarea').evaluate((e) => e === document.activeElement), patient).toBe(true); // prettier-ignore
  await page.keyboard.type(['Beginning at an iron pin', ...calls].join('\n'));
  const text = () => panel.innerText();
  await expect.poll(text, patient).toContain('N 12°30\'00" E, 330.00 ft');
  // 30 rods of 16.5 ft, 6 chains of 66 ft.
  expect(await text()).toContain('S 80°15\'00" W, 495.00 ft');
  expect(await text()).toContain('S 5°00\'00" W, 396.00 ft');
  const wanted = latitudesAndDepartures([
    [12.5, 330],
    [180 + 80.25, 495],
    [185, 396],
    [180 - 80.5, 432.6],
  ]);
  const [east, north] = wanted[wanted.length - 1]!;
  const miss = Math.hypot(east, north);
  expect(miss).toBeGreaterThan(50);
  expect(await text()).toMatch(new RegExp(`Left to go to the start\\s+${miss.toFixed(2)} ft`));
  expect(await text()).toContain('It closes poorly.');
  await settled(page);
  expect(await faults(page)).toEqual([]);

  // Escape leaves, and what was written is there again.
  await page.keyboard.press('Escape');
  await panel.waitFor({ state: 'detached' });
  await page.getByRole('button', { name: 'Draw', exact: true }).click();
  await page.getByRole('menuitem', { name: 'From deed calls' }).click();
  expect(await panel.locator('textarea').inputValue()).toContain('30 rods');

  // The last call goes home by what is left; latitudes and departures say how far.
  const [x3, y3] = wanted[3]!;
  const home = quadrant(Math.atan2(-x3, -y3));
  const length = Math.hypot(x3, y3).toFixed(1);
  await panel.locator('textarea').focus();
  await page.keyboard.press('Control+End');
  await page.keyboard.press('Shift+Home');
  await page.keyboard.type(`${home} ${length} feet`);
  await expect.poll(text, patient).toContain('It closes well.');
  await panel.getByLabel('The last corner').selectOption('balanced');
  const acres = Math.abs(area([...wanted.slice(0, 4)])) / 43_560;
  await expect.poll(text, patient).toMatch(new RegExp(`Area\\s+${acres.toFixed(2)}\\s*ac`));
  await settled(page);
  await page.screenshot({ path: 'fixtures/pictures/deed-calls.png', timeout: 60_000 });

  await panel.locator('textarea').focus();
  await page.keyboard.press('Control+Enter');
  await panel.waitFor({ state: 'detached' });
  const kept = await model();
  const made = kept.features[kept.selectedId!]!;
  expect(made).toMatchObject({ kind: 'property-line', properties: { basis: 'deed' } });
  // By GDAL, metres east and north of the start; balancing moves no corner by more than the miss.
  const plane = `+proj=aeqd +lat_0=${start[1]} +lon_0=${start[0]} +ellps=GRS80`;
  const ring = flatPositions(made.geometry.coordinates);
  const placed = await gdal.transform(ring, 'OGC:CRS84', plane);
  expect(placed.length).toBe(5);
  placed.slice(0, 4).forEach(([x, y], i) => {
    const [wx, wy] = wanted[i]!;
    expect(Math.hypot(x - wx * foot, y - wy * foot)).toBeLessThan(0.1 * foot);
  });
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect
    .poll(async () => (await model()).features[kept.selectedId!], patient)
    .toBeUndefined();
  expect(errors).toEqual([]);
});

test('a property line that is there gets the shape of its deed', async () => {
  const place = await mapPlace(page);
  const before = (await named('KITE-41'))!;
  const [lng, lat] = flatPositions(before.geometry.coordinates)[0]!;
  expect(place.toPixel(lng, lat).x).toBeGreaterThan(0);
  await page.evaluate(() => {
    const { session } = (
      globalThis as unknown as { assart: { session: { setState(change: object): void } } }
    ).assart;
    session.setState({ selectedId: 'parcel', alsoSelected: [] });
  });
  const what = page.getByRole('region', { name: 'What it is: KITE-41' });
  await what.getByText('Change its shape').click();
  await what.getByRole('button', { name: 'From deed calls' }).click();
  const panel = page.getByRole('dialog', { name: 'Property line from deed calls' });
  await panel.waitFor();
  // It begins at the line's own first corner.
  const typed = await panel.getByLabel('Latitude, longitude').inputValue();
  expect(typed).toBe(`${lat.toFixed(6)}, ${lng.toFixed(6)}`);
  await panel.locator('textarea').fill('N 100 ft\nE 100 ft\nS 100 ft\nW 100 ft');
  await panel.getByRole('button', { name: 'Take this shape' }).click();
  await expect
    .poll(async () => (await named('KITE-41'))?.properties['basis'], patient)
    .toBe('deed');
  expect(flatPositions((await named('KITE-41'))!.geometry.coordinates).length).toBe(5);
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(() => named('KITE-41'), patient).toEqual(before);
  expect(errors).toEqual([]);
});

/** The same corners in the same order, to a millimetre or so. */
function expectSamePlaces(ours: Feature, theirs: unknown): void {
  const [a, b] = [flatPositions(ours.geometry.coordinates), flatPositions(theirs)];
  expect(a.length).toBe(b.length);
  a.forEach(([lng, lat], i) => {
    expect(Math.abs(lng - b[i]![0])).toBeLessThan(2e-8);
    expect(Math.abs(lat - b[i]![1])).toBeLessThan(2e-8);
  });
}

const cornerSet = (coordinates: unknown) =>
  [
    ...new Set(flatPositions(coordinates).map(([x, y]) => `${x.toFixed(7)} ${y.toFixed(7)}`)),
  ].sort();

async function toMetres(places: readonly XY[]): Promise<XY[]> {
  const utm = await gdal.transform(places, 'OGC:CRS84', 'EPSG:26918');
  return utm.map(([x, y]) => [(x - middle[0]) / utmScale, (y - middle[1]) / utmScale]);
}

function area(points: readonly XY[]): number {
  return (
    points.reduce((twice, [x, y], i) => {
      const [nx, ny] = points[(i + 1) % points.length]!;
      return twice + x * ny - nx * y;
    }, 0) / 2
  );
}
const shoelace = (points: readonly XY[]) => Math.abs(area(points));

/** Corners by azimuth and length, from the start on. */
function latitudesAndDepartures(courses: readonly XY[]): XY[] {
  const corners: XY[] = [[0, 0]];
  for (const [azimuth, length] of courses) {
    const [x, y] = corners[corners.length - 1]!;
    const angle = (azimuth * Math.PI) / 180;
    corners.push([x + length * Math.sin(angle), y + length * Math.cos(angle)]);
  }
  return corners;
}

/** `S 45 30 00 E` to the second, by hand. */
function quadrant(radians: number): string {
  const azimuth = ((radians * 180) / Math.PI + 360) % 360;
  const north = azimuth < 90 || azimuth > 270;
  const off = north ? Math.min(azimuth, 360 - azimuth) : Math.abs(180 - azimuth);
  const seconds = Math.round(off * 3600);
  const parts = [seconds / 3600, (seconds / 60) % 60, seconds % 60].map(Math.floor);
  return `${north ? 'N' : 'S'} ${parts.join(' ')} ${azimuth < 180 ? 'E' : 'W'}`;
}
