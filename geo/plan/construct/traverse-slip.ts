import type { SurveyCall } from './survey-calls.ts';
import { runTraverse } from './traverse.ts';

/** How one course may have been copied wrong. */
export type SlipKind = 'turned-round' | 'east-for-west' | 'north-for-south';

/** A course which, read another way, would let the traverse close. */
export interface Slip {
  /** From 0, in the order of the courses. */
  readonly index: number;
  readonly kind: SlipKind;
  /** What the course would read, clockwise from the deed's north. */
  readonly bearingDegrees: number;
  /** Perimeter over what would still be missed; Infinity where it would close. */
  readonly ratio: number;
}

/** Of the miss, at most so much may be left for a reading to count as found. */
const leftShare = 0.1;
/** And it must close at least this well: compass-and-chain work. */
const leastRatio = 500;
/** Readings that come as close as the best one cannot be told from it. */
const asGood = 3;

/**
 * The readings of one single course that would close a traverse which does not: the course walked
 * the other way, or with its E and W, or its N and S, exchanged. Several where they close about as
 * well (opposite sides of a rectangle), best first; none where no single exchange does it.
 * Source: the usual search for a blunder in a traverse, any surveying textbook.
 * Throws RangeError for no courses.
 * Example: N, E, N, W of 100 m each: course 1 or course 3, turned round, closes it.
 */
export function findSlips(calls: readonly SurveyCall[]): Slip[] {
  const { corners, perimeterMeters, closure } = runTraverse(calls);
  const [missEast, missNorth] = corners[corners.length - 1];
  const readings = calls.flatMap(({ bearingDegrees, curve }, index) => {
    const east = corners[index + 1][0] - corners[index][0];
    const north = corners[index + 1][1] - corners[index][1];
    const reading = (kind: SlipKind, bearing: number, offEast: number, offNorth: number) => ({
      index,
      kind,
      bearingDegrees: ((bearing % 360) + 360) % 360,
      left: Math.hypot(missEast - 2 * offEast, missNorth - 2 * offNorth),
    });
    // A curve has other ways to go wrong.
    if (curve) return [];
    return [
      reading('east-for-west', -bearingDegrees, east, 0),
      reading('north-for-south', 180 - bearingDegrees, 0, north),
      reading('turned-round', bearingDegrees + 180, east, north),
    ];
  });
  const sound = readings
    .filter(({ left }) => left <= closure.distanceMeters * leftShare)
    .filter(({ left }) => left * leastRatio <= perimeterMeters)
    .toSorted((a, b) => a.left - b.left);
  const most = sound.length > 0 ? Math.max(sound[0].left * asGood, perimeterMeters * 1e-6) : 0;
  const seen = new Set<string>();
  return sound.flatMap(({ left, ...slip }): Slip[] => {
    // A course due east reads the same turned round and with E and W exchanged.
    const key = `${slip.index}/${slip.bearingDegrees.toFixed(6)}`;
    if (left > most || seen.has(key)) return [];
    seen.add(key);
    return [{ ...slip, ratio: perimeterMeters / left }];
  });
}
