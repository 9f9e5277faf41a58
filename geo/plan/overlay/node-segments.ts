import { eachClosePair, type Segments } from './segments.ts';
import { crossingOf, passesSquare, turn } from './turn.ts';

/** Vertices and edges, cut wherever pieces meet; no winding numbers yet. */
export interface NodedEdges {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly isCorner: Uint8Array;
  readonly edges: number;
  readonly from: Uint32Array;
  readonly to: Uint32Array;
  readonly tag: Uint32Array;
  /** What crossing an edge from its right to its left adds: `[edge × layers + layer]`. */
  readonly gain: Int16Array;
}

/**
 * Cuts pieces on the whole-number lattice at every vertex that they pass within half a unit of:
 * their ends and, rounded, their crossings (snap rounding). Pieces that come to lie on each other
 * become one edge, their gains added up. Edges run from the lower vertex index to the higher;
 * vertices are sorted west to east, then south to north.
 */
export function nodeSegments(
  segments: Segments,
  layer: Uint16Array,
  weight: Int8Array,
  tag: Uint32Array,
  layers: number,
): NodedEdges {
  const vertices = sortVertices(segments, properCrossings(segments));
  const pieces = cutPieces(segments, vertices);
  return mergePieces(pieces, vertices, layer, weight, tag, layers);
}

/** Crossings of pieces that pass through each other; touches are vertices already. */
function properCrossings(segments: Segments): number[] {
  const { ax, ay, bx, by } = segments;
  const found: number[] = [];
  eachClosePair(segments, (i, j) => {
    const s1 = turn(ax[i], ay[i], bx[i], by[i], ax[j], ay[j]);
    const s2 = turn(ax[i], ay[i], bx[i], by[i], bx[j], by[j]);
    if (!((s1 > 0 && s2 < 0) || (s1 < 0 && s2 > 0))) return;
    const s3 = turn(ax[j], ay[j], bx[j], by[j], ax[i], ay[i]);
    const s4 = turn(ax[j], ay[j], bx[j], by[j], bx[i], by[i]);
    if (!((s3 > 0 && s4 < 0) || (s3 < 0 && s4 > 0))) return;
    found.push(...crossingOf(ax[i], ay[i], bx[i], by[i], ax[j], ay[j], bx[j], by[j]));
  });
  return found;
}

interface Vertices {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly isCorner: Uint8Array;
}

function sortVertices({ count, ax, ay, bx, by }: Segments, crossings: number[]): Vertices {
  const corners = 2 * count;
  const total = corners + crossings.length / 2;
  const x = new Float64Array(total);
  const y = new Float64Array(total);
  x.set(ax);
  x.set(bx, count);
  y.set(ay);
  y.set(by, count);
  for (let k = corners; k < total; k++) {
    x[k] = crossings[2 * (k - corners)];
    y[k] = crossings[2 * (k - corners) + 1];
  }
  const order = new Uint32Array(total);
  for (let k = 0; k < total; k++) order[k] = k;
  order.sort((p, q) => x[p] - x[q] || y[p] - y[q] || p - q);
  const out = {
    x: new Float64Array(total),
    y: new Float64Array(total),
    isCorner: new Uint8Array(total),
  };
  let n = 0;
  for (const k of order) {
    // Corners sort before crossings in the same place.
    if (n > 0 && out.x[n - 1] === x[k] && out.y[n - 1] === y[k]) continue;
    out.x[n] = x[k];
    out.y[n] = y[k];
    out.isCorner[n] = k < corners ? 1 : 0;
    n++;
  }
  return {
    x: out.x.subarray(0, n),
    y: out.y.subarray(0, n),
    isCorner: out.isCorner.subarray(0, n),
  };
}

/** Triples: vertex, next vertex, segment. */
function cutPieces({ count, ax, ay, bx, by }: Segments, { x, y }: Vertices): number[] {
  const pieces: number[] = [];
  const on: number[] = [];
  for (let i = 0; i < count; i++) {
    const dx = bx[i] - ax[i];
    const dy = by[i] - ay[i];
    if (dx === 0 && dy === 0) continue;
    const east = Math.max(ax[i], bx[i]);
    const south = Math.min(ay[i], by[i]);
    const north = Math.max(ay[i], by[i]);
    on.length = 0;
    for (let k = firstAtOrEast(x, Math.min(ax[i], bx[i])); k < x.length && x[k] <= east; k++) {
      if (y[k] < south || y[k] > north) continue;
      if (passesSquare(ax[i], ay[i], bx[i], by[i], x[k], y[k])) on.push(k);
    }
    // Differences of neighbours are small, so this order is exact where it is close.
    if (on.length > 2) on.sort((p, q) => dx * (x[p] - x[q]) + dy * (y[p] - y[q]) || p - q);
    else if (ax[i] === x[on[1]] && ay[i] === y[on[1]]) on.reverse();
    for (let k = 1; k < on.length; k++) pieces.push(on[k - 1], on[k], i);
  }
  return pieces;
}

function firstAtOrEast(x: Float64Array, west: number): number {
  let low = 0;
  let high = x.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (x[middle] < west) low = middle + 1;
    else high = middle;
  }
  return low;
}

function mergePieces(
  pieces: readonly number[],
  vertices: Vertices,
  layer: Uint16Array,
  weight: Int8Array,
  tag: Uint32Array,
  layers: number,
): NodedEdges {
  const total = vertices.x.length;
  const edgeOf = new Map<number, number>();
  const most = pieces.length / 3;
  const from = new Uint32Array(most);
  const to = new Uint32Array(most);
  const tags = new Uint32Array(most);
  const gain = new Int16Array(most * layers);
  let edges = 0;
  for (let k = 0; k < pieces.length; k += 3) {
    const forward = pieces[k] < pieces[k + 1];
    const u = forward ? pieces[k] : pieces[k + 1];
    const v = forward ? pieces[k + 1] : pieces[k];
    const segment = pieces[k + 2];
    const key = u * total + v;
    let edge = edgeOf.get(key);
    if (edge === undefined) {
      edge = edges++;
      edgeOf.set(key, edge);
      from[edge] = u;
      to[edge] = v;
    }
    gain[edge * layers + layer[segment]] += forward ? weight[segment] : -weight[segment];
    if (tag[segment] > tags[edge]) tags[edge] = tag[segment];
  }
  return {
    ...vertices,
    edges,
    from: from.subarray(0, edges),
    to: to.subarray(0, edges),
    tag: tags.subarray(0, edges),
    gain: gain.subarray(0, edges * layers),
  };
}
