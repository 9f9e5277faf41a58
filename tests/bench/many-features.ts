import type { Page } from 'playwright-core';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { frameFor, openFrame } from '../../geo/frame/open-frame.ts';
import { parseFeature, type PlanFeature, type Position } from '../../geo/plan/feature.ts';
import type { Kind } from '../../geo/plan/kinds.ts';
import { emptyRawPlan } from '../../geo/plan/raw-plan.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { forHands, startRig, type Rig } from '../browser/browser.ts';
import { mapPlace, settled } from '../browser/map-place.ts';
import { valueOf } from '../geotiff-samples.ts';
import { sha256, zipOf } from '../project-rig.ts';
import { seeded } from '../seeded.ts';
import type { BenchRow } from './bench-row.ts';
import { watchScripts, type ScriptLog } from './watch-scripts.ts';

/**
 * A plan of 500 features with 50,000 corners over a ground of 1.3 M cells; one corner of one plot is
 * dragged. Script time of one edit: everything that runs on the page's main thread from one move of
 * the pointer to the next, the map's own painting left out. Frames: how far apart the map paints
 * while the corner is dragged without a pause, against the same drag in a plan of that plot alone.
 */
export async function run(): Promise<BenchRow[]> {
  const rig = await startRig('dist', forHands);
  try {
    const many = await drag(rig, columns * rows);
    const alone = await drag(rig, 1);
    const sorted = many.edits.toSorted((a, b) => a - b);
    const at = (share: number) => sorted[Math.floor(share * sorted.length)]!;
    const reference = { referenceName: 'the plot alone', bar: 'ratio at most 1.3' };
    return [
      {
        ...noReference,
        name: `script of one edit among 500 features, 50,000 corners, median of ${sorted.length}, ms`,
        ours: at(0.5),
      },
      { ...noReference, name: 'the same, 95th percentile', ours: at(0.95) },
      {
        ...reference,
        name: 'frame while dragging among 500 features, ms',
        ours: many.frame,
        reference: alone.frame,
        ratio: many.frame / alone.frame,
      },
    ];
  } finally {
    await rig.stop();
  }
}

const noReference = { reference: null, referenceName: 'none', ratio: null, bar: 'under 16 ms' };

const columns = 25;
const rows = 20;
const corners = 100;
const cellMeters = 50;
/** The plot whose corner is dragged: in the middle. */
const dragged = { column: 12, row: 10 };
const kinds: readonly Kind[] = ['plot', 'clearing', 'no-go', 'lane', 'berm', 'timber-block'];

const frame = frameFor(valueOf(crsFromEpsg(26918)), -75.01, 36.14);
const place = openFrame(frame);
const west = 499_000;
const north = 4_000_400;

async function drag(rig: Rig, count: number): Promise<{ edits: number[]; frame: number }> {
  const page = await (await rig.context()).newPage();
  // The runner's compiler names functions by a helper that the page does not have.
  await page.addInitScript('globalThis.__name = (made) => made;');
  await page.addInitScript(watchScripts);
  await page.goto(rig.url);
  await page.locator('[data-testid=map][data-rasters~=photo]').waitFor({ timeout: 120_000 });
  await page.getByRole('button', { name: 'Projects' }).click();
  await page.getByTestId('open-copy').setInputFiles({
    name: 'many.zip',
    mimeType: 'application/zip',
    buffer: Buffer.from(await project(count)),
  });
  const name = nameOf(dragged.column, dragged.row);
  // Opened, every feature answered, the slow answers of the site done and all of it painted.
  const wanted = `Object.keys(features).length === ${count} && working === null`;
  await waitFor(page, `${wanted} && answers.${idOf(dragged.column, dragged.row)}?.plotLowSpots`);
  await page.waitForTimeout(3000);
  await waitFor(page, wanted);
  await settled(page);
  await page.getByRole('button', { name, exact: true }).first().click();
  await page.getByRole('button', { name: 'Edit shape' }).click();
  const start = await bringNear(page);
  const log = await dragCorner(page, start);
  await page.context().close();
  return log;
}

function waitFor(page: Page, condition: string): Promise<unknown> {
  return page.waitForFunction(
    `(() => { const { features, answers, working } = assart.session.getState(); return ${condition}; })()`,
    undefined,
    { timeout: 180_000 },
  );
}

/** Zooms until the plot is some 300 pixels wide; gives the pixel of its first corner. */
async function bringNear(page: Page): Promise<{ x: number; y: number }> {
  const center = place.toLngLat(...middleOf(dragged.column, dragged.row));
  const [lng, lat] = cornerOf(dragged.column, dragged.row, 0);
  for (let turns = 0; turns < 30; turns++) {
    await settled(page);
    const view = await mapPlace(page);
    const middle = view.toPixel(...center);
    const corner = view.toPixel(lng, lat);
    if (Math.hypot(corner.x - middle.x, corner.y - middle.y) > 130) return corner;
    await page.mouse.move(middle.x, middle.y);
    await page.mouse.wheel(0, -900);
    await page.waitForTimeout(500);
  }
  throw new Error('The plot could not be brought near.');
}

