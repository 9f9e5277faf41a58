import type { Frame } from '../../frame/crs-types.ts';
import type { PlanGeometry, Position } from '../feature.ts';

/** The same geometry with every position changed; closed rings stay closed. */
export function mapPositions(
  geometry: PlanGeometry,
  change: (position: Position) => Position,
): PlanGeometry {
  if (geometry.type === 'Point')
    return { type: 'Point', coordinates: change(geometry.coordinates) };
  if (geometry.type === 'LineString') {
    return { type: 'LineString', coordinates: geometry.coordinates.map(change) };
  }
  return { type: 'Polygon', coordinates: geometry.coordinates.map((ring) => ring.map(change)) };
}

/** Every position of a geometry, holes too. */
export function positionsOf(geometry: PlanGeometry): readonly Position[] {
  if (geometry.type === 'Point') return [geometry.coordinates];
  return geometry.type === 'LineString' ? geometry.coordinates : geometry.coordinates.flat();
}

/** Middle of a geometry's box in frame metres. */
export function middleOf(geometry: PlanGeometry, frame: Frame): [number, number] {
  let west = Infinity;
  let east = -Infinity;
  let south = Infinity;
  let north = -Infinity;
  for (const [lng, lat] of positionsOf(geometry)) {
    const [x, y] = frame.fromLngLat(lng, lat);
    west = Math.min(west, x);
    east = Math.max(east, x);
    south = Math.min(south, y);
    north = Math.max(north, y);
  }
  return [(west + east) / 2, (south + north) / 2];
}
