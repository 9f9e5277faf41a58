import type { Frame } from '../../frame/crs-types.ts';
import type { Position } from '../feature.ts';
import type { XY } from '../overlay/arrangement.ts';
import { toPosition } from './plan-plane.ts';
import { piecesIn, type SnapIndex, type SnapPiece } from './snap-index.ts';

/**
 * What a pointer can catch on: a corner or point; the foot of the square from the last corner drawn
 * onto an edge; the straight run on of an edge past its end; the nearest place on an edge.
 */
export interface SnapCandidate {
  readonly catches: 'vertex' | 'perpendicular' | 'extension' | 'edge';
  readonly at: Position;
  /** From the pointer, metres in the frame. */
  readonly awayMeters: number;
  readonly featureId: string;
  /** The edge it lies on or runs on from; twice the same position for a point. */
  readonly edge: readonly [Position, Position];
}

export interface SnapOptions {
  /** The corner drawn before, from which a square can be dropped. */
  readonly from?: Position;
  /** Features that do not catch, such as the one being dragged. */
  readonly except?: ReadonlySet<string>;
  /** How far past its ends an edge runs on, metres. Default 30. */
  readonly reachMeters?: number;
}

const order = { vertex: 0, perpendicular: 1, extension: 2, edge: 3 } as const;

/**
 * Everything within a tolerance (metres in the site frame) of a pointer that it can catch on, best
 * first: corners before squares, squares before extensions, those before edges; within a sort the
 * nearest first, then by feature id. Extensions count only where an edge ends within `reachMeters`.
 * Throws RangeError for a tolerance that is not above 0 or where the frame has no place.
 */
export function snapPoint(
  pointer: Position,
  index: SnapIndex,
  toleranceMeters: number,
  frame: Frame,
  options: SnapOptions = {},
): SnapCandidate[] {
  if (!(toleranceMeters > 0)) throw new RangeError(`a tolerance of ${toleranceMeters} m`);
  const p = frame.fromLngLat(pointer[0], pointer[1]);
  const from = options.from && frame.fromLngLat(options.from[0], options.from[1]);
  const reach = options.reachMeters ?? 30;
  const box = boxRound(frame, p, toleranceMeters + reach);
  const mayCatch = roughCheck(pointer, box, toleranceMeters, reach);
  const found: SnapCandidate[] = [];
  for (const piece of piecesIn(index, ...box)) {
    if (options.except?.has(piece.featureId) || !mayCatch(piece)) continue;
    catchesOn(piece, p, from ?? null, toleranceMeters, reach, frame, found);
  }
  found.sort(
    (a, b) =>
      order[a.catches] - order[b.catches] ||
      a.awayMeters - b.awayMeters ||
      (a.featureId < b.featureId ? -1 : a.featureId > b.featureId ? 1 : 0),
  );
  return withoutTwins(found);
}

function catchesOn(
  { featureId, a, b }: SnapPiece,
  p: XY,
  from: XY | null,
  tolerance: number,
  reach: number,
  frame: Frame,
  found: SnapCandidate[],
): void {
  const pa = frame.fromLngLat(a[0], a[1]);
  const pb = frame.fromLngLat(b[0], b[1]);
  const add = (catches: SnapCandidate['catches'], at: XY, exact?: Position) => {
    const awayMeters = Math.hypot(at[0] - p[0], at[1] - p[1]);
    if (awayMeters > tolerance) return;
    found.push({
      catches,
      at: exact ?? toPosition(frame, at),
      awayMeters,
      featureId,
      edge: [a, b],
    });
  };
  add('vertex', pa, a);
  const length = Math.hypot(pb[0] - pa[0], pb[1] - pa[1]);
  if (length === 0) return;
  add('vertex', pb, b);
  const along: XY = [(pb[0] - pa[0]) / length, (pb[1] - pa[1]) / length];
  const place = (station: number): XY => [pa[0] + along[0] * station, pa[1] + along[1] * station];
  const stationOf = (q: XY) => (q[0] - pa[0]) * along[0] + (q[1] - pa[1]) * along[1];
  const station = stationOf(p);
  if (station > 0 && station < length) add('edge', place(station));
  else if (station >= -reach && station <= length + reach) add('extension', place(station));
  if (from) {
    const foot = stationOf(from);
    const off = Math.hypot(place(foot)[0] - from[0], place(foot)[1] - from[1]);
    // A corner on the edge itself has no square onto it.
    if (foot > 0 && foot < length && off > 1e-3) add('perpendicular', place(foot));
  }
}

/** A box in degrees that holds the square of that half size round a place in the frame. */
function boxRound(frame: Frame, [x, y]: XY, half: number): [number, number, number, number] {
  const corners = [
    frame.toLngLat(x - half, y - half),
    frame.toLngLat(x + half, y - half),
    frame.toLngLat(x - half, y + half),
    frame.toLngLat(x + half, y + half),
  ];
  const lngs = corners.map((c) => c[0]);
  const lats = corners.map((c) => c[1]);
  return [Math.min(...lngs), Math.min(...lats), Math.max(...lngs), Math.max(...lats)];
}

/**
 * A look in degrees before anything is projected: may the piece, run on at both ends, come within
 * the tolerance? Lets through a little more, because degrees are only nearly a plane.
 */
function roughCheck(
  [lng, lat]: Position,
  [west, south, east, north]: readonly [number, number, number, number],
  tolerance: number,
  reach: number,
): (piece: SnapPiece) => boolean {
  const perEast = (2 * (tolerance + reach)) / (east - west);
  const perNorth = (2 * (tolerance + reach)) / (north - south);
  const limit = 1.1 * tolerance + 0.1;
  return ({ a, b }) => {
    const ax = (a[0] - lng) * perEast;
    const ay = (a[1] - lat) * perNorth;
    const dx = (b[0] - a[0]) * perEast;
    const dy = (b[1] - a[1]) * perNorth;
    const length = Math.hypot(dx, dy);
    if (length === 0) return Math.hypot(ax, ay) <= limit;
    const station = -(ax * dx + ay * dy) / length;
    const held = Math.min(length + reach, Math.max(-reach, station)) / length;
    return Math.hypot(ax + held * dx, ay + held * dy) <= limit;
  };
}

/** Two edges that share a corner offer it twice: once is enough. */
function withoutTwins(sorted: readonly SnapCandidate[]): SnapCandidate[] {
  const seen = new Set<string>();
  return sorted.filter(({ catches, at, featureId }) => {
    const key = `${catches} ${featureId} ${at[0]} ${at[1]}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
