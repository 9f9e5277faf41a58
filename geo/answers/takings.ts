import { burnRemnant, remnantFootprint } from '../debris/burn-remnant.ts';
import { bermFootprint, heapFootprint } from '../debris/footprint.ts';
import type { Frame } from '../frame/crs-types.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Layer } from '../plan/overlay/overlay.ts';
import { lineMeetsPolygon } from '../plan/line-meets-polygon.ts';
import type { SettingKey, Settings } from '../plan/settings.ts';

/** What drawn things take of the ground, and which of them say too little to tell. */

/** Kinds that take ground from a plot, in the order in which they are taken off. */
export const takingKinds = ['no-go', 'structure', 'berm', 'heap'] as const;
export type TakingKind = (typeof takingKinds)[number];

export interface Taking {
  readonly feature: PlanFeature<TakingKind>;
  /** Null for a point or line that no size is drawn for. */
  readonly layer: Layer | null;
  /** West, south, east, north of what is drawn, frame metres. */
  readonly box: readonly [number, number, number, number];
  /** Its points, for what has no layer. */
  readonly line: readonly XY[];
}

/**
 * Everything that may take ground from a polygon in the frame: what lies in its box, in the order
 * of `takingKinds`, then by id. Features that the frame has no place for are far off and left out.
 */
export function takingsNear(
  { features, settings, isNextFall }: TakingsAsked,
  frame: Frame,
  rings: readonly (readonly XY[])[],
): Taking[] {
  const near = boxOf(rings.flat());
  const rule = ruleOf(settings);
  const cache = isNextFall ? knownNext : known;
  return takingKinds.flatMap((kind) =>
    [...features(kind)]
      .sort((a, b) => (a.id < b.id ? -1 : 1))
      .map((feature) => takingOf(feature as PlanFeature<TakingKind>, frame, rule, cache))
      .filter((taking) => taking !== null && boxesMeet(taking.box, near)),
  ) as Taking[];
}

export interface TakingsAsked {
  readonly features: (kind: TakingKind) => readonly PlanFeature[];
  readonly settings: Settings;
  /** What is to burn has burned, and its remnant is heaped. */
  readonly isNextFall: boolean;
}

/** Settings that footprints hang on. */
export const takingSettings = [
  'workingStripMeters',
  'burnConsumedShare',
  'bermMaxHeightMeters',
] as const satisfies readonly SettingKey[];
type Rule = Pick<Settings, (typeof takingSettings)[number]>;

function ruleOf(settings: Settings): Rule {
  const { workingStripMeters, burnConsumedShare, bermMaxHeightMeters } = settings;
  return { workingStripMeters, burnConsumedShare, bermMaxHeightMeters };
}

/** Whether it is to burn, so that next fall its ground is another. */
export function burns(feature: PlanFeature): feature is PlanFeature<'berm' | 'heap'> {
  return (isKind(feature, 'berm') || isKind(feature, 'heap')) && feature.properties.toBurn;
}

/** Whether something without a drawn size lies in the polygon, so that what it takes is unknown. */
export function isInDoubt(taking: Taking, rings: readonly (readonly XY[])[]): boolean {
  return taking.layer === null && lineMeetsPolygon(taking.line, rings);
}

interface Known {
  readonly frame: Frame;
  readonly rule: Rule;
  readonly taking: Taking | null;
}

/** While one thing is dragged the others keep their footprints; this fall's, and next fall's. */
const known = new WeakMap<PlanFeature, Known>();
const knownNext = new WeakMap<PlanFeature, Known>();

function takingOf(
  feature: PlanFeature<TakingKind>,
  frame: Frame,
  rule: Rule,
  cache: WeakMap<PlanFeature, Known>,
): Taking | null {
  const before = cache.get(feature);
  if (before?.frame === frame && takingSettings.every((key) => before.rule[key] === rule[key])) {
    return before.taking;
  }
  let taking: Taking | null = null;
  try {
    taking = workOut(feature, frame, rule, cache === knownNext);
  } catch (error) {
    // No place in the frame: half a world away from the plot.
    if (!(error instanceof RangeError)) throw error;
  }
  cache.set(feature, { frame, rule, taking });
  return taking;
}

function workOut(
  feature: PlanFeature<TakingKind>,
  frame: Frame,
  rule: Rule,
  isNextFall: boolean,
): Taking {
  const { geometry } = feature;
  const toPlane = (line: readonly (readonly [number, number])[]) =>
    line.map(([lng, lat]): XY => frame.fromLngLat(lng, lat));
  const lines =
    geometry.type === 'Point'
      ? [toPlane([geometry.coordinates])]
      : geometry.type === 'LineString'
        ? [toPlane(geometry.coordinates)]
        : geometry.coordinates.map((ring) => toPlane(ring.slice(0, -1)));
  const layer = layerOf(feature, frame, rule, isNextFall, lines);
  return { feature, layer, line: lines[0], box: boxOf((layer?.rings ?? lines).flat()) };
}

function layerOf(
  feature: PlanFeature<TakingKind>,
  frame: Frame,
  { workingStripMeters: strip, burnConsumedShare, bermMaxHeightMeters }: Rule,
  isNextFall: boolean,
  lines: readonly XY[][],
): Layer | null {
  if (isNextFall && burns(feature)) {
    const remnant = burnRemnant(feature, burnConsumedShare, bermMaxHeightMeters);
    if (remnant) return remnantFootprint(remnant, frame, strip) ?? { rings: [], rule: 'even-odd' };
  }
  if (isKind(feature, 'berm')) return bermFootprint(feature, frame, strip);
  if (isKind(feature, 'heap')) return heapFootprint(feature, frame, strip);
  return feature.geometry.type === 'Polygon' ? { rings: lines, rule: 'even-odd' } : null;
}

function boxOf(points: readonly XY[]): [number, number, number, number] {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    if (x < box[0]) box[0] = x;
    if (y < box[1]) box[1] = y;
    if (x > box[2]) box[2] = x;
    if (y > box[3]) box[3] = y;
  }
  return box;
}

function boxesMeet(a: Taking['box'], b: Taking['box']): boolean {
  return a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
}
