import type { Frame } from '../../frame/crs-types.ts';
import { ok, problem, type Result } from '../../result.ts';
import type { XY } from '../overlay/arrangement.ts';
import { overlay } from '../overlay/overlay.ts';
import type { PlanePolygon } from '../overlay/ring-areas.ts';
import {
  leastPieceSquareMeters,
  planeArea,
  ringsToPlane,
  toPlanPolygons,
  type PolygonGeometry,
} from './plan-plane.ts';

/**
 * An area less another one drawn in it. A cutter over the edge takes a bite out of it, and may part
 * it: then several areas come back, largest first.
 * Throws RangeError where the frame has no place for a corner.
 */
export function cutHole(
  polygon: PolygonGeometry,
  hole: PolygonGeometry,
  frame: Frame,
): Result<PolygonGeometry[]> {
  const area = ringsToPlane(frame, polygon);
  const cutter = ringsToPlane(frame, hole);
  const left = cutInPlane(area, cutter);
  const taken = planeArea(area) - left.reduce((sum, part) => sum + planeArea(part), 0);
  if (!(taken >= leastPieceSquareMeters)) {
    return problem(
      'hole-misses',
      'The hole lies outside the area.',
      'Draw it inside the area, or over its edge.',
    );
  }
  const polygons = toPlanPolygons(frame, left);
  if (polygons.length > 0) return ok(polygons);
  return problem(
    'hole-takes-all',
    'The hole covers the whole area, so nothing would be left.',
    'Draw a smaller hole, or delete the area.',
  );
}

/** As above in a plane, metres. */
export function cutInPlane(
  area: readonly (readonly XY[])[],
  cutter: readonly (readonly XY[])[],
): PlanePolygon[] {
  return overlay(
    [
      { rings: area, rule: 'even-odd' },
      { rings: cutter, rule: 'even-odd' },
    ],
    ([inside, cut]) => inside && !cut,
  );
}
