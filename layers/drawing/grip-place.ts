import type { PlanGeometry, Position } from '../../geo/plan/feature.ts';
import { labelPoint } from '../plan/label-point.ts';
import { lineLength, placeAt } from '../../geo/plan/line-geometry.ts';
import { localPlane } from '../plan/local-plane.ts';

/**
 * Where the grip for carrying a whole shape sits: well inside a polygon, a quarter along a line
 * (its middle has a handle for a new corner when it has two points), on a point itself.
 */
export function gripPlace(geometry: PlanGeometry): Position {
  if (geometry.type === 'Point') return geometry.coordinates;
  if (geometry.type === 'LineString') {
    const plane = localPlane(geometry.coordinates[0]);
    const line = geometry.coordinates.map(plane.toPlane);
    const length = lineLength(line);
    return length > 0 ? plane.toPosition(placeAt(line, length / 4).at) : geometry.coordinates[0];
  }
  const plane = localPlane(geometry.coordinates[0][0]);
  const rings = geometry.coordinates.map((ring) => ring.map(plane.toPlane));
  return plane.toPosition(labelPoint(rings));
}
