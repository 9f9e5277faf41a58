import { pointAtBearing } from '../../frame/geodesic.ts';
import type { Frame } from '../../frame/crs-types.ts';
import type { PlanGeometry, Position } from '../feature.ts';
import type { XY } from '../overlay/arrangement.ts';
import { mapPositions, middleOf } from './map-positions.ts';
import { toPosition } from './plan-plane.ts';

/**
 * The same shape elsewhere: moved so many metres on the ground along a true bearing (degrees
 * clockwise from north). Every corner moves alike in the site frame, so sizes and angles stay; the
 * middle of the shape's box moves exactly that far. Throws RangeError where not finite.
 */
export function moveByBearing(
  geometry: PlanGeometry,
  bearingDegrees: number,
  distanceMeters: number,
  frame: Frame,
): PlanGeometry {
  const middle = middleOf(geometry, frame);
  const [lng, lat] = frame.toLngLat(...middle);
  const [x, y] = frame.fromLngLat(...pointAtBearing([lng, lat], bearingDegrees, distanceMeters));
  return shift(geometry, [x - middle[0], y - middle[1]], frame);
}

/** As `moveByBearing`, by metres to true east and true north. */
export function moveByMeters(
  geometry: PlanGeometry,
  eastMeters: number,
  northMeters: number,
  frame: Frame,
): PlanGeometry {
  const bearing = (Math.atan2(eastMeters, northMeters) * 180) / Math.PI;
  return moveByBearing(geometry, bearing, Math.hypot(eastMeters, northMeters), frame);
}

function shift(geometry: PlanGeometry, [dx, dy]: XY, frame: Frame): PlanGeometry {
  return mapPositions(geometry, ([lng, lat]): Position => {
    const [x, y] = frame.fromLngLat(lng, lat);
    return toPosition(frame, [x + dx, y + dy]);
  });
}
