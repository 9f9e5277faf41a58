import { shapeDistance, type PlaneShape } from '../plan/shape-distance.ts';
import type { XY } from '../plan/overlay/arrangement.ts';

/** Something a stand must keep away from. */
export interface Setback {
  readonly id: string;
  /** A property line is a line: inside an area the distance is nothing. */
  readonly shape: PlaneShape;
  readonly requiredMeters: number;
}

export interface SetbackCheck {
  readonly id: string;
  readonly meters: number;
  /** Where the thing is nearest. */
  readonly nearest: XY;
  /** Rounded the safe way, in whole units: as if nearer, as if shorter of what is asked. */
  readonly unitsAway: number;
  readonly unitsShort: number;
}

/** What a hair of rounding may add before a whole unit counts as reached. */
const HAIR = 1e-9;

/**
 * How far a stand is from each thing it must keep away from, and how far short that is. `unitMeters`
 * is the unit that is shown (a foot is 0.3048). Positions in a plane of ground metres.
 * Throws RangeError for a required distance below 0 or a unit that is not above 0.
 * Example: 149.97 m from a dwelling that needs 500 ft: 492 ft, 8 ft short.
 */
export function setbackChecks(
  stand: XY,
  setbacks: readonly Setback[],
  unitMeters: number,
): SetbackCheck[] {
  if (!(unitMeters > 0)) throw new RangeError(`a unit of ${unitMeters} m`);
  return setbacks.map(({ id, shape, requiredMeters }) => {
    if (!(requiredMeters >= 0)) throw new RangeError(`a setback of ${requiredMeters} m`);
    const { meters, to } = shapeDistance({ kind: 'point', paths: [[stand]] }, shape);
    const short = requiredMeters - meters;
    return {
      id,
      meters,
      nearest: to,
      unitsAway: Math.floor(meters / unitMeters + HAIR),
      unitsShort: short > HAIR ? Math.ceil(short / unitMeters - HAIR) : 0,
    };
  });
}
