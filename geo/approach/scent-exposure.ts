import type { ScentDrift } from '../wind/scent-drift.ts';
import {
  clearanceDegrees,
  seatReach,
  type ProtectedGround,
  type SeatReach,
} from '../wind/seat-reach.ts';
import type { ExposureAt } from './lane-cost.ts';

/** Air that spreads all round is marginal wherever protected ground is in reach. */
const ALL_ROUND = 0.5;

/**
 * For each drift, how likely scent from a place reaches protected ground, by the angle rule of
 * `windVerdict`: 1 within the core of the axis (the wind does not work there), falling straight to 0
 * at the drift's half-angle (from there on it works); a half in air that spreads all round. What
 * lies round a place is looked at once for all drifts and kept, so ask all of them at the same
 * places. Frame metres; axes are grid bearings. Throws RangeError for a core below 0 and for drifts
 * that do not reach equally far.
 * Example: core 15, half-angle 30, ground 21 degrees off the axis: 0.6.
 */
export function scentExposures(
  grounds: readonly ProtectedGround[],
  drifts: readonly ScentDrift[],
  coreHalfAngleDegrees: number,
): ExposureAt[] {
  if (!(coreHalfAngleDegrees >= 0)) throw new RangeError(`a core of ${coreHalfAngleDegrees}`);
  const reachMeters = drifts[0]?.reachMeters ?? 0;
  if (drifts.some((drift) => drift.reachMeters !== reachMeters)) {
    throw new RangeError(`reaches of ${drifts.map((drift) => drift.reachMeters).join(', ')} m`);
  }
  const rows = new Map<number, Map<number, SeatReach>>();
  const reachAt = (x: number, y: number): SeatReach => {
    let row = rows.get(y);
    if (row === undefined) rows.set(y, (row = new Map()));
    let reach = row.get(x);
    if (reach === undefined) row.set(x, (reach = seatReach([x, y], grounds, reachMeters)));
    return reach;
  };
  return drifts.map(({ axisDegrees, halfAngleDegrees }): ExposureAt => (x, y) => {
    const { arcs } = reachAt(x, y);
    if (arcs.length === 0) return 0;
    if (axisDegrees === null) return ALL_ROUND;
    const past = clearanceDegrees(arcs, axisDegrees) - coreHalfAngleDegrees;
    if (past <= 0) return 1;
    return Math.max(0, 1 - past / (halfAngleDegrees - coreHalfAngleDegrees));
  });
}
