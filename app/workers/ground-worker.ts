import type { FlowCatchments } from '../../geo/water/flow-lines.ts';
import { definitions } from '../../geo/answers/definitions.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { fingerprint } from '../../geo/answers/fingerprint.ts';
import { AnswerGraph } from '../../geo/answers/graph.ts';
import type { FeatureAnswers, SiteAnswers } from '../../geo/answers/answers.ts';
import { planeSlopeIn } from '../../geo/ground/plane-slope.ts';
import { cellAt, sampleBilinear } from '../../geo/raster/sample.ts';
import { RasterStore } from '../document/raster-store.ts';
import { blobSource } from './blob-source.ts';
import { createDesk } from './desk.ts';
import { GroundShop } from './ground-shop.ts';
import type { Probe } from './messages.ts';
import { openPhotoPlane } from './photo-plane.ts';
import { openRangeSource } from './range-source.ts';
import { serveDoor, type Asking } from './serve-door.ts';
import { TileShop } from './tile-shop.ts';

/**
 * The one worker that owns the ground, its surfaces, the tiles drawn from them and the answers.
 * This file only wires: each request to what does it, each answer back through the door.
 */

const shop = new GroundShop((problem) => door.say({ event: 'failed', problem }));
const rasters = new RasterStore(globalThis.indexedDB, () => Date.now());
const tiles = new TileShop();
const graph = new AnswerGraph(definitions);
let ground: GroundInUse | null = null;
let surface: GroundInUse | null = null;
let units: 'us' | 'metric' = 'us';
let version = 0;
/** Counts what was asked into use, so that a slow raster does not come after a later wish. */
let groundTurn = 0;
let surfaceTurn = 0;
let photoTurn = 0;

const desk = createDesk(graph, {
  settled({ name, featureId, shown, value }) {
    if (!shown) return;
    if (featureId === null) {
      door.say({
        event: 'site-answer',
        name: name as keyof SiteAnswers,
        answer: value as SiteAnswers[keyof SiteAnswers] | null,
      });
    } else {
      door.say({
        event: 'feature-answer',
        name: name as keyof FeatureAnswers,
        id: featureId,
        answer: value as FeatureAnswers[keyof FeatureAnswers] | null,
      });
    }
  },
  working: (share, doing, key) => door.say({ event: 'working', share, doing, key }),
  left: (keys) => door.say({ event: 'left', keys }),
  failed: (job, error) =>
    door.say({
      event: 'failed',
      problem: {
        code: 'answer-failed',
        what: `The answer "${job.name}" could not be worked out: ${error instanceof Error ? error.message : String(error)}.`,
        wayOut: 'The rest still holds. Save the project and report this with it.',
        ...(job.featureId === null ? {} : { where: job.featureId }),
      },
    }),
});

function answerFromRasters(): void {
  graph.setRasters({ ...(ground && { ground }), ...(surface && { surface }) });
  desk.goOn();
}

async function useGround(next: GroundInUse | null): Promise<void> {
  // Another date or name is no reason to draw anew; another place is.
  const same =
    next !== null &&
    ground?.record.id === next.record.id &&
    fingerprint(ground.record.place) === fingerprint(next.record.place);
  ground = next;
  answerFromRasters();
  if (same) return;
  await tiles.useGround(ground?.grid ?? null, ground?.frame ?? null, units);
  door.say({
    event: 'tiles-changed',
    kinds: ['relief', 'slope', 'elevation', 'contours'],
    version: String(++version),
  });
}

function probe({ lng, lat }: { lng: number; lat: number }): Probe {
  const nothing = { elevationMeters: null, slope: null, catchmentSquareMeters: null };
  if (!ground) return nothing;
  const { grid, frame } = ground;
  const [x, y] = frame.fromLngLat(lng, lat);
  const cell = cellAt(grid, x, y);
  if (cell < 0) return nothing;
  const row = Math.floor(cell / grid.width);
  const window = { column: cell - row * grid.width, row, width: 1, height: 1 };
  return {
    elevationMeters: numberOrNull(sampleBilinear(grid, x, y)),
    slope: numberOrNull(planeSlopeIn(grid, window)[0]!),
    catchmentSquareMeters: numberOrNull(drainsThrough(cell)),
  };
}

/** NaN while it is not known, or known of another ground. */
function drainsThrough(cell: number): number {
  const flow = graph.siteValue('siteFlow') as FlowCatchments | null | undefined;
  const area = flow?.areaSquareMeters;
  return area?.length === ground?.grid.data.length ? (area?.[cell] ?? NaN) : NaN;
}

function numberOrNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

