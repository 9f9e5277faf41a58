import type { NodedEdges } from './node-segments.ts';
import { turn } from './turn.ts';

/**
 * Winding numbers of every layer on both sides of every edge. Method: a line sweeps over the
 * vertices from west to east and keeps the edges that it crosses from south to north; the number
 * north of an edge is the number south of it plus the edge's own gain. Needs edges that meet at
 * vertices only, which `nodeSegments` gives. Edges run west to east, so left is north (of an
 * upright edge: west).
 */
export function windEdges(
  noded: NodedEdges,
  layers: number,
): { readonly left: Int16Array; readonly right: Int16Array } {
  const { x, y, edges, to, gain } = noded;
  const left = new Int16Array(edges * layers);
  const right = new Int16Array(edges * layers);
  const { first, list } = startingAt(noded);
  const crossed: number[] = [];
  for (let v = 0; v < x.length; v++) {
    let at = firstNotBelow(crossed, noded, v);
    let ending = 0;
    while (at + ending < crossed.length && to[crossed[at + ending]] === v) ending++;
    crossed.splice(at, ending);
    if (first[v] === first[v + 1]) continue;
    const starting = Array.from(list.subarray(first[v], first[v + 1]));
    starting.sort((p, q) => -turn(x[v], y[v], x[to[p]], y[to[p]], x[to[q]], y[to[q]]));
    crossed.splice(at, 0, ...starting);
    for (const edge of starting) {
      const south = at > 0 ? crossed[at - 1] : -1;
      for (let l = 0; l < layers; l++) {
        const below = south < 0 ? 0 : left[south * layers + l];
        right[edge * layers + l] = below;
        left[edge * layers + l] = below + gain[edge * layers + l];
      }
      at++;
    }
  }
  if (crossed.length > 0) throw new RangeError(`${crossed.length} edges without an end`);
  return { left, right };
}

/** Edges by the vertex that they start at, as one list with a first index per vertex. */
function startingAt({ x, edges, from }: NodedEdges): { first: Uint32Array; list: Uint32Array } {
  const first = new Uint32Array(x.length + 1);
  for (let e = 0; e < edges; e++) first[from[e] + 1]++;
  for (let v = 0; v < x.length; v++) first[v + 1] += first[v];
  const next = first.slice(0, x.length);
  const list = new Uint32Array(edges);
  for (let e = 0; e < edges; e++) list[next[from[e]]++] = e;
  return { first, list };
}

/** Index of the first crossed edge, from the south, that vertex v is not north of. */
function firstNotBelow(
  crossed: readonly number[],
  { x, y, from, to }: NodedEdges,
  v: number,
): number {
  let low = 0;
  let high = crossed.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const a = from[crossed[middle]];
    const b = to[crossed[middle]];
    if (b !== v && turn(x[a], y[a], x[b], y[b], x[v], y[v]) > 0) low = middle + 1;
    else high = middle;
  }
  return low;
}
