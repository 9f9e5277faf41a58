import type { XY } from '../plan/overlay/arrangement.ts';

/** A stand, where it looks and how far it reaches. */
export interface StandArc {
  readonly id: string;
  readonly at: XY;
  /** Grid bearing, degrees; null looks all round. */
  readonly facingDegrees: number | null;
  /** To either side of where it looks. */
  readonly halfArcDegrees: number;
  readonly rangeMeters: number;
}

/** Somebody sits where another may shoot: a stop. */
export interface StandInArc {
  /** Who may shoot, and who sits there. */
  readonly from: string;
  readonly to: string;
  readonly meters: number;
  /** Whole units, as if nearer. */
  readonly unitsAway: number;
  readonly bearingDegrees: number;
  /** Off the middle of the arc, 0 to 180; 0 where there is none. */
  readonly offDegrees: number;
}

/**
 * Every stand that lies within another's arc and range, for each of the two by itself. Positions in a
 * plane of ground metres, `unitMeters` as in `setbackChecks`. Two stands on one spot are in each
 * other's arc. Throws RangeError for a unit, a range or an arc that is not above 0.
 * Example: 184.84 m straight ahead, unit a yard: 202.
 */
export function standsInArc(stands: readonly StandArc[], unitMeters: number): StandInArc[] {
  if (!(unitMeters > 0)) throw new RangeError(`a unit of ${unitMeters} m`);
  const found: StandInArc[] = [];
  for (const from of stands) {
    if (!(from.rangeMeters > 0 && from.halfArcDegrees > 0)) {
      throw new RangeError(`${from.id}: ${from.rangeMeters} m, ${from.halfArcDegrees} degrees`);
    }
    for (const to of stands) {
      if (to === from) continue;
      const [east, north] = [to.at[0] - from.at[0], to.at[1] - from.at[1]];
      const meters = Math.hypot(east, north);
      if (meters > from.rangeMeters) continue;
      const bearingDegrees = bearing(east, north);
      const isAll = from.facingDegrees === null || meters === 0;
      const offDegrees = isAll ? 0 : angleBetween(bearingDegrees, from.facingDegrees!);
      if (offDegrees > from.halfArcDegrees) continue;
      const unitsAway = Math.floor(meters / unitMeters + 1e-9);
      found.push({ from: from.id, to: to.id, meters, unitsAway, bearingDegrees, offDegrees });
    }
  }
  return found;
}

/** Grid bearing of a direction, 0 up to 360. */
export function bearing(east: number, north: number): number {
  return ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360;
}

/** Between two bearings, 0 to 180. */
export function angleBetween(a: number, b: number): number {
  return Math.abs(((((a - b) % 360) + 540) % 360) - 180);
}
