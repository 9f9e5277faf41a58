import { isInPolygon } from '../plan/point-in-polygon.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Grid } from '../raster/grid.ts';
import { sampleBilinear } from '../raster/sample.ts';
import type { Work } from '../work.ts';
import { angleBetween, bearing } from './stands-in-arc.ts';

/** A place that no line of fire may come near: a dwelling, a road, another stand. */
export interface KeepClear {
  readonly id: string;
  /** Points along its outline, close together; frame metres. */
  readonly points: readonly XY[];
  /** To either side of each point. */
  readonly marginDegrees: number;
  /** Counts only this near. */
  readonly withinMeters: number;
}

export interface ShotQuestion {
  /** Frame metres. */
  readonly stand: XY;
  /** Muzzle over the ground, middle of the target over the ground. */
  readonly muzzleMeters: number;
  readonly targetMeters: number;
  /** Targets stand at most so far off. */
  readonly rangeMeters: number;
  /** A shot must strike earth at most so far off, inside the tract. */
  readonly backstopMeters: number;
  /** Rings of the tract; rings in which targets stand, null for anywhere in range. */
  readonly tract: readonly (readonly XY[])[];
  readonly targets: readonly (readonly XY[])[] | null;
  readonly keepClear: readonly KeepClear[];
  /** Directions asked, evenly round from north. */
  readonly directions: number;
}

export type ShotReason = 'keep-clear' | 'leaves-tract' | 'no-earth' | 'no-data';

export interface ShotDirection {
  /** Grid bearing, degrees. */
  readonly bearingDegrees: number;
  /** No target can be aimed at there: neither allowed nor blocked. */
  readonly state: 'allowed' | 'blocked' | 'no-target';
  readonly reason: ShotReason | null;
  /** What must be kept clear of, for that reason. */
  readonly about: string | null;
  /** The nearest target that has no sound backstop, metres; null where there is none. */
  readonly blockedFromMeters: number | null;
  /** The farthest place where a shot at any target strikes sound earth, metres; null where none does. */
  readonly backstopMeters: number | null;
}

/**
 * Which way one may shoot: for every direction each target that can be seen is aimed at, and the
 * straight line from the muzzle through its middle followed on to the ground: it must strike earth
 * near enough and never leave the tract before. One target without that blocks the direction. A
 * straight line errs on the safe side of a falling shot only on level or rising ground; nothing that
 * stands on the ground counts as a backstop. Advisory: local law and the ground itself decide.
 * Ground read every half cell, straight between. Null without ground under the stand.
 * Throws RangeError for distances that are not above 0 or fewer than 4 directions.
 * Example: level ground, muzzle 4.9 m up, target 0.9 m up at 100 m: earth at 122.5 m.
 */
export function* shotRing(ground: Grid, question: ShotQuestion): Work<ShotDirection[] | null> {
  const { stand, rangeMeters, backstopMeters, directions } = question;
  if (!(rangeMeters > 0 && backstopMeters > 0 && directions >= 4)) {
    throw new RangeError(`${rangeMeters} m, ${backstopMeters} m, ${directions} directions`);
  }
  const base = sampleBilinear(ground, stand[0], stand[1]);
  if (Number.isNaN(base)) return null;
  const profile = openProfile(ground, question, base + question.muzzleMeters);
  const ring: ShotDirection[] = [];
  for (let i = 0; i < directions; i++) {
    ring.push(oneDirection(ground, question, profile, (360 * i) / directions));
    if (i % 16 === 15) yield { share: (i + 1) / directions, doing: 'which way one may shoot' };
  }
  return ring;
}

/** Along one direction, refilled for each. */
interface Profile {
  readonly muzzle: number;
  readonly step: number;
  /** Of the ground over the muzzle; NaN without data. */
  readonly over: Float64Array;
  readonly isInside: Uint8Array;
  readonly isTarget: Uint8Array;
}