const door = serveDoor(self, {
  async openFiles({ files, choices, useAtOnce }, asking) {
    const turn = useAtOnce ? ++groundTurn : -1;
    const opening = await shop.open(files.map(blobSource), choices, asking);
    if (opening.kind === 'opened' && turn === groundTurn) {
      const opened = await shop.ground(opening.ground);
      if (opened.ok && turn === groundTurn) void useGround(opened.value);
    }
    return opening;
  },
  async sortFiles({ files }) {
    return (await import('../../geo/formats/sort-files.ts')).sortFiles(files.map(blobSource));
  },
  async openDrawings({ files, choices }, asking) {
    return (await import('./drawing-shop.ts')).openDrawings(files, choices, asking);
  },
  async namesFrom(from) {
    return (await import('./drawing-shop.ts')).namesFrom(from);
  },
  async cleanTrack(order, asking) {
    return (await import('./drawing-shop.ts')).cleanOne(order, asking);
  },
  async bringIn({ picks }, asking) {
    return (await import('./drawing-shop.ts')).bringInChosen(picks, asking);
  },
  async openWind({ file, choices }, asking) {
    return (await import('./wind-shop.ts')).openWindFile(file, choices, asking);
  },
  async leaveDrawings() {
    (await import('./drawing-shop.ts')).leaveDrawings();
    return null;
  },
  async writeDrawings(order) {
    return (await import('./drawing-shop.ts')).writeDrawings(order);
  },
  async openAddress({ url, choices }, asking) {
    const source = await openRangeSource(url);
    if (!source.ok) return { kind: 'refused', problem: source.problem };
    return shop.open([source.value], choices, asking);
  },
  async unpackProject({ file }, asking) {
    return (await import('./project-shop.ts')).unpackProject(file, rasters, asking);
  },
  async packProject({ plan }, asking) {
    return (await import('./project-shop.ts')).packProject(plan, rasters, asking);
  },
  async forgetAnswers() {
    // A ground that was to be used as soon as it is read belongs to a project off the screen now.
    groundTurn++;
    surfaceTurn++;
    surface = null;
    if (ground) await useGround(null);
    else answerFromRasters();
    graph.forgetSettled();
    return null;
  },
  async useGround({ record }) {
    const turn = ++groundTurn;
    const opened = record ? await shop.ground(record) : null;
    if (turn !== groundTurn) return { problem: null };
    if (opened && !opened.ok) return { problem: opened.problem };
    await useGround(opened?.value ?? null);
    return { problem: null };
  },
  async useSurface({ record }) {
    const turn = ++surfaceTurn;
    const opened = record && (await shop.surface(record));
    if (opened && !opened.ok) return { problem: opened.problem };
    if (turn !== surfaceTurn) return { problem: null };
    surface = opened?.value ?? null;
    answerFromRasters();
    return { problem: null };
  },
  async usePhoto({ record }) {
    const turn = ++photoTurn;
    const opened = record ? await shop.photo(record) : null;
    if (turn !== photoTurn) return { problem: null };
    if (opened && !opened.ok) return { problem: opened.problem };
    const photo = opened?.value ?? null;
    await tiles.usePhoto(
      photo && { ...photo.record, pixels: photo.pixels },
      photo && openPhotoPlane(photo.record),
    );
    door.say({ event: 'tiles-changed', kinds: ['photo'], version: String(++version) });
    return { problem: null };
  },
  setPlan({ features, settings, conditions }) {
    if (settings.units !== units) {
      units = settings.units;
      tiles.setUnits(units);
      door.say({ event: 'tiles-changed', kinds: ['contours'], version: String(++version) });
    }
    graph.setSettings(settings);
    graph.setConditions(conditions);
    sayGone(graph.setFeatures(features));
    desk.wake();
    return null;
  },
  putFeatures({ features }) {
    sayGone(graph.putFeatures(features));
    desk.wake();
    return null;
  },
  stopAnswers({ stop }) {
    if (stop) desk.stop();
    else desk.goOn();
    return null;
  },
  probe,
  async catchmentAt(order) {
    return (await import('./catchment-at.ts')).catchmentAt(graph, order);
  },
  async repairOutline({ rings }) {
    const { mend } = await import('./construct.ts');
    return mend(rings, ground?.frame ?? null);
  },
  async construct({ construction, geometries }) {
    const { construct } = await import('./construct.ts');
    return construct(construction, geometries, ground?.frame ?? null);
  },
  async duplicate(order) {
    const { duplicate } = await import('./construct.ts');
    return duplicate(order, ground?.frame ?? null);
  },
  async findCrs({ text }) {
    const { findSystems } = await import('../../geo/frame/find-systems.ts');
    return findSystems(text);
  },
  async placeIn({ epsg, x, y }) {
    const { placeIn } = await import('../../geo/frame/place-in.ts');
    return placeIn(epsg, x, y);
  },
  tile: (order, asking) => inTurn(asking, () => tiles.draw(order)),
  contourLabels: (chunk, asking) => inTurn(asking, () => tiles.contourLabels(chunk)),
});

/** Puts what the map waits for among the tiles; null where it is no longer wanted. */
function inTurn<T>(asking: Asking, make: () => Promise<T>): Promise<T | null> {
  return new Promise((resolve, reject) =>
    desk.addTile({
      dropped: () => {
        if (asking.stopped()) resolve(null);
        return asking.stopped();
      },
      run: () => make().then(resolve, reject),
    }),
  );
}

function sayGone(gone: ReturnType<AnswerGraph['putFeatures']>): void {
  for (const { name, featureId, shown } of gone) {
    if (!shown || featureId === null) continue;
    door.say({
      event: 'feature-answer',
      name: name as keyof FeatureAnswers,
      id: featureId,
      answer: null,
    });
  }
}
