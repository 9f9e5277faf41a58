import { ok, problem, type Result } from '../result.ts';
import { badNumber, belowZero, notAboveZero } from './check-numbers.ts';
import { fewestGaps, type Stretch } from './fewest-gaps.ts';

export type GapReason = 'water' | 'corridor' | 'lane' | 'stand' | 'wildlife';

/** A gap that must be, centred on its station; metres along the berm's line. */
export interface RequiredGap {
  readonly stationMeters: number;
  readonly widthMeters: number;
  readonly reason: Exclude<GapReason, 'wildlife'>;
}

export interface GapRules {
  /** No gap is narrower; 12 to 20 ft for wildlife, common practice; 8 m where it will burn. */
  readonly widthMeters: number;
  /** No part of the berm is longer. */
  readonly spacingMeters: number;
  /** No part is shorter, where that can be: the berm's width, or its round ends do not fit. */
  readonly leastPartMeters: number;
  /** Stations from, to where no gap may be, such as where a seat looks straight through. */
  readonly barred: readonly Stretch[];
}

export interface PlacedGap {
  readonly stationMeters: number;
  readonly widthMeters: number;
  readonly reasons: readonly GapReason[];
  /** It must be, although no gap may be there. */
  readonly isBarred: boolean;
}

export interface GapPlan {
  readonly gaps: readonly PlacedGap[];
  /** Stations from, to of the berm between them. */
  readonly parts: readonly Stretch[];
}

interface Opening {
  from: number;
  to: number;
  readonly reasons: Set<GapReason>;
}

/**
 * The fewest gaps in a berm's line that satisfy all rules: those that must be (as wide as they say
 * or as the rule says; one that reaches another, or leaves too short a part, becomes one with it)
 * and as few wildlife gaps as keep every part within the spacing, spread as evenly as that lets
 * them be. The same input always gives the same gaps.
 * Problems: values out of bounds, `gap-off-line`, `berm-all-gaps`, and `gaps-barred` where no gap
 * may be for longer than the spacing.
 * Example: 610 ft, 16 ft wide, at most 140 ft apart: 4 gaps, and parts of 109 ft.
 */
export function gapStations(
  lengthMeters: number,
  required: readonly RequiredGap[],
  rules: GapRules,
): Result<GapPlan> {
  const bad = checkRules(lengthMeters, required, rules);
  if (bad) return bad;
  const openings = requiredOpenings(lengthMeters, required, rules);
  const stretches = between(openings, lengthMeters);
  if (stretches.length === 0) {
    return problem(
      'berm-all-gaps',
      'The gaps that must be take up the whole berm.',
      'Make them narrower, or draw the line longer.',
    );
  }
  const gaps = openings.map((opening) => placed(opening, rules));
  for (const [from, to] of stretches) {
    const centres = fewestGaps([from, to], rules) ?? fewestGaps([from, to], { ...rules, leastPartMeters: 0 }); // prettier-ignore
    if (!centres) return barred(from, to, rules.spacingMeters);
    for (const stationMeters of centres) {
      const { widthMeters } = rules;
      gaps.push({ stationMeters, widthMeters, reasons: ['wildlife'], isBarred: false });
    }
  }
  gaps.sort((a, b) => a.stationMeters - b.stationMeters);
  const parts = between(gaps.map(spanOf), lengthMeters);
  return ok({ gaps, parts });
}

function checkRules(length: number, required: readonly RequiredGap[], rules: GapRules) {
  const { widthMeters, spacingMeters, leastPartMeters, barred: zones } = rules;
  const bad =
    notAboveZero({ 'length of the berm': length, 'gap width': widthMeters, 'gap spacing': spacingMeters }) ??
    belowZero({ 'shortest part': leastPartMeters }) ??
    badNumber({ 'gap spacing': spacingMeters }, length / 10_000, Infinity); // prettier-ignore
  if (bad) return bad;
  for (const { stationMeters, widthMeters: width } of required) {
    const wrong = badNumber({ 'width of a gap': width }, 0, Infinity, true);
    if (wrong) return wrong;
    if (stationMeters >= 0 && stationMeters <= length) continue;
    return problem(
      'gap-off-line',
      'A gap lies off the berm’s line.',
      'Give it a station between the ends of the line.',
    );
  }
  for (const [from, to] of zones) {
    const wrong = badNumber({ 'start of a stretch without gaps': from, 'end of a stretch without gaps': to }, -Infinity, Infinity); // prettier-ignore
    if (wrong) return wrong;
  }
  return null;
}

function requiredOpenings(
  length: number,
  required: readonly RequiredGap[],
  { widthMeters, leastPartMeters }: GapRules,
): Opening[] {
  const each = required.map((gap): Opening => {
    const half = Math.max(gap.widthMeters, widthMeters) / 2;
    const [from, to] = [gap.stationMeters - half, gap.stationMeters + half];
    return { from: Math.max(0, from), to: Math.min(length, to), reasons: new Set([gap.reason]) };
  });
  each.sort((a, b) => a.from - b.from || a.to - b.to);
  const joined: Opening[] = [];
  for (const opening of each) {
    const last = joined.at(-1);
    if (last && opening.from - last.to < leastPartMeters) {
      last.to = Math.max(last.to, opening.to);
      for (const reason of opening.reasons) last.reasons.add(reason);
    } else {
      joined.push(opening);
    }
  }
  const [first, last] = [joined[0], joined.at(-1)];
  if (first && first.from < leastPartMeters) first.from = 0;
  if (last && length - last.to < leastPartMeters) last.to = length;
  return joined;
}

function placed({ from, to, reasons }: Opening, { barred: zones }: GapRules): PlacedGap {
  return {
    stationMeters: (from + to) / 2,
    widthMeters: to - from,
    reasons: [...reasons].sort(),
    isBarred: zones.some(([start, end]) => from < end && to > start),
  };
}

function spanOf({ stationMeters, widthMeters }: PlacedGap) {
  return { from: stationMeters - widthMeters / 2, to: stationMeters + widthMeters / 2 };
}

/** What lies between openings in order; slivers of rounding are none. */
function between(openings: readonly { from: number; to: number }[], length: number): Stretch[] {
  const stretches: Stretch[] = [];
  let from = 0;
  for (const opening of openings) {
    if (opening.from - from > 1e-9) stretches.push([from, opening.from]);
    from = opening.to;
  }
  if (length - from > 1e-9) stretches.push([from, length]);
  return stretches;
}

function barred(from: number, to: number, spacing: number): Result<never> {
  return problem(
    'gaps-barred',
    `Between ${from.toFixed(0)} m and ${to.toFixed(0)} m along the berm no gap may be for longer than ${spacing.toFixed(0)} m.`,
    'Allow a wider spacing, move the seat, or bend the line.',
  );
}
