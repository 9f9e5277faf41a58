import type { XY } from '../plan/overlay/arrangement.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import type { PlaneShape } from '../plan/shape-distance.ts';
import { degrees } from './sun-series.ts';

/** Ground that scent must not reach: a plot, a bedding area, a corridor. Plane metres. */
export interface ProtectedGround {
  readonly id: string;
  readonly shape: PlaneShape;
}

/** A piece of an outline as seen from the seat, which lies at 0, 0; x east, y north. */
export interface SeenPiece {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
}

/** Bearings from `start`, clockwise, through `width` degrees; a point has none. */
export interface Arc {
  readonly start: number;
  readonly width: number;
}

/** One protected ground that lies, in part, within range of a seat. */
export interface SeenGround {
  readonly id: string;
  /** Its outline within range. */
  readonly pieces: readonly SeenPiece[];
  /** All bearings on which it lies within range: no two of them touch. */
  readonly arcs: readonly Arc[];
  /** The seat lies in it. */
  readonly isInside: boolean;
}

/** What lies round a seat within range; it hangs on no wind, so it is made once. */
export interface SeatReach {
  readonly rangeMeters: number;
  readonly grounds: readonly SeenGround[];
  /** The arcs of all of them together. */
  readonly arcs: readonly Arc[];
}

/**
 * Looks round a seat: on which bearings (grid bearings, where the plane is the frame) protected
 * ground lies within range, exactly, edge by edge. A ray from outside meets an area within range if
 * and only if it meets its outline there, so outlines are enough; a seat in an area has it all round.
 * Throws RangeError for a place or range that is not finite.
 */
export function seatReach(
  seat: XY,
  grounds: readonly ProtectedGround[],
  rangeMeters: number,
): SeatReach {
  if (!Number.isFinite(seat[0] + seat[1]) || !(rangeMeters > 0 && rangeMeters < Infinity)) {
    throw new RangeError(`seatReach: at ${seat[0]}, ${seat[1]}, range ${rangeMeters} m`);
  }
  const seen = grounds
    .map((ground) => look(seat, ground, rangeMeters))
    .filter(({ arcs }) => arcs.length > 0);
  return { rangeMeters, grounds: seen, arcs: joined(seen.flatMap(({ arcs }) => arcs)) };
}

/** Degrees between a bearing and the nearest of the arcs: 0 within one, Infinity without any. */
export function clearanceDegrees(arcs: readonly Arc[], bearing: number): number {
  let least = Infinity;
  for (const { start, width } of arcs) {
    const past = (((bearing - start) % 360) + 360) % 360;
    if (past <= width) return 0;
    least = Math.min(least, past - width, 360 - past);
  }
  return least;
}

/** Degrees of the arcs that lie between two bearings, `half` either side of `axis`; half up to 180. */
export function arcWithin(arcs: readonly Arc[], axis: number, half: number): number {
  let sum = 0;
  for (const { start, width } of arcs) {
    // Measured from the sector's near side: the arc may wrap past it and come in again.
    const from = (((start - (axis - half)) % 360) + 360) % 360;
    const to = from + width;
    sum += Math.max(0, Math.min(to, 2 * half) - from);
    sum += Math.max(0, Math.min(to - 360, 2 * half));
  }
  return sum;
}

function look(seat: XY, { id, shape }: ProtectedGround, range: number): SeenGround {
  const moved = shape.paths.map((path) => path.map(([x, y]): XY => [x - seat[0], y - seat[1]]));
  const isInside = shape.kind === 'area' && isInPolygon([0, 0], moved);
  const pieces = moved.flatMap((path) => piecesOf(path, shape.kind === 'area', range));
  if (isInside) return { id, pieces, arcs: [{ start: 0, width: 360 }], isInside };
  return { id, pieces, arcs: joined(pieces.flatMap(arcsOf)), isInside };
}

/** The pieces of a path, cut off at the range. */
function piecesOf(path: readonly XY[], isRing: boolean, range: number): SeenPiece[] {
  const pieces: SeenPiece[] = [];
  const count = path.length;
  if (count === 1) {
    const [x, y] = path[0]!;
    return Math.hypot(x, y) <= range ? [{ ax: x, ay: y, bx: x, by: y }] : [];
  }
  for (let i = isRing ? 0 : 1; i < count; i++) {
    const piece = cutAtRange(path[(i + count - 1) % count]!, path[i]!, range);
    if (piece) pieces.push(piece);
  }
  return pieces;
}

function cutAtRange([ax, ay]: XY, [bx, by]: XY, range: number): SeenPiece | null {
  const [dx, dy] = [bx - ax, by - ay];
  const square = dx * dx + dy * dy;
  if (square === 0) return Math.hypot(ax, ay) <= range ? { ax, ay, bx, by } : null;
  // Where |a + t d| is the range: t = -middle ± root.
  const middle = (ax * dx + ay * dy) / square;
  const root = middle * middle - (ax * ax + ay * ay - range * range) / square;
  if (root < 0) return null;
  const from = Math.max(0, -middle - Math.sqrt(root));
  const to = Math.min(1, -middle + Math.sqrt(root));
  if (from > to) return null;
  return {
    ax: from === 0 ? ax : ax + from * dx,
    ay: from === 0 ? ay : ay + from * dy,
    bx: to === 1 ? bx : ax + to * dx,
    by: to === 1 ? by : ay + to * dy,
  };
}

/** Closer to the seat than this counts as at it. */
const AT_SEAT = 1e-9;

/** The arc of a piece; of one through the seat the two ways that it leads. */
function arcsOf({ ax, ay, bx, by }: SeenPiece): Arc[] {
  const [a, b] = [bearingOf(ax, ay), bearingOf(bx, by)];
  const [nearA, nearB] = [Math.hypot(ax, ay) < AT_SEAT, Math.hypot(bx, by) < AT_SEAT];
  if (nearA && nearB) return [{ start: 0, width: 360 }];
  if (nearA || nearB) return [{ start: nearA ? b : a, width: 0 }];
  const cross = ax * by - ay * bx;
  if (Math.abs(cross) < AT_SEAT * Math.hypot(bx - ax, by - ay)) {
    return [a, b].map((start) => ({ start, width: 0 }));
  }
  // Anticlockwise from a to b where the cross product is above 0.
  const [start, end] = cross > 0 ? [b, a] : [a, b];
  return [{ start, width: (end - start + 360) % 360 }];
}

function bearingOf(x: number, y: number): number {
  return (degrees(Math.atan2(x, y)) + 360) % 360;
}

/** Less than a millionth of an inch at any range: rounding between edges that share a corner. */
const TOUCHING = 1e-9;

/** The same bearings in arcs that do not touch, by their start. */
function joined(arcs: readonly Arc[]): Arc[] {
  const sorted = [...arcs].sort((a, b) => a.start - b.start);
  const out: { start: number; width: number }[] = [];
  for (const { start, width } of sorted) {
    const last = out.at(-1);
    if (last && start <= last.start + last.width + TOUCHING) {
      last.width = Math.max(last.width, start + width - last.start);
    } else out.push({ start, width });
  }
  // What wraps past north may run into the first arcs.
  const last = out.at(-1);
  while (last && out.length > 1 && last.start + last.width - 360 >= out[0]!.start - TOUCHING) {
    const first = out.shift()!;
    last.width = Math.max(last.width, first.start + first.width + 360 - last.start);
  }
  if (last) last.width = Math.min(360, last.width);
  return out;
}
