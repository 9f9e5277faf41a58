import { roundDegrees, type PlanGeometry, type Position } from '../../geo/plan/feature.ts';

/** Changes of a drawn shape that the drawing tool does not make itself. All pure. */

/** Every coordinate to 1e-9 degree: more decimals are refused by the drawing tool. */
export function roundGeometry(geometry: PlanGeometry): PlanGeometry {
  return mapPositions(geometry, ([lng, lat]) => [roundDegrees(lng), roundDegrees(lat)]);
}

/** Corners that can be chosen: a ring's closing point is not one of its own. */
export function corners(geometry: PlanGeometry): readonly Position[] {
  if (geometry.type === 'Point') return [geometry.coordinates];
  if (geometry.type === 'LineString') return geometry.coordinates;
  return geometry.coordinates[0].slice(0, -1);
}

/** Fewest corners a shape can have. */
export function fewestCorners(type: PlanGeometry['type']): number {
  return { Point: 1, LineString: 2, Polygon: 3 }[type];
}

/** The shape without one corner, or null where it would not be a shape any more. */
export function withoutCorner(geometry: PlanGeometry, index: number): PlanGeometry | null {
  const all = corners(geometry);
  if (index < 0 || index >= all.length) throw new RangeError(`There is no corner ${index}.`);
  if (all.length <= fewestCorners(geometry.type) || geometry.type === 'Point') return null;
  const left = all.filter((_, i) => i !== index);
  if (geometry.type === 'LineString') return { type: 'LineString', coordinates: left };
  const holes = geometry.coordinates.slice(1);
  return { type: 'Polygon', coordinates: [[...left, left[0]], ...holes] };
}

/**
 * The shape carried from one place to another without a change of size: east–west distances in
 * degrees grow with the latitude, so they are scaled by the cosines.
 */
export function carried(geometry: PlanGeometry, from: Position, to: Position): PlanGeometry {
  const scale = Math.cos((from[1] * Math.PI) / 180) / Math.cos((to[1] * Math.PI) / 180);
  return mapPositions(geometry, ([lng, lat]) => [
    roundDegrees(to[0] + (lng - from[0]) * scale),
    roundDegrees(to[1] + (lat - from[1])),
  ]);
}

function mapPositions(geometry: PlanGeometry, change: (p: Position) => Position): PlanGeometry {
  switch (geometry.type) {
    case 'Point':
      return { type: 'Point', coordinates: change(geometry.coordinates) };
    case 'LineString':
      return { type: 'LineString', coordinates: geometry.coordinates.map(change) };
    case 'Polygon':
      return { type: 'Polygon', coordinates: geometry.coordinates.map((ring) => ring.map(change)) };
  }
}

/**
 * The shape that is meant while drawing: placed points, and the one that follows the pointer when
 * `withPointer`. Null while there are too few different ones.
 */
export function drawnShape(
  type: PlanGeometry['type'],
  points: readonly Position[],
): PlanGeometry | null {
  const distinct = points.filter(
    (p, i) => i === 0 || p[0] !== points[i - 1][0] || p[1] !== points[i - 1][1],
  );
  const open =
    type === 'Polygon' && distinct.length > 1 && same(distinct[0], distinct[distinct.length - 1])
      ? distinct.slice(0, -1)
      : distinct;
  if (open.length < fewestCorners(type)) return null;
  if (type === 'Point') return { type, coordinates: open[0] };
  if (type === 'LineString') return { type, coordinates: open };
  return { type, coordinates: [[...open, open[0]]] };
}

function same(a: Position, b: Position): boolean {
  return a[0] === b[0] && a[1] === b[1];
}