function openProfile(ground: Grid, question: ShotQuestion, muzzle: number): Profile {
  const step = Math.min(ground.cellWidth, ground.cellHeight) / 2;
  const farthest = Math.max(question.rangeMeters, question.backstopMeters);
  const places = Math.floor(farthest / step) + 1;
  return {
    muzzle,
    step,
    over: new Float64Array(places),
    isInside: new Uint8Array(places),
    isTarget: new Uint8Array(places),
  };
}

function oneDirection(
  ground: Grid,
  question: ShotQuestion,
  profile: Profile,
  bearingDegrees: number,
): ShotDirection {
  fillProfile(ground, question, profile, bearingDegrees);
  const { over, isInside, isTarget, step } = profile;
  const outside = isInside.indexOf(0, 1);
  const leaves = outside < 0 ? Infinity : outside;
  let reason: ShotReason | null = null;
  let about: string | null = null;
  let blockedFrom: number | null = null;
  let backstop: number | null = null;
  let hasTarget = false;
  // Steepest of the ground passed: a target whose middle lies under it cannot be aimed at.
  let steepest = -Infinity;
  for (let i = 1; i < over.length && i * step <= question.rangeMeters; i++) {
    const meters = i * step;
    const aim = (over[i]! + question.targetMeters) / meters;
    if (isTarget[i] !== 0 && aim >= steepest) {
      hasTarget = true;
      const strike = strikeOf(question, profile, leaves, i, aim);
      if (typeof strike === 'number') backstop = Math.max(backstop ?? 0, strike);
      else if (blockedFrom === null) [reason, blockedFrom] = [strike, meters];
    }
    if (over[i]! / meters > steepest) steepest = over[i]! / meters;
  }
  const near = question.keepClear.find((thing) => isToward(question.stand, thing, bearingDegrees));
  // Also where nothing is to be aimed at: a ring with a gap there would read as harmless.
  if (near !== undefined) [reason, about] = ['keep-clear', near.id];
  const state = reason !== null ? 'blocked' : hasTarget ? 'allowed' : 'no-target';
  return {
    bearingDegrees,
    state,
    reason,
    about,
    blockedFromMeters: blockedFrom,
    backstopMeters: backstop,
  };
}

function fillProfile(
  ground: Grid,
  { stand, tract, targets }: ShotQuestion,
  { muzzle, step, over, isInside, isTarget }: Profile,
  bearingDegrees: number,
): void {
  const east = Math.sin((bearingDegrees * Math.PI) / 180);
  const north = Math.cos((bearingDegrees * Math.PI) / 180);
  for (let i = 0; i < over.length; i++) {
    const place: XY = [stand[0] + i * step * east, stand[1] + i * step * north];
    over[i] = sampleBilinear(ground, place[0], place[1]) - muzzle;
    isInside[i] = isInPolygon(place, tract) ? 1 : 0;
    const isAmong = targets === null || isInPolygon(place, targets);
    isTarget[i] = isAmong && over[i] === over[i] ? 1 : 0;
  }
}

/** Where the line through a target strikes earth, metres, or why that is no backstop. */
function strikeOf(
  question: ShotQuestion,
  { over, step }: Profile,
  leaves: number,
  target: number,
  aim: number,
): number | ShotReason {
  const last = Math.min(over.length - 1, Math.floor(question.backstopMeters / step));
  // Also before the target: the shot flies there.
  if (leaves <= Math.min(target, last)) return 'leaves-tract';
  for (let i = target; i <= last; i++) {
    if (i >= leaves) return 'leaves-tract';
    const z = over[i]!;
    if (z !== z) return 'no-data';
    const clear = aim * i * step - z;
    if (clear > 0) continue;
    const before = i > target ? aim * (i - 1) * step - over[i - 1]! : 0;
    return before > 0 ? (i - 1 + before / (before - clear)) * step : i * step;
  }
  return 'no-earth';
}

function isToward(stand: XY, thing: KeepClear, bearingDegrees: number): boolean {
  return thing.points.some(([x, y]) => {
    const [east, north] = [x - stand[0], y - stand[1]];
    if (Math.hypot(east, north) > thing.withinMeters) return false;
    return angleBetween(bearing(east, north), bearingDegrees) <= thing.marginDegrees;
  });
}
