import { defaultLaneWeights, laneGround, type LaneGround } from '../approach/lane-ground.ts';
import { metersFromFeet } from '../frame/units.ts';
import { frameMetersPerGroundMeter } from '../plan/construct/plan-plane.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { Kind } from '../plan/kinds.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import { polygonMask } from '../raster/polygon-mask.ts';
import { seenShare } from '../sight/seen-share.ts';
import type { Lookout } from '../sight/lookout.ts';
import type { Work } from '../work.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import { inFrame, ringsInFrame } from './ground-inputs.ts';
import type { Watched } from './lane-screens.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { carriedKinds, lineInFrame, planOnGround } from './plan-on-ground.ts';
import { carriedOf } from './water-ground.ts';
import { placesIn } from './way-sight.ts';

/** The ground weighed for walking, and where one gets out of the truck. */
export interface LaneSite {
  readonly ground: LaneGround;
  readonly access: readonly { readonly id: string; readonly at: XY }[];
  /** Who watches a walk, over what. */
  readonly watched: Watched;
}

/** A deer's eye and a walker, common practice (trade notes Q37); eyes to each protected ground. */
const EYE_METERS = 1;
const WALKER_METERS = 1.7;
const EYES = 6;
/** Standing water so deep, brim full, is wet to walk (ours). */
const WET_METERS = 0.05;
/**
 * A building drawn as a point is taken to reach so far: half the diagonal of 40 by 60 ft and some for
 * where the point was set (ours). Less where one parks nearer: cells of 3 m that it touches are closed.
 */
export const BUILDING_METERS = metersFromFeet(50);
const PARKED_METERS = 5;
/** Buildings that stand in the way. */
const WALLS = new Set(['dwelling', 'cabin', 'barn']);

const watchedKinds = ['plot', 'bedding-area', 'travel-corridor'] as const satisfies readonly Kind[];

/** What a walk to any stand goes over: all that does not hang on the wind. */
export const laneSite: SiteDefinition = {
  name: 'laneSite',
  per: 'site',
  shown: false,
  keep: 1,
  reads: [
    'setting:lanesFor',
    'setting:wantsSiting',
    'raster:ground',
    'answer:lowSpotSurface',
    'setting:scentRangeMeters',
    'features:no-go',
    'features:property-line',
    'features:access-point',
    'features:timber-block',
    ...watchedKinds.map((kind) => `features:${kind}` as const),
    ...carriedKinds.map((kind) => `features:${kind}` as const),
  ],
  *compute(inputs): Work<LaneSite | null> {
    const ground = inputs.raster('ground');
    if ((inputs.settings.lanesFor === '' && !inputs.settings.wantsSiting) || !ground) return null; // prettier-ignore
    const { grid, frame } = ground;
    const access = [...inputs.features('access-point')]
      .sort((a, b) => (a.id < b.id ? -1 : 1))
      .flatMap(({ id, geometry }) => {
        const at = geometry.type === 'Point' ? inFrame(frame, geometry.coordinates) : null;
        return at ? [{ id, at }] : [];
      });
    const surface = { ...grid, data: planOnGround(ground, carriedOf(inputs)) };
    const eyes = eyesOf(inputs, ground);
    const seen = yield* seenShare(surface, eyes, WALKER_METERS);
    const watched = { ground: surface, eyes: eyes.flat(), walkerMeters: WALKER_METERS };
    const layers = {
      barred: barredOf(inputs, ground, access.map(({ at }) => at)), // prettier-ignore
      path: pathOf(inputs, ground),
      seen,
      wet: wetOf(inputs, ground),
    };
    return { ground: laneGround(surface, layers, defaultLaneWeights), access, watched };
  },
};

function eyesOf(inputs: Inputs, ground: GroundInUse): Lookout[][] {
  const screens = screensOf(inputs, ground);
  const radiusMeters = inputs.settings.scentRangeMeters;
  return watchedKinds.flatMap((kind) =>
    inputs.features(kind).map(
      (feature): Lookout[] =>
      placesOf(feature, ground).map(([x, y]) => ({ x, y, eyeMeters: EYE_METERS, radiusMeters, screens })), // prettier-ignore
    ),
  );
}

function placesOf(feature: PlanFeature, ground: GroundInUse): XY[] {
  if (feature.geometry.type === 'LineString') {
    const line = lineInFrame(ground, feature);
    const length = line ? lineLength(line) : 0;
    if (!line || !(length > 0)) return [];
    return Array.from({ length: EYES }, (_, i) => placeAt(line, ((i + 0.5) * length) / EYES).at);
  }
  const rings = feature.geometry.type === 'Polygon' ? ringsInFrame(feature, ground.frame) : null;
  return rings ? placesIn(rings, EYES) : [];
}

