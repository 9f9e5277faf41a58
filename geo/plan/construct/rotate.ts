import type { Frame } from '../../frame/crs-types.ts';
import type { PlanGeometry, Position } from '../feature.ts';
import { mapPositions } from './map-positions.ts';
import { toPosition } from './plan-plane.ts';

/**
 * The same shape turned clockwise by degrees about a position, in the site frame, so sizes and
 * angles stay. Throws RangeError where not finite.
 * Example: a point due east of the pivot turned by 90 lies due south of it.
 */
export function rotateGeometry(
  geometry: PlanGeometry,
  clockwiseDegrees: number,
  about: Position,
  frame: Frame,
): PlanGeometry {
  if (!Number.isFinite(clockwiseDegrees)) throw new RangeError(`a turn of ${clockwiseDegrees}`);
  const [cx, cy] = frame.fromLngLat(about[0], about[1]);
  const angle = (clockwiseDegrees * Math.PI) / 180;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  return mapPositions(geometry, ([lng, lat]) => {
    const [x, y] = frame.fromLngLat(lng, lat);
    const dx = x - cx;
    const dy = y - cy;
    return toPosition(frame, [cx + dx * cos + dy * sin, cy + dy * cos - dx * sin]);
  });
}
