import { openFrame } from '../geo/frame/open-frame.ts';
import type { PlanGeometry, Position } from '../geo/plan/feature.ts';
import { roundDegrees } from '../geo/plan/feature.ts';
import type { LineGeometry, PolygonGeometry } from '../geo/plan/construct/plan-plane.ts';
import type { XY } from '../geo/plan/overlay/arrangement.ts';

/** What the checks of constructions share: the demo's frame, shapes by metres from its corner. */

export const frame = openFrame({
  epsg: 26918,
  name: 'NAD83 / UTM zone 18N',
  datum: 'NAD83',
  proj: '+proj=utm +zone=18 +datum=NAD83 +units=m +no_defs',
});

const corner: XY = [500_000, 4_000_000];

/** Metres of the frame to one metre of ground there: UTM on its middle meridian, by definition. */
export const scale = 0.9996;

export function at(x: number, y: number): Position {
  const [lng, lat] = frame.toLngLat(corner[0] + x, corner[1] + y);
  return [roundDegrees(lng), roundDegrees(lat)];
}

export const line = (...points: XY[]): LineGeometry => ({
  type: 'LineString',
  coordinates: points.map(([x, y]) => at(x, y)),
});

/** Rings need not repeat their first corner. */
export const polygon = (...rings: XY[][]): PolygonGeometry => ({
  type: 'Polygon',
  coordinates: rings.map((ring) => [...ring, ring[0]].map(([x, y]) => at(x, y))),
});

export const rectangle = (x: number, y: number, width: number, height: number): XY[] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];

export function plane([lng, lat]: Position): XY {
  const [x, y] = frame.fromLngLat(lng, lat);
  return [x - corner[0], y - corner[1]];
}

/** Lines or rings of a geometry as metres from the corner; a ring's first corner once. */
export function planeOf(geometry: PlanGeometry): XY[][] {
  if (geometry.type === 'Point') return [[plane(geometry.coordinates)]];
  if (geometry.type === 'LineString') return [geometry.coordinates.map(plane)];
  return geometry.coordinates.map((ring) => ring.slice(0, -1).map(plane));
}

export function distanceToSegment([x, y]: XY, [ax, ay]: XY, [bx, by]: XY): number {
  const dx = bx - ax;
  const dy = by - ay;
  const length = dx * dx + dy * dy;
  const t = length > 0 ? Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / length)) : 0;
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

export function distanceToLine(p: XY, points: readonly XY[]): number {
  let least = points.length === 1 ? distanceToSegment(p, points[0], points[0]) : Infinity;
  for (let i = 1; i < points.length; i++) {
    least = Math.min(least, distanceToSegment(p, points[i - 1], points[i]));
  }
  return least;
}

/** Even-odd, rings closed or not. */
export function isInside([x, y]: XY, rings: readonly (readonly XY[])[]): boolean {
  let inside = false;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [ax, ay] = ring[j];
      const [bx, by] = ring[i];
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
    }
  }
  return inside;
}

export function linesCross(a: XY, b: XY, c: XY, d: XY): boolean {
  const side = (p: XY, q: XY, r: XY) =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}