/** Timber that stays hides what is behind it. */
function screensOf(inputs: Inputs, ground: GroundInUse): Float32Array | null {
  let screens: Float32Array | null = null;
  for (const block of inputs.features('timber-block')) {
    if (!isKind(block, 'timber-block') || !block.properties.standing) continue;
    const height = block.properties.heightMeters;
    const rings = height === null ? null : ringsInFrame(block, ground.frame);
    if (!rings || height === null) continue;
    screens ??= new Float32Array(ground.grid.data.length);
    eachCell(ground, rings, false, (cell) => (screens![cell] = Math.max(screens![cell]!, height)));
  }
  return screens;
}

/** No-go ground, bedding areas, buildings, and what lies off the property. */
function barredOf(inputs: Inputs, ground: GroundInUse, parked: readonly XY[]): Uint8Array {
  const barred = new Uint8Array(ground.grid.data.length);
  const property = inputs
    .features('property-line')
    .flatMap((line) => ringsInFrame(line, ground.frame) ?? []);
  if (property.length > 0) {
    barred.fill(1);
    eachCell(ground, property, false, (cell) => (barred[cell] = 0));
  }
  const buildings = inputs
    .features('structure')
    .filter((one) => isKind(one, 'structure') && WALLS.has(one.properties.use));
  for (const feature of [
    ...inputs.features('no-go'),
    ...inputs.features('bedding-area'),
    ...buildings,
  ]) {
    // prettier-ignore
    const { geometry } = feature;
    const rings =
      geometry.type === 'Polygon'
        ? ringsInFrame(feature, ground.frame)
        : geometry.type === 'Point' && buildings.includes(feature)
          ? roundBuilding(inFrame(ground.frame, geometry.coordinates), ground, parked)
          : null;
    if (rings) eachCell(ground, rings, true, (cell) => (barred[cell] = 1));
  }
  return barred;
}

const CORNERS = 24;

function roundBuilding(
  at: XY | null,
  { frame }: GroundInUse,
  parked: readonly XY[],
): XY[][] | null {
  // prettier-ignore
  if (!at) return null;
  const nearest = Math.min(...parked.map(([x, y]) => Math.hypot(x - at[0], y - at[1])));
  const radius = Math.min(BUILDING_METERS * frameMetersPerGroundMeter(frame, at), nearest - PARKED_METERS); // prettier-ignore
  if (!(radius > 0)) return null;
  return [
    Array.from({ length: CORNERS }, (_, i): XY => {
      const turn = (2 * Math.PI * i) / CORNERS;
      return [at[0] + radius * Math.cos(turn), at[1] + radius * Math.sin(turn)];
    }),
  ];
}

function pathOf(inputs: Inputs, ground: GroundInUse): Uint8Array {
  const path = new Uint8Array(ground.grid.data.length);
  const { grid } = ground;
  for (const feature of inputs.features('structure')) {
    if (!isKind(feature, 'structure') || !/^(track|road)$/.test(feature.properties.use)) continue;
    const line = lineInFrame(ground, feature);
    const length = line ? lineLength(line) : 0;
    for (let station = 0; line && station <= length; station += grid.cellWidth / 2) {
      const { at } = placeAt(line, station);
      const column = Math.floor((at[0] - grid.west) / grid.cellWidth);
      const row = Math.floor((grid.north - at[1]) / grid.cellHeight);
      if (column < 0 || row < 0 || column >= grid.width || row >= grid.height) continue;
      path[row * grid.width + column] = 1;
    }
  }
  return path;
}

function wetOf(inputs: Inputs, { grid }: GroundInUse): Float32Array | null {
  const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
  if (!surface || surface.filled.length !== grid.data.length) return null;
  return surface.filled.map((level, i) => (level - grid.data[i]! > WET_METERS ? 1 : 0));
}

function eachCell(
  { grid }: GroundInUse,
  rings: readonly (readonly XY[])[],
  touched: boolean,
  visit: (cell: number) => void,
): void {
  const { whole, partial } = touched
    ? polygonCoverage(grid, rings)
    : { whole: polygonMask(grid, rings), partial: null };
  for (let i = 0; i < whole.count; i++) {
    for (let c = whole.start[i]!; c < whole.end[i]!; c++) visit(whole.row[i]! * grid.width + c);
  }
  for (let i = 0; i < (partial?.count ?? 0); i++) {
    visit(partial!.row[i]! * grid.width + partial!.column[i]!);
  }
}