async function dragCorner(page: Page, { x, y }: { x: number; y: number }) {
  await page.mouse.move(x, y);
  await page.mouse.down();
  const at = (i: number): [number, number] => [x + (i % 30), y - (i % 23)];
  // So far apart that all that an edit sets off has run before the next one comes.
  const edits: number[] = [];
  for (let i = 1; i <= 80; i++) {
    await page.evaluate(() => (globalThis as unknown as { scripts: ScriptLog }).scripts.begin());
    await page.mouse.move(...at(i));
    await page.waitForTimeout(250);
    edits.push(
      await page.evaluate(() => (globalThis as unknown as { scripts: ScriptLog }).scripts.ours),
    );
  }
  const started = await painted(page);
  for (let i = 1; i <= 300; i++) await page.mouse.move(...at(i));
  const ended = await painted(page);
  await page.mouse.up();
  // The first edits also make what is made once.
  return {
    edits: edits.slice(5),
    frame: (ended.now - started.now) / (ended.frames - started.frames),
  };
}

function painted(page: Page): Promise<{ now: number; frames: number }> {
  return page.evaluate(() => ({
    now: performance.now(),
    frames: (globalThis as unknown as { scripts: ScriptLog }).scripts.frames,
  }));
}

function idOf(column: number, row: number): string {
  return `f${row * columns + column}`;
}

function nameOf(column: number, row: number): string {
  return `Feature ${row * columns + column + 1}`;
}

function middleOf(column: number, row: number): [number, number] {
  return [west + (column + 0.5) * cellMeters, north - (row + 0.5) * cellMeters];
}

/** Corner of a wavy round, degrees. */
function cornerOf(column: number, row: number, i: number): Position {
  const [x, y] = middleOf(column, row);
  const turn = (2 * Math.PI * i) / corners;
  const radius = 18 + 3 * Math.sin(5 * turn + column + row);
  const [lng, lat] = place.toLngLat(x + radius * Math.cos(turn), y + radius * Math.sin(turn));
  return [lng, lat];
}

function featureAt(column: number, row: number): PlanFeature {
  const number = row * columns + column;
  const isDragged = column === dragged.column && row === dragged.row;
  const kind = isDragged ? 'plot' : kinds[number % kinds.length]!;
  const line = Array.from({ length: corners }, (_, i) => cornerOf(column, row, i));
  const geometry =
    kind === 'lane' || kind === 'berm'
      ? { type: 'LineString', coordinates: line }
      : { type: 'Polygon', coordinates: [[...line, line[0]]] };
  const properties = kind === 'no-go' ? { reason: 'other' } : {};
  const id = idOf(column, row);
  return valueOf(parseFeature({ id, kind, name: nameOf(column, row), geometry, properties }));
}

/** The plan as a project file: all features, or the dragged one alone. */
function project(count: number): Promise<Uint8Array> {
  const random = seeded(7);
  const [width, height] = [1400, 1200];
  const data = Float32Array.from({ length: width * height }, (_, i) => {
    const [column, row] = [i % width, Math.floor(i / width)];
    return 250 - 0.02 * row + Math.sin(column / 60) + Math.cos(row / 45) + 0.03 * random();
  });
  const shape = { width, height, west: west - 75, north: north + 100, cellWidth: 1, cellHeight: 1 };
  const { data: _, ...gridPlace } = makeGrid(shape, data, place);
  const [left, low] = place.toLngLat(shape.west, shape.north - height);
  const [right, high] = place.toLngLat(shape.west + width, shape.north);
  const ground: GroundRecord = {
    id: sha256(data),
    name: 'Rolling ground',
    place: gridPlace,
    bounds: [left, low, right, high],
    surveyedOn: null,
    clearing: 'unknown',
    verticalErrorMeters: 0.1,
    vertical: { unit: 'metre', datum: 'NAVD88', epsg: 5703 },
    sourceCrsName: 'NAD83 / UTM zone 18N',
    sourceFiles: ['rolling.tif'],
    sourceCellMeters: 1,
    notes: [],
  };
  const all = Array.from({ length: columns * rows }, (_, i) =>
    featureAt(i % columns, Math.floor(i / columns)),
  );
  const wanted = nameOf(dragged.column, dragged.row);
  const features = count === 1 ? all.filter(({ name }) => name === wanted) : all;
  return zipOf({
    plan: {
      ...emptyRawPlan(),
      features: Object.fromEntries(features.map((feature) => [feature.id, feature])),
      settings: { siteName: 'Many features', groundId: ground.id },
      grounds: { [ground.id]: ground },
    },
    rasters: new Map([[ground.id, data]]),
  });
}
