import { bermToHold, type BermToHold } from '../debris/berm-to-hold.ts';
import { sectionArea, type WindrowSection } from '../debris/windrow-sections.ts';
import type { Frame } from '../frame/crs-types.ts';
import { roundDegrees, type PlanFeature, type Position } from '../plan/feature.ts';
import { blankProperties } from '../plan/kinds.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Work } from '../work.ts';
import type { Inputs } from './definition.ts';
import { gapRulesOf, gapsWanted, hasGaps, type GapsWanted } from './gaps-wanted.ts';

/** What a berm is laid among. */
export interface LaidAmong {
  readonly inputs: Inputs;
  /** What else is drawn that water meets. */
  readonly others: readonly PlanFeature[];
  readonly windFromDegrees: number | null;
}

/** A berm to be laid: where it can lie, and what it is to hold. */
export interface BermOrder {
  readonly id: string;
  readonly name: string;
  readonly toBurn: boolean;
  readonly cubicMeters: number;
  readonly frame: Frame;
  /** On the ground. */
  readonly maxLengthMeters: number;
  /** Its line for a length on the ground, frame metres. */
  readonly lineOf: (lengthMeters: number) => readonly XY[];
}

export interface LaidBerm {
  readonly berm: PlanFeature<'berm'>;
  readonly leftOverCubicMeters: number;
}

/** Gaps, section and length are found by turns: water comes elsewhere against a wider berm. */
const TURNS = 12;
/** A line is made longer by no less, metres. */
const STEP_METERS = 1;

/**
 * A berm that holds its debris with the gaps, and the section, that are asked of it once it is drawn
 * (`gapsWanted`): higher for what they take, and longer where its greatest height does not hold it.
 * Null where not even its round ends fit.
 */
export function* laidBerm(order: BermOrder, among: LaidAmong): Work<LaidBerm | null> {
  const { cubicMeters, maxLengthMeters } = order;
  const { settings } = among.inputs;
  const first = bermToHold(drawnSection(), cubicMeters, {
    ...gapRulesOf(settings, order.toBurn),
    maxHeightMeters: settings.bermMaxHeightMeters,
    maxLengthMeters,
  });
  if (!first) return null;
  let { lengthMeters, leftOverCubicMeters } = first;
  let berm = bermOf(order, lengthMeters, first);
  for (let turn = 0; turn < TURNS; turn++) {
    const wanted: GapsWanted | null = yield* gapsWanted(among.inputs, berm, { ...among, cubicMeters }); // prettier-ignore
    if (!wanted?.plan.ok || !wanted.fit.section) break;
    const { gaps } = wanted.plan.value;
    const { section } = wanted.fit;
    ({ leftOverCubicMeters } = wanted.fit);
    const lacks = leftOverCubicMeters / sectionArea(section);
    const longer = Math.min(maxLengthMeters, lengthMeters + Math.max(STEP_METERS, lacks));
    if (lacks > 0 && longer > lengthMeters) lengthMeters = longer;
    else if (hasGaps(berm.properties, gaps, section)) break;
    berm = bermOf(order, lengthMeters, { section, gaps });
  }
  return { berm, leftOverCubicMeters };
}

/** 24 ft × 9 ft, as a berm is drawn first. */
export function drawnSection(): WindrowSection {
  const { section: shape, baseWidthMeters, heightMeters } = blankProperties('berm');
  return { shape, baseWidthMeters, heightMeters };
}

function bermOf(
  { id, name, toBurn, frame, lineOf }: BermOrder,
  lengthMeters: number,
  { section, gaps }: Pick<BermToHold, 'section' | 'gaps'>,
): PlanFeature<'berm'> {
  return {
    id,
    kind: 'berm',
    name,
    locked: false,
    hidden: false,
    geometry: {
      type: 'LineString',
      coordinates: lineOf(lengthMeters).map((at) => positionOf(frame, at)),
    },
    properties: {
      section: section.shape,
      baseWidthMeters: section.baseWidthMeters,
      heightMeters: section.heightMeters,
      gaps: gaps.map(({ stationMeters, widthMeters }) => ({ stationMeters, widthMeters })),
      toBurn,
    },
  };
}

/** A place of a frame as the plan keeps it. */
export function positionOf(frame: Frame, [x, y]: XY): Position {
  const [lng, lat] = frame.toLngLat(x, y);
  return [roundDegrees(lng), roundDegrees(lat)];
}
