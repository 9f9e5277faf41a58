import { sectionForVolume } from './berm-solve.ts';
import { bermVolume } from './berm-volume.ts';
import { gapStations, type GapRules, type PlacedGap } from './gap-stations.ts';
import { roundEndsVolume, sectionArea, sideRun, type WindrowSection } from './windrow-sections.ts';

export interface BermToHold {
  readonly lengthMeters: number;
  readonly section: WindrowSection;
  readonly gaps: readonly PlacedGap[];
  readonly holdsCubicMeters: number;
  readonly leftOverCubicMeters: number;
}

export interface HoldingRules extends Omit<GapRules, 'barred' | 'leastPartMeters'> {
  readonly maxLengthMeters: number;
  readonly maxHeightMeters: number;
}

/** Lengths are found by turns with the number of gaps; it has always settled in three. */
const TURNS = 8;

/**
 * The berm of a section with wildlife gaps that holds a volume: as long as it has to be; where the
 * line ends before, the section grows with its sides as they are up to the height limit, and what
 * is over is left over. Null where the line is too short for the section's own round ends, or the
 * volume too little to fill them. Holds plus left over is the volume.
 * Example: 2,660 yd³ of the parabola 24 × 9 ft, gaps of 16 ft every 150 ft: 571 ft and 3 gaps.
 */
export function bermToHold(
  section: WindrowSection,
  cubicMeters: number,
  rules: HoldingRules,
): BermToHold | null {
  const { maxLengthMeters, maxHeightMeters } = rules;
  const width = section.baseWidthMeters;
  if (!(cubicMeters >= roundEndsVolume(section)) || maxLengthMeters < width) return null;
  const gapsOf = (lengthMeters: number) => {
    const plan = gapStations(lengthMeters, [], { ...rules, leastPartMeters: width, barred: [] });
    return plan.ok ? plan.value : null;
  };
  let length = width;
  let count = 0;
  for (let turn = 0; turn < TURNS; turn++) {
    length = lengthWith(section, cubicMeters, count, rules.widthMeters);
    const needed = gapsOf(Math.min(length, maxLengthMeters))?.gaps.length ?? count;
    if (needed <= count) break;
    count = needed;
  }
  const lengthMeters = Math.min(length, maxLengthMeters);
  const plan = gapsOf(lengthMeters);
  if (!plan) return null;
  const parts = plan.parts.map(([from, to]) => to - from);
  if (length <= maxLengthMeters) {
    const holdsCubicMeters = Math.min(cubicMeters, bermVolume(section, parts));
    const leftOverCubicMeters = cubicMeters - holdsCubicMeters;
    return { lengthMeters, section, gaps: plan.gaps, holdsCubicMeters, leftOverCubicMeters };
  }
  const limits = { sideRun: sideRun(section), maxHeightMeters, maxWidthMeters: null };
  const fit = sectionForVolume(section.shape, parts, cubicMeters, limits);
  if (!fit.ok) return null;
  return {
    lengthMeters,
    section: fit.value.section,
    gaps: plan.gaps,
    holdsCubicMeters: fit.value.placedCubicMeters,
    leftOverCubicMeters: fit.value.leftOverCubicMeters,
  };
}

/** Each gap costs its width and what the two round ends at it lack. */
function lengthWith(
  section: WindrowSection,
  cubicMeters: number,
  gaps: number,
  gapWidth: number,
): number {
  const parts = gaps + 1;
  const straight = (cubicMeters - parts * roundEndsVolume(section)) / sectionArea(section);
  return Math.max(0, straight) + parts * section.baseWidthMeters + gaps * gapWidth;
}
