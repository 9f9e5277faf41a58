import type { Frame } from '../../frame/crs-types.ts';
import type { PlanGeometry, Position } from '../feature.ts';
import type { XY } from '../overlay/arrangement.ts';
import { ringMeetings } from './ring-meetings.ts';
import { frameMetersPerGroundMeter, toPlane } from './plan-plane.ts';

/**
 * The same line or area with fewer corners: every corner left out lay within the tolerance (metres
 * on the ground) of the piece that takes its place. Corners that stay keep their exact positions; a
 * line keeps its ends, a ring at least three corners. An area's outline and holes never come to
 * cross or touch where they did not before: pieces that would get their corners back.
 * Source: Douglas & Peucker 1973, Cartographica 10:112–122; the farthest corner measured from the
 * piece, not from its endless line. A point comes back as it is.
 * Throws RangeError for a tolerance below 0 or not finite.
 */
export function simplifyGeometry(
  geometry: PlanGeometry,
  toleranceMeters: number,
  frame: Frame,
): PlanGeometry {
  if (!(toleranceMeters >= 0 && Number.isFinite(toleranceMeters))) {
    throw new RangeError(`a tolerance of ${toleranceMeters} m`);
  }
  if (geometry.type === 'Point') return geometry;
  if (geometry.type === 'LineString') {
    const line = toPlane(frame, geometry.coordinates);
    const keep = simplifyLine(line, toleranceMeters * frameMetersPerGroundMeter(frame, line[0]));
    return { ...geometry, coordinates: geometry.coordinates.filter((_, i) => keep[i] === 1) };
  }
  const rings = geometry.coordinates.map((ring) => toPlane(frame, ring));
  const tolerance = toleranceMeters * frameMetersPerGroundMeter(frame, rings[0][0]);
  const keeps = simplifyRings(rings, tolerance);
  return {
    ...geometry,
    coordinates: geometry.coordinates.map((ring, r): readonly Position[] =>
      ring.filter((_, i) => keeps[r][i] === 1),
    ),
  };
}

/** 1 for every corner of a line that stays; metres of a plane. */
export function simplifyLine(line: readonly XY[], tolerance: number): Uint8Array {
  const keep = new Uint8Array(line.length);
  if (line.length === 0) return keep;
  keep[0] = 1;
  keep[line.length - 1] = 1;
  thinOut(line, 0, line.length - 1, tolerance, keep);
  return keep;
}

/** The same for closed rings (first corner repeated at the end) that must not come to cross. */
export function simplifyRings(rings: readonly (readonly XY[])[], tolerance: number): Uint8Array[] {
  const keeps = rings.map((ring) => thinRing(ring, tolerance));
  // Each round gives corners back, so it ends at the latest with the rings as they were.
  for (;;) {
    const met = ringMeetings(rings, keeps);
    let given = 0;
    for (const { ring, from, to } of met) given += giveBack(rings[ring], from, to, keeps[ring]);
    if (given === 0) return keeps;
  }
}

function thinRing(ring: readonly XY[], tolerance: number): Uint8Array {
  const last = ring.length - 1;
  const keep = new Uint8Array(ring.length);
  keep[0] = 1;
  keep[last] = 1;
  // Two corners far apart cannot both be left out, so the ring never folds into a line.
  const far = farthestFrom(ring, 0, last, ring[0], ring[0]).index;
  keep[far] = 1;
  thinOut(ring, 0, far, tolerance, keep);
  thinOut(ring, far, last, tolerance, keep);
  if (keep.reduce((n, k) => n + k, 0) < 4) giveBack(ring, 0, far, keep);
  if (keep.reduce((n, k) => n + k, 0) < 4) giveBack(ring, far, last, keep);
  return keep;
}

/** Gives the corner between that strays most back; 0 where there is none between. */
function giveBack(ring: readonly XY[], from: number, to: number, keep: Uint8Array): number {
  if (to - from < 2) return 0;
  const { index } = farthestFrom(ring, from, to, ring[from], ring[to]);
  keep[index] = 1;
  return 1;
}

function thinOut(
  line: readonly XY[],
  from: number,
  to: number,
  tolerance: number,
  keep: Uint8Array,
): void {
  const open = [from, to];
  while (open.length > 0) {
    const end = open.pop()!;
    const start = open.pop()!;
    if (end - start < 2) continue;
    const { index, squared } = farthestFrom(line, start, end, line[start], line[end]);
    if (squared <= tolerance * tolerance) continue;
    keep[index] = 1;
    open.push(start, index, index, end);
  }
}

/** The corner strictly between two that is farthest from a straight piece, and its distance². */
function farthestFrom(
  line: readonly XY[],
  from: number,
  to: number,
  [ax, ay]: XY,
  [bx, by]: XY,
): { index: number; squared: number } {
  const dx = bx - ax;
  const dy = by - ay;
  const length = dx * dx + dy * dy;
  let index = from + 1;
  let squared = -1;
  for (let i = from + 1; i < to; i++) {
    const px = line[i][0] - ax;
    const py = line[i][1] - ay;
    const t = length > 0 ? Math.min(1, Math.max(0, (px * dx + py * dy) / length)) : 0;
    const ex = px - t * dx;
    const ey = py - t * dy;
    const away = ex * ex + ey * ey;
    if (away > squared) {
      squared = away;
      index = i;
    }
  }
  return { index, squared };
}
