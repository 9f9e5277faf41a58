import { planeUnitMeters, type XY } from '../overlay/arrangement.ts';
import { eachClosePair, segmentArrays } from '../overlay/segments.ts';
import { turn } from '../overlay/turn.ts';

/** A straight piece of a thinned ring, by the corners of the whole ring that it runs between. */
export interface RingPiece {
  readonly ring: number;
  readonly from: number;
  readonly to: number;
}

/**
 * The pieces of thinned rings that cross or touch another piece, other than neighbours in their
 * shared corner; neighbours that fold back onto each other count too. `keeps` marks the corners
 * that stay; rings are closed, first corner repeated, in metres. Exact on a lattice of 1e-9 m.
 */
export function ringMeetings(
  rings: readonly (readonly XY[])[],
  keeps: readonly Uint8Array[],
): RingPiece[] {
  const pieces = rings.flatMap((ring, r) => piecesOf(ring, keeps[r], r));
  const segments = segmentArrays(pieces.length);
  const [ox, oy] = rings[0][0];
  const whole = (meters: number) => Math.round(meters / planeUnitMeters);
  pieces.forEach(({ ring, from, to }, i) => {
    segments.ax[i] = whole(rings[ring][from][0] - ox);
    segments.ay[i] = whole(rings[ring][from][1] - oy);
    segments.bx[i] = whole(rings[ring][to][0] - ox);
    segments.by[i] = whole(rings[ring][to][1] - oy);
  });
  const met = new Set<number>();
  eachClosePair(segments, (i, j) => {
    if (!meet(segments, i, j)) return;
    met.add(i);
    met.add(j);
  });
  return [...met].sort((a, b) => a - b).map((i) => pieces[i]);
}

function piecesOf(ring: readonly XY[], keep: Uint8Array, index: number): RingPiece[] {
  const pieces: RingPiece[] = [];
  let from = 0;
  for (let i = 1; i < ring.length; i++) {
    if (keep[i] === 0) continue;
    // A corner given twice makes no piece.
    if (ring[i][0] !== ring[from][0] || ring[i][1] !== ring[from][1]) {
      pieces.push({ ring: index, from, to: i });
    }
    from = i;
  }
  return pieces;
}

function meet({ ax, ay, bx, by }: ReturnType<typeof segmentArrays>, i: number, j: number): boolean {
  const s1 = Math.sign(turn(ax[i], ay[i], bx[i], by[i], ax[j], ay[j]));
  const s2 = Math.sign(turn(ax[i], ay[i], bx[i], by[i], bx[j], by[j]));
  if (s1 * s2 > 0) return false;
  const s3 = Math.sign(turn(ax[j], ay[j], bx[j], by[j], ax[i], ay[i]));
  const s4 = Math.sign(turn(ax[j], ay[j], bx[j], by[j], bx[i], by[i]));
  if (s3 * s4 > 0) return false;
  const follows = bx[i] === ax[j] && by[i] === ay[j];
  const leads = bx[j] === ax[i] && by[j] === ay[i];
  if (!follows && !leads) return true;
  if (follows && leads) return true;
  // Neighbours: a fault only where one runs back along the other.
  if (s1 !== 0 || s2 !== 0) return false;
  const dot = (bx[i] - ax[i]) * (bx[j] - ax[j]) + (by[i] - ay[i]) * (by[j] - ay[j]);
  return dot < 0;
}
