import { roundDegrees, type PlanGeometry, type Position } from '../../geo/plan/feature.ts';

/**
 * Changes of a drawn shape that the drawing tool does not make itself. All pure. Of an area one ring
 * is in hand at a time: 0 is the outline, 1 and on are its holes; other shapes have ring 0 only.
 */

/** Every coordinate to 1e-9 degree: more decimals are refused by the drawing tool. */
export function roundGeometry(geometry: PlanGeometry): PlanGeometry {
  return mapPositions(geometry, ([lng, lat]) => [roundDegrees(lng), roundDegrees(lat)]);
}

export function ringCount(geometry: PlanGeometry): number {
  return geometry.type === 'Polygon' ? geometry.coordinates.length : 1;
}

/** Corners that can be chosen: a ring's closing point is not one of its own. */
export function corners(geometry: PlanGeometry, ring = 0): readonly Position[] {
  if (geometry.type === 'Point') return [geometry.coordinates];
  if (geometry.type === 'LineString') return geometry.coordinates;
  return geometry.coordinates[ring].slice(0, -1);
}

/** Fewest corners a shape can have. */
export function fewestCorners(type: PlanGeometry['type']): number {
  return { Point: 1, LineString: 2, Polygon: 3 }[type];
}

/** The shape with other corners in one of its rings. */
export function withCorners(
  geometry: PlanGeometry,
  ring: number,
  next: readonly Position[],
): PlanGeometry {
  if (geometry.type === 'Point') return { type: 'Point', coordinates: next[0] };
  if (geometry.type === 'LineString') return { type: 'LineString', coordinates: next };
  const closed = [...next, next[0]];
  return { type: 'Polygon', coordinates: geometry.coordinates.map((r, i) => (i === ring ? closed : r)) }; // prettier-ignore
}

/** One ring as a shape of its own: what the drawing tool gets of an area with holes. */
export function ringInHand(geometry: PlanGeometry, ring: number): PlanGeometry {
  if (geometry.type !== 'Polygon') return geometry;
  return { type: 'Polygon', coordinates: [geometry.coordinates[ring]] };
}

/**
 * The shape without one corner, or null where it would not be a shape any more. A hole that would
 * have two corners left goes as a whole.
 */
export function withoutCorner(
  geometry: PlanGeometry,
  index: number,
  ring = 0,
): PlanGeometry | null {
  const all = corners(geometry, ring);
  if (index < 0 || index >= all.length) throw new RangeError(`There is no corner ${index}.`);
  if (all.length > fewestCorners(geometry.type)) {
    return withCorners(geometry, ring, all.filter((_, i) => i !== index)); // prettier-ignore
  }
  if (geometry.type !== 'Polygon' || ring === 0) return null;
  return { type: 'Polygon', coordinates: geometry.coordinates.filter((_, i) => i !== ring) };
}

/** One corner elsewhere. */
export function withCornerAt(
  geometry: PlanGeometry,
  index: number,
  at: Position,
  ring = 0,
): PlanGeometry {
  return withCorners(geometry, ring, corners(geometry, ring).map((c, i) => (i === index ? at : c))); // prettier-ignore
}

/** A new corner halfway to the next one; null after the end of a line and for a point. */
export function withMiddleAfter(
  geometry: PlanGeometry,
  index: number,
  ring = 0,
): PlanGeometry | null {
  const all = corners(geometry, ring);
  const next = geometry.type === 'Polygon' ? all[(index + 1) % all.length] : all[index + 1];
  if (!next || geometry.type === 'Point') return null;
  const [lng, lat] = all[index];
  const middle: Position = [roundDegrees((lng + next[0]) / 2), roundDegrees((lat + next[1]) / 2)];
  return withCorners(geometry, ring, [...all.slice(0, index + 1), middle, ...all.slice(index + 1)]);
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

/** Whether two shapes are one, position for position. */
export function sameGeometry(a: PlanGeometry, b: PlanGeometry): boolean {
  if (a.type !== b.type || ringCount(a) !== ringCount(b)) return false;
  for (let ring = 0; ring < ringCount(a); ring++) {
    const left = corners(a, ring);
    const right = corners(b, ring);
    if (left.length !== right.length || !left.every((p, i) => same(p, right[i]))) return false;
  }
  return true;
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
