import type { Arrangement } from './arrangement.ts';
import { turn } from './turn.ts';

/** Directed edges of an arrangement that bound areas, each with its area on its left hand. */
export interface Boundary {
  readonly from: readonly number[];
  readonly to: readonly number[];
}

/**
 * Rings of vertex indices round every piece of ground that the boundary encloses: outer rings
 * counter-clockwise, holes clockwise, none touching itself (where one would, it is parted there).
 * Method: at each vertex take the first boundary edge clockwise from where one came, which keeps to
 * the same piece of ground. Where as many edges leave every vertex as reach it, all are used.
 */
export function traceRings(arrangement: Arrangement, { from, to }: Boundary): number[][] {
  const leaving = new Map<number, number[]>();
  from.forEach((v, i) => {
    const list = leaving.get(v);
    if (list) list.push(i);
    else leaving.set(v, [i]);
  });
  const used = new Uint8Array(from.length);
  const rings: number[][] = [];
  for (let start = 0; start < from.length; start++) {
    if (used[start]) continue;
    const walk: number[] = [];
    for (let edge = start; used[edge] === 0;) {
      used[edge] = 1;
      walk.push(from[edge]);
      const ways = (leaving.get(to[edge]) ?? []).filter((way) => !used[way] || way === start);
      if (ways.length === 0) break;
      edge =
        ways.length === 1 ? ways[0] : firstClockwise(arrangement, from[edge], to[edge], ways, to);
    }
    rings.push(...partAtTouches(walk));
  }
  return rings;
}

/** Of the ways that leave vertex `at`, the first clockwise from the way back to `back`. */
function firstClockwise(
  { x, y }: Arrangement,
  back: number,
  at: number,
  ways: readonly number[],
  to: readonly number[],
): number {
  const side = (p: number, q: number) => turn(x[at], y[at], x[p], y[p], x[q], y[q]);
  // 0: clockwise of the way back by less than half a turn; 1: straight on; 2: more; 3: back itself.
  const quarter = (p: number) => {
    const s = side(back, p);
    if (s !== 0) return s < 0 ? 0 : 2;
    const ahead = (x[p] - x[at]) * (x[back] - x[at]) + (y[p] - y[at]) * (y[back] - y[at]);
    return ahead < 0 ? 1 : 3;
  };
  let best = ways[0];
  for (const way of ways.slice(1)) {
    const change = quarter(to[way]) - quarter(to[best]);
    if (change < 0 || (change === 0 && side(to[way], to[best]) < 0)) best = way;
  }
  return best;
}

/** Parts a closed walk wherever it comes back to a vertex; pieces of two edges have no area. */
function partAtTouches(walk: readonly number[]): number[][] {
  const rings: number[][] = [];
  const stack: number[] = [];
  const place = new Map<number, number>();
  for (const v of walk) {
    const seen = place.get(v);
    if (seen !== undefined) {
      const loop = stack.splice(seen);
      for (const u of loop) place.delete(u);
      if (loop.length > 2) rings.push(loop);
    }
    place.set(v, stack.length);
    stack.push(v);
  }
  if (stack.length > 2) rings.push(stack);
  return rings;
}
