import { nearestOnPiece } from './line-geometry.ts';
import type { XY } from './overlay/arrangement.ts';
import { isInPolygon } from './point-in-polygon.ts';

/** A point, a line or an area (its rings, closed or not, even-odd) in a plane of metres. */
export interface PlaneShape {
  readonly kind: 'point' | 'line' | 'area';
  readonly paths: readonly (readonly XY[])[];
}

export interface Between {
  readonly meters: number;
  /** Nearest places of the first and of the second; alike where they meet. */
  readonly from: XY;
  readonly to: XY;
}

/**
 * The shortest way between two shapes; nothing where they meet or one lies in the other.
 * Compares every piece with every other: meant for outlines, not for terrain.
 * Throws RangeError for a shape without a corner or with one that is not finite.
 * Example: squares of 10 m, 30 m from corner to corner in x: 30 m.
 */
export function shapeDistance(a: PlaneShape, b: PlaneShape): Between {
  const [some, others] = [piecesOf(a), piecesOf(b)];
  const inside = corner(b, a) ?? corner(a, b);
  if (inside) return { meters: 0, from: inside, to: inside };
  let best: Between = { meters: Infinity, from: [0, 0], to: [0, 0] };
  for (const one of some) {
    for (const other of others) {
      if (boxGap(one, other) >= best.meters) continue;
      const found = pieceDistance(one, other);
      if (found.meters < best.meters) best = found;
      if (best.meters === 0) return best;
    }
  }
  return best;
}

type Piece = readonly [a: XY, b: XY];

function piecesOf({ kind, paths }: PlaneShape): Piece[] {
  const pieces = paths.flatMap((path): Piece[] => {
    if (path.length === 1) return [[path[0]!, path[0]!]];
    const from = kind === 'area' ? 0 : 1;
    return path.slice(from).map((p, i) => [path.at(i + from - 1)!, p]);
  });
  if (pieces.length === 0) throw new RangeError('a shape without corners');
  for (const [x, y] of pieces.flat()) {
    if (!Number.isFinite(x + y)) throw new RangeError(`a corner at ${x}, ${y}`);
  }
  return pieces;
}

/** A corner of one shape that lies in the other, an area. */
function corner(one: PlaneShape, area: PlaneShape): XY | null {
  if (area.kind !== 'area') return null;
  for (const path of one.paths) {
    const found = path.find((p) => isInPolygon(p, area.paths));
    if (found) return found;
  }
  return null;
}

function pieceDistance([a, b]: Piece, [c, d]: Piece): Between {
  const meeting = crossing(a, b, c, d);
  if (meeting) return { meters: 0, from: meeting, to: meeting };
  const ways: (readonly [from: XY, to: XY])[] = [
    [a, nearestOnPiece(a, c, d)],
    [b, nearestOnPiece(b, c, d)],
    [nearestOnPiece(c, a, b), c],
    [nearestOnPiece(d, a, b), d],
  ];
  let best: Between = { meters: Infinity, from: a, to: c };
  for (const [from, to] of ways) {
    const meters = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (meters < best.meters) best = { meters, from, to };
  }
  return best;
}

function crossing(a: XY, b: XY, c: XY, d: XY): XY | null {
  const side = (p: XY, q: XY, r: XY) =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  const [s, t] = [side(c, d, a), side(c, d, b)];
  if (!(s * t < 0 && side(a, b, c) * side(a, b, d) < 0)) return null;
  const share = s / (s - t);
  return [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
}

/** No shorter way can there be between two pieces than between their boxes. */
function boxGap([a, b]: Piece, [c, d]: Piece): number {
  const gap = (k: 0 | 1) =>
    Math.max(
      0,
      Math.min(c[k], d[k]) - Math.max(a[k], b[k]),
      Math.min(a[k], b[k]) - Math.max(c[k], d[k]),
    );
  return Math.hypot(gap(0), gap(1));
}
