import { ok, problem, type Result } from '../result.ts';
import { belowZero, notAboveZero } from './check-numbers.ts';
import { bermVolume, partLength, partVolume } from './berm-volume.ts';
import {
  roundEndsVolume,
  sectionOfHeight,
  type SectionShape,
  type WindrowSection,
} from './windrow-sections.ts';

/** How high and how wide a berm may become, and how its sides stand. */
export interface BermLimits {
  /** Metres out for a metre up (`sideRun`). */
  readonly sideRun: number;
  readonly maxHeightMeters: number;
  /** Null where nothing limits it. */
  readonly maxWidthMeters: number | null;
}

export interface BermFit {
  readonly section: WindrowSection;
  readonly placedCubicMeters: number;
  readonly leftOverCubicMeters: number;
  /** Parts too short for a full section. */
  readonly shortParts: number;
  /** What would hold all; null where nothing is left over. */
  readonly cure: BermCure | null;
}

export interface BermCure {
  /** Its longest part made so much longer. */
  readonly longerMeters: number;
  /** A berm as high on the same line with flatter sides; null where none holds it. */
  readonly widerSection: WindrowSection | null;
}

/**
 * Length from toe to toe, metres, of a berm without gaps that holds a volume.
 * Problem `berm-shorter-than-ends` where its round ends alone hold more: that is a heap.
 * Example: 3,250 yd³ of the parabola 24 × 9 ft is 619 ft.
 */
export function lengthForVolume(section: WindrowSection, cubicMeters: number): Result<number> {
  const { baseWidthMeters, heightMeters } = section;
  const bad =
    notAboveZero({ 'berm width': baseWidthMeters, 'berm height': heightMeters }) ??
    belowZero({ 'debris volume': cubicMeters });
  if (bad) return bad;
  if (cubicMeters < roundEndsVolume(section)) return tooShort();
  return ok(partLength(section, cubicMeters));
}

/**
 * The lowest section of a shape that holds a volume on the parts of a line between gaps (their
 * lengths in metres), its sides at a fixed slope; where the limits do not let it, the largest
 * section, what is left over, and what would hold that. Placed plus left over is the volume.
 * Problems: values out of bounds, `berm-all-gaps` where no part is left, and
 * `berm-shorter-than-ends` where every part is shorter than the berm would be wide.
 * Example: 100 m³ on 40 m as a triangle 1.5 to 1 is 1.32 m high.
 */
export function sectionForVolume(
  shape: SectionShape,
  partLengths: readonly number[],
  cubicMeters: number,
  limits: BermLimits,
): Result<BermFit> {
  const { sideRun, maxHeightMeters, maxWidthMeters } = limits;
  const bad =
    belowZero({ 'debris volume': cubicMeters }) ??
    notAboveZero({ 'side slope': sideRun, 'height limit': maxHeightMeters }) ??
    (maxWidthMeters === null ? null : notAboveZero({ 'width limit': maxWidthMeters })) ??
    belowZero(Object.fromEntries(partLengths.map((length, i) => [`length of part ${i + 1}`, length]))); // prettier-ignore
  if (bad) return bad;
  const parts = partLengths.filter((length) => length > 0);
  if (parts.length === 0) {
    return problem(
      'berm-all-gaps',
      'The gaps take up the whole berm.',
      'Take gaps out, make them narrower, or draw the line longer.',
    );
  }
  const widthPerHeight = sectionOfHeight(shape, 1, sideRun).baseWidthMeters;
  const highest = Math.min(maxHeightMeters, (maxWidthMeters ?? Infinity) / widthPerHeight);
  const held = (height: number) => bermVolume(sectionOfHeight(shape, height, sideRun), parts);
  const isHeld = held(highest) >= cubicMeters;
  const height = isHeld ? leastWhere((h) => held(h) >= cubicMeters, highest) : highest;
  const section = sectionOfHeight(shape, height, sideRun);
  const shortParts = parts.filter((length) => length < section.baseWidthMeters).length;
  if (cubicMeters > 0 && shortParts === parts.length) return tooShort();
  const placed = isHeld ? cubicMeters : held(height);
  const leftOver = cubicMeters - placed;
  const cure = isHeld ? null : cureOf(section, parts, cubicMeters, leftOver);
  return ok({
    section,
    placedCubicMeters: placed,
    leftOverCubicMeters: leftOver,
    shortParts,
    cure,
  });
}

function tooShort(): Result<never> {
  return problem(
    'berm-shorter-than-ends',
    'The line is shorter than its berm would be wide.',
    'Draw it longer, steepen its sides, or make a heap of it.',
  );
}

function cureOf(
  section: WindrowSection,
  parts: readonly number[],
  cubicMeters: number,
  leftOver: number,
): BermCure {
  const longest = Math.max(...parts);
  const longer = partLength(section, partVolume(section, longest) + leftOver) - longest;
  return { longerMeters: longer, widerSection: widerSection(section, parts, cubicMeters) };
}

const WIDTH_STEPS = 200;

/**
 * Wider parts hold more only until they are as wide as long, and short parts then hold less, so the
 * widths are looked through one by one before the narrowest that does is closed in on.
 */
function widerSection(
  section: WindrowSection,
  parts: readonly number[],
  cubicMeters: number,
): WindrowSection | null {
  const from = section.baseWidthMeters;
  const most = Math.max(...parts);
  const ofWidth = (baseWidthMeters: number) => ({ ...section, baseWidthMeters });
  const holds = (width: number) => bermVolume(ofWidth(width), parts) >= cubicMeters;
  for (let i = 1; i <= WIDTH_STEPS; i++) {
    const step = (most - from) / WIDTH_STEPS;
    if (step <= 0 || !holds(from + step * i)) continue;
    const base = from + step * (i - 1);
    return ofWidth(base + leastWhere((more) => holds(base + more), step));
  }
  return null;
}

/** Least value up to `most` where a test that stays true once it is true holds, to 1 in 2^50. */
function leastWhere(test: (value: number) => boolean, most: number): number {
  let [low, high] = [0, most];
  if (test(0)) return 0;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (test(middle)) high = middle;
    else low = middle;
  }
  return high;
}
