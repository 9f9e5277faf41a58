import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { ExposureAt } from './lane-cost.ts';

/** A lane on one wind. */
export interface LaneOnWind {
  /** Metres of it from which scent reaches protected ground. */
  readonly scentedMeters: number;
  /** No more than is put up with. */
  readonly isServed: boolean;
}

/**
 * Which winds a lane serves, found or drawn: on each, for how long scent from it reaches protected
 * ground as likely as `scentFrom` or more, against the most that is put up with. Read in the middle of
 * pieces of at most `stepMeters`; what is not known (NaN) counts as reached. Frame metres.
 * Throws RangeError for a step that is not above 0. Example: nowhere exposed: 0 m, served.
 */
export function windsServed(
  line: readonly XY[],
  winds: readonly ExposureAt[],
  scentFrom: number,
  mostScentedMeters: number,
  stepMeters = 3,
): LaneOnWind[] {
  if (!(stepMeters > 0)) throw new RangeError(`steps of ${stepMeters} m`);
  const length = lineLength(line);
  const count = length > 0 ? Math.ceil(length / stepMeters) : 0;
  const places = Array.from({ length: count }, (_, i) => {
    return placeAt(line, (length * (i + 0.5)) / count).at;
  });
  return winds.map((exposureAt) => {
    const reached = places.filter(([x, y]) => !(exposureAt(x, y) < scentFrom)).length;
    const scentedMeters = count > 0 ? (reached * length) / count : 0;
    return { scentedMeters, isServed: scentedMeters <= mostScentedMeters };
  });
}
