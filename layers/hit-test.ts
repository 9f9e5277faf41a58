import type { Geometry } from 'geojson';

/** A drawn thing near the pointer, as the map finds it. */
export interface HitCandidate {
  readonly featureId: string;
  readonly mark: string;
  readonly order: number;
  readonly geometry: Geometry;
}

type Project = (position: readonly [number, number]) => readonly [number, number];

/** How far from a symbol or line a tap still means it: half of a 44-pixel target. */
export const reachPixels = 22;

/**
 * Which feature a tap means: the nearest symbol within reach, else the nearest line, else the
 * topmost and of those the smallest ground under the point itself. Null for none.
 */
export function chooseHit(
  candidates: readonly HitCandidate[],
  point: readonly [number, number],
  project: Project,
  reach = reachPixels,
): string | null {
  let best: { id: string; score: number } | null = null;
  for (const candidate of candidates) {
    const score = scoreOf(candidate, point, project, reach);
    if (score !== null && (best === null || score < best.score)) {
      best = { id: candidate.featureId, score };
    }
  }
  return best?.id ?? null;
}

/** Lower is better; bands of a million keep symbols before lines before grounds. */
function scoreOf(
  { mark, order, geometry }: HitCandidate,
  point: readonly [number, number],
  project: Project,
  reach: number,
): number | null {
  if (mark === 'fill' || mark === 'pattern') {
    const rings = ringsOf(geometry).map((ring) => ring.map(project));
    if (!rings.some((ring) => containsPoint(ring, point))) return null;
    const area = Math.abs(rings.reduce((sum, ring) => sum + ringArea(ring), 0));
    return 2e6 + (200 - order) * 1e3 + Math.min(999, Math.log10(1 + area) * 100);
  }
  const away = distanceTo(geometry, point, project);
  // Text counts as touched wherever it is written: the map already found it under the box.
  if (mark === 'label' || mark === 'line-text') return 1.5e6;
  if (away > reach) return null;
  return mark === 'symbol' ? away : 1e6 + away;
}

function ringsOf(geometry: Geometry): [number, number][][] {
  if (geometry.type === 'Polygon') return geometry.coordinates as [number, number][][];
  if (geometry.type === 'MultiPolygon') return geometry.coordinates.flat() as [number, number][][];
  return [];
}

function distanceTo(
  geometry: Geometry,
  point: readonly [number, number],
  project: Project,
): number {
  switch (geometry.type) {
    case 'Point':
      return apart(project(geometry.coordinates as [number, number]), point);
    case 'LineString':
      return toLine(geometry.coordinates as [number, number][], point, project);
    case 'MultiLineString':
    case 'Polygon':
      return Math.min(
        ...geometry.coordinates.map((line) => toLine(line as [number, number][], point, project)),
      );
    case 'MultiPolygon':
      return Math.min(...ringsOf(geometry).map((ring) => toLine(ring, point, project)));
    default:
      return Infinity;
  }
}

function toLine(
  line: readonly (readonly [number, number])[],
  point: readonly [number, number],
  project: Project,
): number {
  let nearest = Infinity;
  const pixels = line.map(project);
  for (let i = 1; i < pixels.length; i++) {
    nearest = Math.min(nearest, distanceToSegment(point, pixels[i - 1], pixels[i]));
  }
  return nearest;
}

/** Shortest distance from a point to the segment a–b, in the unit of the coordinates. */
export function distanceToSegment(
  [x, y]: readonly [number, number],
  [ax, ay]: readonly [number, number],
  [bx, by]: readonly [number, number],
): number {
  const dx = bx - ax;
  const dy = by - ay;
  const square = dx * dx + dy * dy;
  const t = square > 0 ? Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / square)) : 0;
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

function containsPoint(
  ring: readonly (readonly [number, number])[],
  [x, y]: readonly [number, number],
): boolean {
  let inside = false;
  for (let i = 1; i < ring.length; i++) {
    const [ax, ay] = ring[i - 1];
    const [bx, by] = ring[i];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

function ringArea(ring: readonly (readonly [number, number])[]): number {
  let sum = 0;
  for (let i = 1; i < ring.length; i++) {
    sum += ring[i - 1][0] * ring[i][1] - ring[i][0] * ring[i - 1][1];
  }
  return sum / 2;
}

function apart(a: readonly [number, number], b: readonly [number, number]): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
