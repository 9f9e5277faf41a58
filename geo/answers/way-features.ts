import type { DebrisPatch } from '../debris/debris-patches.ts';
import { edgeStretch } from '../debris/edge-stretch.ts';
import { heapPlaces } from '../debris/heap-places.ts';
import { longAxis } from '../debris/long-axis.ts';
import type { Frame } from '../frame/crs-types.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { blankProperties } from '../plan/kinds.ts';
import { lineLength, linePart } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Settings } from '../plan/settings.ts';
import type { Work } from '../work.ts';
import type { WayKind } from './debris-answers.ts';
import { drawnSection, laidBerm, positionOf, type LaidAmong, type LaidBerm } from './laid-berm.ts';

/** A clearing in frame metres, and its debris. */
export interface WayGround {
  readonly frame: Frame;
  /** Frame metres to one metre on the ground. */
  readonly scale: number;
  readonly rings: readonly (readonly XY[])[];
  readonly patches: readonly DebrisPatch[];
  readonly cubicMeters: number;
  readonly drainsAt: (x: number, y: number) => number;
}

/**
 * A windrow stays clear of the trees at both ends unless that leaves more of the debris without room
 * than so (ours); then it keeps only room to turn.
 */
const MOST_LEFT_OVER = 0.25;

type Laid = readonly PlanFeature<'berm' | 'heap'>[];

/** What one way lays on a clearing; nothing where it does not fit. */
export function* wayFeatures(way: WayKind, on: WayGround, among: LaidAmong): Work<Laid> {
  if (way === 'heaps') return heaps(on, among.inputs.settings);
  const laid = yield* way === 'edge-berm' ? edgeBerm(on, among) : centreWindrow(on, among);
  return laid ? [laid.berm] : [];
}

function heaps({ frame, patches }: WayGround, { bermMaxHeightMeters }: Settings): Laid {
  return heapPlaces(patches, bermMaxHeightMeters).map(({ at, widthMeters, heightMeters }, i) => ({
    id: `way-heap-${i + 1}`,
    kind: 'heap',
    name: `Brush pile ${i + 1}`,
    locked: false,
    hidden: false,
    geometry: { type: 'Point', coordinates: positionOf(frame, at) },
    properties: {
      ...blankProperties('heap'),
      lengthMeters: widthMeters,
      widthMeters,
      heightMeters,
    },
  }));
}

function edgeBerm(on: WayGround, among: LaidAmong): Work<LaidBerm | null> {
  const { frame, scale, rings, drainsAt, cubicMeters } = on;
  const outline = [...rings[0]!, rings[0]![0]!];
  // As long as it can be without meeting its own start.
  const longest = lineLength(outline) / scale - 2 * drawnSection().baseWidthMeters;
  const order = {
    id: 'way-edge-berm',
    name: 'Edge berm',
    toBurn: false,
    cubicMeters,
    frame,
    maxLengthMeters: longest,
    lineOf: (length: number) => edgeStretch(rings[0]!, length * scale, drainsAt),
  };
  return laidBerm(order, among);
}

function* centreWindrow(on: WayGround, among: LaidAmong): Work<LaidBerm | null> {
  const { frame, scale, rings, cubicMeters } = on;
  const axis = longAxis(rings);
  if (!axis) return null;
  const whole = lineLength(axis);
  const { workingStripMeters, burnClearMeters, siteCover } = among.inputs.settings;
  const trees = siteCover.startsWith('woods') ? burnClearMeters['standing-trees'] : 0;
  const within = (margin: number) => {
    const order = {
      id: 'way-windrow',
      name: 'Center windrow',
      toBurn: true,
      cubicMeters,
      frame,
      maxLengthMeters: whole / scale - 2 * margin,
      lineOf: (length: number) => {
        const start = (whole - length * scale) / 2;
        return linePart(axis, start, whole - start);
      },
    };
    return laidBerm(order, among);
  };
  const clear = yield* within(Math.max(workingStripMeters, trees));
  if (clear && clear.leftOverCubicMeters <= MOST_LEFT_OVER * cubicMeters) return clear;
  return yield* within(workingStripMeters);
}
