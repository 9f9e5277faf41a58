import { bermToHold, type HoldingRules } from '../debris/berm-to-hold.ts';
import type { DebrisPatch } from '../debris/debris-patches.ts';
import { edgeStretch } from '../debris/edge-stretch.ts';
import { heapPlaces } from '../debris/heap-places.ts';
import { longAxis } from '../debris/long-axis.ts';
import type { WindrowSection } from '../debris/windrow-sections.ts';
import type { Frame } from '../frame/crs-types.ts';
import { roundDegrees, type PlanFeature, type Position } from '../plan/feature.ts';
import { blankProperties } from '../plan/kinds.ts';
import { lineLength, linePart } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Settings } from '../plan/settings.ts';
import type { WayKind } from './debris-answers.ts';

/** A windrow that burns is broken at least every 60 m (Alberta county fire service, handbook §12.1). */
const BURN_SPACING_METERS = 60;

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

type Laid = readonly PlanFeature<'berm' | 'heap'>[];

/** What one way lays on a clearing; nothing where it does not fit. */
export function wayFeatures(way: WayKind, on: WayGround, settings: Settings): Laid {
  if (way === 'heaps') return heaps(on, settings);
  return way === 'edge-berm' ? edgeBerm(on, settings) : centreWindrow(on, settings);
}

function heaps({ frame, patches }: WayGround, { bermMaxHeightMeters }: Settings): Laid {
  return heapPlaces(patches, bermMaxHeightMeters).map(({ at, widthMeters, heightMeters }, i) => ({
    ...shell(`way-heap-${i + 1}`, `Brush pile ${i + 1}`),
    kind: 'heap',
    geometry: { type: 'Point', coordinates: position(frame, at) },
    properties: {
      ...blankProperties('heap'),
      lengthMeters: widthMeters,
      widthMeters,
      heightMeters,
    },
  }));
}

function edgeBerm(on: WayGround, settings: Settings): Laid {
  const { frame, scale, rings, drainsAt, cubicMeters } = on;
  const outline = [...rings[0]!, rings[0]![0]!];
  const fit = bermToHold(drawnSection(), cubicMeters, {
    ...holding(settings, false),
    // As long as it can be without meeting its own start.
    maxLengthMeters: lineLength(outline) / scale - 2 * drawnSection().baseWidthMeters,
  });
  if (!fit) return [];
  const line = edgeStretch(rings[0]!, fit.lengthMeters * scale, drainsAt);
  return [berm('way-edge-berm', 'Edge berm', frame, line, fit, false)];
}

function centreWindrow(on: WayGround, settings: Settings): Laid {
  const { frame, scale, rings, cubicMeters } = on;
  const axis = longAxis(rings);
  if (!axis) return [];
  const whole = lineLength(axis);
  const { workingStripMeters, burnClearMeters, siteCover } = settings;
  // Clear of the trees at both ends where it can be; else with room to turn.
  const trees = siteCover.startsWith('woods') ? burnClearMeters['standing-trees'] : 0;
  const within = (margin: number) =>
    bermToHold(drawnSection(), cubicMeters, {
      ...holding(settings, true),
      maxLengthMeters: whole / scale - 2 * margin,
    });
  const clear = within(Math.max(workingStripMeters, trees));
  const fit = clear?.leftOverCubicMeters === 0 ? clear : within(workingStripMeters);
  if (!fit) return [];
  const start = (whole - fit.lengthMeters * scale) / 2;
  const line = linePart(axis, start, whole - start);
  return [berm('way-windrow', 'Center windrow', frame, line, fit, true)];
}

function holding(settings: Settings, toBurn: boolean): Omit<HoldingRules, 'maxLengthMeters'> {
  const { burnGapWidthMeters, gapWidthMeters, gapSpacingMeters, bermMaxHeightMeters } = settings;
  return {
    widthMeters: toBurn ? burnGapWidthMeters : gapWidthMeters,
    spacingMeters: toBurn ? BURN_SPACING_METERS : gapSpacingMeters,
    maxHeightMeters: bermMaxHeightMeters,
  };
}

function berm(
  id: string,
  name: string,
  frame: Frame,
  line: readonly XY[],
  { section, gaps }: NonNullable<ReturnType<typeof bermToHold>>,
  toBurn: boolean,
): PlanFeature<'berm'> {
  return {
    ...shell(id, name),
    kind: 'berm',
    geometry: { type: 'LineString', coordinates: line.map((at) => position(frame, at)) },
    properties: {
      section: section.shape,
      baseWidthMeters: section.baseWidthMeters,
      heightMeters: section.heightMeters,
      gaps: gaps.map(({ stationMeters, widthMeters }) => ({ stationMeters, widthMeters })),
      toBurn,
    },
  };
}

/** 24 ft × 9 ft, as a berm is drawn first. */
function drawnSection(): WindrowSection {
  const { section: shape, baseWidthMeters, heightMeters } = blankProperties('berm');
  return { shape, baseWidthMeters, heightMeters };
}

function shell(id: string, name: string) {
  return { id, name, locked: false, hidden: false } as const;
}

function position(frame: Frame, [x, y]: XY): Position {
  const [lng, lat] = frame.toLngLat(x, y);
  return [roundDegrees(lng), roundDegrees(lat)];
}
