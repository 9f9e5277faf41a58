import { bermVolume } from '../debris/berm-volume.ts';
import { sectionForVolume } from '../debris/berm-solve.ts';
import { publishedLayout } from '../debris/burn-layout.ts';
import {
  gapStations,
  type GapPlan,
  type GapRules,
  type RequiredGap,
} from '../debris/gap-stations.ts';
import { sideRun, type WindrowSection } from '../debris/windrow-sections.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { lineLength } from '../plan/line-geometry.ts';
import type { Settings } from '../plan/settings.ts';
import type { Result } from '../result.ts';
import type { Work } from '../work.ts';
import { dammingReads } from './damming.ts';
import { bermParts, sectionOf } from './debris-sinks.ts';
import type { Inputs } from './definition.ts';
import { barredStretches, crossingGaps, seatGaps, waterGaps, type BermAlong } from './gaps-required.ts'; // prettier-ignore
import { lineInFrame } from './plan-on-ground.ts';

/** All that the gaps of a berm hang on, but for the wind and the berms and heaps beside it. */
export const gapReads = [
  ...dammingReads.filter((read) => read !== 'features:berm' && read !== 'features:heap'),
  'answer:afterStorm',
  'features:lane',
  'features:travel-corridor',
  'features:stand',
  'setting:gapSpacingMeters',
  'setting:burnGapWidthMeters',
  'setting:bermMaxHeightMeters',
] as const;

/**
 * How wide the gaps of a berm are at the least, and how long its parts may be; metres. One that burns
 * stands for one winter: it is broken for the fire, as is printed, and not for wildlife.
 */
export function gapRulesOf(
  { gapWidthMeters, gapSpacingMeters, burnGapWidthMeters }: Settings,
  toBurn: boolean,
): Pick<GapRules, 'widthMeters' | 'spacingMeters'> {
  if (!toBurn) return { widthMeters: gapWidthMeters, spacingMeters: gapSpacingMeters };
  return { widthMeters: burnGapWidthMeters, spacingMeters: publishedLayout.longestMeters };
}

/** What its section has to be once it has its gaps. */
export interface GapFit {
  readonly section: WindrowSection | null;
  readonly leftOverCubicMeters: number;
}

export interface GapsWanted extends Planned {
  readonly along: BermAlong;
  readonly widthMeters: number;
  readonly spacingMeters: number;
  /** Of the gaps, those that must be. */
  readonly mustBe: number;
}

export interface GapOrder {
  /** What else is drawn that water meets. */
  readonly others: readonly PlanFeature[];
  /** Where the wind comes from, degrees; null while no gap hangs on it. */
  readonly windFromDegrees: number | null;
  /** What it is to hold between its gaps; null for what it holds as drawn. */
  readonly cubicMeters: number | null;
}

/**
 * The fewest gaps that a berm, drawn or only thought of, needs for water, corridors, lanes, seats and
 * wildlife together, and the section that it then has to have. The one rule for what is asked of a
 * drawn berm and for one that is laid out. Null for what has no line.
 */
export function* gapsWanted(
  inputs: Inputs,
  berm: PlanFeature<'berm'>,
  { others, windFromDegrees, cubicMeters }: GapOrder,
): Work<GapsWanted | null> {
  if (berm.geometry.type !== 'LineString') return null;
  const [lng, lat] = berm.geometry.coordinates[0]!;
  const frame = inputs.raster('ground')?.frame ?? zoneFrame(lng, lat);
  const line = lineInFrame({ frame }, berm);
  if (!line || !(lineLength(line) > 0)) return null;
  const lengthMeters = lineLengthMeters(berm.geometry.coordinates);
  const rules = gapRulesOf(inputs.settings, berm.properties.toBurn);
  const { widthMeters } = rules;
  const along = { frame, line, lengthMeters, scale: lineLength(line) / lengthMeters };
  const barred = barredStretches(inputs, along);
  const required = [
    ...(yield* waterGaps(inputs, berm, widthMeters, others)),
    ...crossingGaps(inputs, along, widthMeters),
    ...seatGaps(inputs, along, barred, widthMeters, windFromDegrees),
  ];
  const volume = cubicMeters ?? heldAsDrawn(berm);
  const made = planned(berm, volume, lengthMeters, required, { ...rules, barred }, inputs.settings);
  return { ...made, ...rules, along, mustBe: required.length };
}

/** Nobody stakes a gap, or a berm's foot, finer than so. */
const SAME_METERS = 0.5;

/** Whether a berm has just these gaps, and the section that goes with them, already. */
export function hasGaps(
  { gaps: own, baseWidthMeters }: PlanFeature<'berm'>['properties'],
  gaps: readonly { readonly stationMeters: number; readonly widthMeters: number }[],
  section: WindrowSection | null,
): boolean {
  const near = (a: number, b: number) => Math.abs(a - b) < SAME_METERS;
  return (
    gaps.length === own.length &&
    gaps.every((gap, i) => {
      const drawn = own[i]!;
      return (
        near(gap.stationMeters, drawn.stationMeters) && near(gap.widthMeters, drawn.widthMeters)
      );
    }) &&
    (section === null || near(section.baseWidthMeters, baseWidthMeters))
  );
}

function withoutGaps(berm: PlanFeature<'berm'>): PlanFeature<'berm'> {
  return { ...berm, properties: { ...berm.properties, gaps: [] } };
}

/** Of one whose gaps take up all of it, what it would hold without. */
function heldAsDrawn(berm: PlanFeature<'berm'>): number {
  const section = sectionOf(berm);
  const asDrawn = bermVolume(section, bermParts(berm));
  return asDrawn > 0 ? asDrawn : bermVolume(section, bermParts(withoutGaps(berm)));
}

/** Parts get shorter as gaps become one, and the berm wider: more often than so it has not been seen. */
const ROUNDS = 6;

interface Planned {
  readonly plan: Result<GapPlan>;
  readonly fit: GapFit;
  readonly leastPartMeters: number;
}

/**
 * The gaps, and the section that holds a volume between them; gaps that the section then leaves no
 * full part between become one. Of a berm that has these gaps and this section it asks for the same
 * again.
 */
function planned(
  berm: PlanFeature<'berm'>,
  volume: number,
  lengthMeters: number,
  required: readonly RequiredGap[],
  rules: Omit<GapRules, 'leastPartMeters'>,
  settings: Settings,
): Planned {
  const section = sectionOf(berm);
  const limits = {
    sideRun: sideRun(section),
    maxHeightMeters: settings.bermMaxHeightMeters,
    maxWidthMeters: null,
  };
  let leastPartMeters = section.baseWidthMeters;
  for (let round = 1; ; round++) {
    const plan = gapStations(lengthMeters, required, { ...rules, leastPartMeters });
    const lengths = plan.ok ? plan.value.parts.map(([from, to]) => to - from) : [];
    const solved = sectionForVolume(section.shape, lengths, volume, limits);
    const fit = {
      section: solved.ok ? solved.value.section : null,
      leftOverCubicMeters: solved.ok ? solved.value.leftOverCubicMeters : volume,
    };
    const width = fit.section?.baseWidthMeters ?? 0;
    if (width <= leastPartMeters || round === ROUNDS) return { plan, fit, leastPartMeters };
    leastPartMeters = width;
  }
}
