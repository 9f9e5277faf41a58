import type { DriftRule } from './drift-rule.ts';
import type { DriftDoubt, ScentDrift } from './scent-drift.ts';
import { arcWithin, clearanceDegrees } from './seat-reach.ts';
import type { SeatReach, SeenGround, SeenPiece } from './seat-reach.ts';
import { degrees, radians } from './sun-series.ts';

export type Verdict = 'works' | 'marginal' | 'does-not';

/** A protected ground that a drift reaches. */
export interface Reached {
  readonly id: string;
  /** From the seat to the nearest of it that lies in the drift; 0 where the seat is in it. */
  readonly meters: number;
  /** Share of the drift's spread, by angle, that holds ground of it within range. */
  readonly share: number;
  /** Within the core about the axis. */
  readonly isInCore: boolean;
}

export interface WindVerdict {
  readonly verdict: Verdict;
  /** Between the axis and the nearest protected ground in range; Infinity without any. */
  readonly clearanceDegrees: number;
  /** Nearest first. */
  readonly reached: readonly Reached[];
  /** Empty where the confidence is the usual one. */
  readonly doubts: readonly DriftDoubt[];
}

/** Edges count as in: bearings that differ by less are the same. */
const SAME_BEARING = 1e-9;

/**
 * Whether a stand works on a drift (trade notes, section 6.8): protected ground in range within the
 * core half-angle of the axis: it does not; within the drift's half-angle: marginal; else it works.
 * Edges count as in. Air that spreads all round is marginal where any protected ground is in range.
 * `reach` must have been made with the drift's reach as its range.
 */
export function windVerdict(reach: SeatReach, drift: ScentDrift, rule: DriftRule): WindVerdict {
  const { axisDegrees: axis, halfAngleDegrees: half, doubts } = drift;
  const core = rule.coreHalfAngleDegrees;
  const clearance = clearanceOf(reach, axis);
  const verdict = verdictOf(clearance, axis === null, half, core);
  const spread = axis === null ? 180 : Math.max(half, core);
  const reached: Reached[] = [];
  for (const ground of reach.grounds) {
    const off = axis === null ? 0 : clearanceDegrees(ground.arcs, axis);
    if (off > spread + SAME_BEARING) continue;
    reached.push({
      id: ground.id,
      meters: nearestIn(ground, axis ?? 0, spread),
      share: Math.min(1, arcWithin(ground.arcs, axis ?? 0, spread) / (2 * spread)),
      isInCore: axis !== null && off <= core + SAME_BEARING,
    });
  }
  reached.sort((a, b) => a.meters - b.meters || (a.id < b.id ? -1 : 1));
  return { verdict, clearanceDegrees: clearance, reached, doubts };
}

/** Between an axis and the nearest protected ground; of air that spreads all round 0. */
export function clearanceOf({ arcs }: SeatReach, axisDegrees: number | null): number {
  if (axisDegrees !== null) return clearanceDegrees(arcs, axisDegrees);
  return arcs.length > 0 ? 0 : Infinity;
}

/** The angle rule alone, for tallies of many hours. */
export function verdictOf(
  clearance: number,
  isAllRound: boolean,
  halfAngleDegrees: number,
  coreHalfAngleDegrees: number,
): Verdict {
  if (clearance === Infinity) return 'works';
  if (isAllRound) return 'marginal';
  if (clearance <= coreHalfAngleDegrees + SAME_BEARING) return 'does-not';
  return clearance <= halfAngleDegrees + SAME_BEARING ? 'marginal' : 'works';
}

const order: readonly Verdict[] = ['works', 'marginal', 'does-not'];

/** The worse of two verdicts. */
export function worseOf(a: Verdict, b: Verdict): Verdict {
  return order.indexOf(a) > order.indexOf(b) ? a : b;
}

/** Metres from the seat to the nearest of a ground within a sector. */
function nearestIn({ pieces, isInside }: SeenGround, axis: number, half: number): number {
  if (isInside) return 0;
  let least = Infinity;
  for (const piece of pieces) least = Math.min(least, nearestOnPiece(piece, axis, half));
  return least;
}

function nearestOnPiece({ ax, ay, bx, by }: SeenPiece, axis: number, half: number): number {
  const [dx, dy] = [bx - ax, by - ay];
  const square = dx * dx + dy * dy;
  const foot = square === 0 ? 0 : -(ax * dx + ay * dy) / square;
  const places = [0, 1, Math.min(1, Math.max(0, foot))];
  // Where the sector's sides meet the piece.
  for (const side of half < 180 ? [axis - half, axis + half] : []) {
    const [ex, ey] = [Math.sin(radians(side)), Math.cos(radians(side))];
    const across = dx * ey - dy * ex;
    if (across !== 0) places.push((ay * ex - ax * ey) / across);
  }
  let least = Infinity;
  for (const t of places) {
    if (!(t >= 0 && t <= 1)) continue;
    const [x, y] = [ax + t * dx, ay + t * dy];
    const bearing = degrees(Math.atan2(x, y));
    const off = Math.abs(((((bearing - axis) % 360) + 540) % 360) - 180);
    // A side that meets the piece behind the seat is no side.
    if (off <= half + 1e-6) least = Math.min(least, Math.hypot(x, y));
  }
  return least;
}
