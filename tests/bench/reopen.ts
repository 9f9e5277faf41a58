import type { BrowserContext } from 'playwright-core';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { frameFor, openFrame } from '../../geo/frame/open-frame.ts';
import { parseFeature } from '../../geo/plan/feature.ts';
import { emptyRawPlan } from '../../geo/plan/raw-plan.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { forHands, startRig } from '../browser/browser.ts';
import { valueOf } from '../geotiff-samples.ts';
import { sha256, zipOf } from '../project-rig.ts';
import { seeded } from '../seeded.ts';
import type { BenchRow } from './bench-row.ts';

/**
 * A project of 16 M cells that is kept in the browser, found again in a new tab,
 * median of five: until the page paints, until its plan is on the screen, and until its ground is
 * drawn and the map has nothing left to draw.
 */
export async function run(): Promise<BenchRow[]> {
  const rig = await startRig('dist', forHands);
  try {
    const context = await rig.context();
    const page = await context.newPage();
    await page.goto(rig.url);
    await page.getByRole('button', { name: 'Projects', exact: true }).click();
    await page.getByTestId('open-copy').setInputFiles({
      name: 'large.zip',
      mimeType: 'application/zip',
      buffer: Buffer.from(await project()),
    });
    await page.waitForFunction(
      `${state}.features.plot && ${state}.site.lowSpots && ${state}.saved.state === 'saved'`,
      undefined,
      {
        timeout: 300_000,
      },
    );
    const times: Times[] = [];
    await page.close();
    for (let i = 0; i < 5; i++) times.push(await reopened(context, rig.url));
    const row = (name: string, pick: (of: Times) => number, bar: string): BenchRow => ({
      name: `saved project of 16 M cells opened anew: ${name}, median of 5, ms`,
      ours: times.map(pick).toSorted((a, b) => a - b)[2]!,
      reference: null,
      referenceName: 'none',
      ratio: null,
      bar,
    });
    return [
      row('first contentful paint', ({ paint }) => paint, 'under 3000 ms'),
      row('its plan in the worksheet', ({ plan }) => plan, 'under 3000 ms'),
      row('its ground drawn and the map at rest', ({ ground }) => ground, ''),
    ];
  } finally {
    await rig.stop();
  }
}

const state = 'assart.session.getState()';

interface Times {
  readonly paint: number;
  readonly plan: number;
  readonly ground: number;
}

async function reopened(context: BrowserContext, url: string): Promise<Times> {
  const page = await context.newPage();
  await page.goto(url);
  const when = async (condition: string): Promise<number> => {
    await page.waitForFunction(condition, undefined, { timeout: 120_000, polling: 'raf' });
    return page.evaluate(() => performance.now());
  };
  const plan = await when(`globalThis.assart && ${state}.features.plot`);
  const map = `document.querySelector('[data-testid=map]')?.dataset`;
  const ground = await when(`${map}?.rasters?.includes('relief') && ${map}.idle === 'yes'`);
  const paint = await page.evaluate(
    () => performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
  );
  await page.close();
  return { paint, plan, ground };
}

/** A plot on rolling ground of 4096 × 4096 cells of 1 m. */
function project(): Promise<Uint8Array> {
  const frame = openFrame(frameFor(valueOf(crsFromEpsg(26918)), -75.01, 36.14));
  const side = 4096;
  const shape = {
    width: side,
    height: side,
    west: 497_000,
    north: 4_002_000,
    cellWidth: 1,
    cellHeight: 1,
  };
  const random = seeded(11);
  const data = Float32Array.from({ length: side * side }, (_, i) => {
    const [column, row] = [i % side, Math.floor(i / side)];
    return 250 - 0.02 * row + Math.sin(column / 60) + Math.cos(row / 45) + 0.03 * random();
  });
  const { data: _, ...place } = makeGrid(shape, data, frame);
  const [west, south] = frame.toLngLat(shape.west, shape.north - side);
  const [east, north] = frame.toLngLat(shape.west + side, shape.north);
  const ground: GroundRecord = {
    id: sha256(data),
    name: 'Wide ground',
    place,
    bounds: [west, south, east, north],
    surveyedOn: null,
    clearing: 'unknown',
    verticalErrorMeters: 0.1,
    vertical: { unit: 'metre', datum: 'NAVD88', epsg: 5703 },
    sourceCrsName: 'NAD83 / UTM zone 18N',
    sourceFiles: ['wide.tif'],
    sourceCellMeters: 1,
    notes: [],
  };
  const [x, y] = [shape.west + side / 2, shape.north - side / 2];
  const ring = [
    [x, y],
    [x + 120, y],
    [x + 120, y + 90],
    [x, y + 90],
    [x, y],
  ].map(([east, north]) => frame.toLngLat(east!, north!));
  const plot = valueOf(
    parseFeature({
      id: 'plot',
      kind: 'plot',
      name: 'Middle plot',
      geometry: { type: 'Polygon', coordinates: [ring] },
      properties: {},
    }),
  );
  return zipOf({
    plan: {
      ...emptyRawPlan(),
      features: { plot },
      settings: { siteName: 'Wide ground', groundId: ground.id },
      grounds: { [ground.id]: ground },
    },
    rasters: new Map([[ground.id, data]]),
  });
}
