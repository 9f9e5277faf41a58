import type { XY } from '../plan/overlay/arrangement.ts';
import type { ScentDrift } from '../wind/scent-drift.ts';
import {
  clearanceDegrees,
  seatReach,
  type ProtectedGround,
  type SeatReach,
} from '../wind/seat-reach.ts';
import type { ExposureAt } from './lane-cost.ts';

/** What protected ground lies round a place, frame metres. */
export type ReachAt = (x: number, y: number) => SeatReach;

/** Air that spreads all round is marginal wherever protected ground is in reach. */
const ALL_ROUND = 0.5;

/**
 * For each drift, how likely scent from a place reaches protected ground, by the angle rule of
 * `windVerdict`: 1 within the core of the axis (the wind does not work there), falling straight to 0
 * at the drift's half-angle (from there on it works); a half in air that spreads all round. Frame
 * metres; axes are grid bearings; `reachAt` looks as far as the drifts do, and is best one that keeps
 * what it has seen (`reachOnLattice`). Throws RangeError for a core below 0.
 * Example: core 15, half-angle 30, ground 21 degrees off the axis: 0.6.
 */
export function scentExposures(
  reachAt: ReachAt,
  drifts: readonly Pick<ScentDrift, 'axisDegrees' | 'halfAngleDegrees'>[],
  coreHalfAngleDegrees: number,
): ExposureAt[] {
  if (!(coreHalfAngleDegrees >= 0)) throw new RangeError(`a core of ${coreHalfAngleDegrees}`);
  return drifts.map(({ axisDegrees, halfAngleDegrees }): ExposureAt => {
    const fall = halfAngleDegrees - coreHalfAngleDegrees;
    return (x, y) => {
      const { arcs } = reachAt(x, y);
      if (arcs.length === 0) return 0;
      if (axisDegrees === null) return ALL_ROUND;
      const past = clearanceDegrees(arcs, axisDegrees) - coreHalfAngleDegrees;
      if (past <= 0) return 1;
      // A core as wide as the drift leaves nothing between.
      return fall > 0 ? Math.max(0, 1 - past / fall) : 0;
    };
  });
}

/**
 * What lies round a place, looked at once for each square of a lattice, from its middle, and kept: it
 * changes slowly along a walk. Squares of `stepMeters` from `west` and `north`, frame metres.
 * Throws RangeError for a step or range that is not above 0.
 */
export function reachOnLattice(
  place: Corner,
  grounds: readonly ProtectedGround[],
  rangeMeters: number,
  stepMeters: number,
): ReachAt {
  if (!(rangeMeters > 0)) throw new RangeError(`a range of ${rangeMeters} m`);
  return onLattice(place, stepMeters, (middle) => seatReach(middle, grounds, rangeMeters));
}

interface Corner {
  readonly west: number;
  readonly north: number;
}

/** Anything about a place, asked once for each square of a lattice, at its middle, and kept. */
export function onLattice<T>(
  { west, north }: Corner,
  stepMeters: number,
  ask: (middle: XY) => T,
): (x: number, y: number) => T {
  if (!(stepMeters > 0)) throw new RangeError(`a lattice of ${stepMeters} m`);
  const rows = new Map<number, Map<number, T>>();
  return (x, y) => {
    const column = Math.floor((x - west) / stepMeters);
    const row = Math.floor((north - y) / stepMeters);
    let kept = rows.get(row);
    if (!kept) rows.set(row, (kept = new Map()));
    let found = kept.get(column);
    if (found === undefined) {
      found = ask([west + (column + 0.5) * stepMeters, north - (row + 0.5) * stepMeters]);
      kept.set(column, found);
    }
    return found;
  };
}
