/** Straight pieces on a whole-number lattice, and which of them come near each other. */

export interface Segments {
  readonly count: number;
  readonly ax: Float64Array;
  readonly ay: Float64Array;
  readonly bx: Float64Array;
  readonly by: Float64Array;
}

export function segmentArrays(count: number): Segments {
  return {
    count,
    ax: new Float64Array(count),
    ay: new Float64Array(count),
    bx: new Float64Array(count),
    by: new Float64Array(count),
  };
}

/**
 * Calls `visit` once for every two pieces whose boxes overlap or touch. Method: sweep from west to
 * east over the boxes' west sides, keeping those not yet passed. Returns early where `visit`
 * returns true. Fast where a line from south to north meets few boxes, as outlines do.
 */
export function eachClosePair(
  { count, ax, ay, bx, by }: Segments,
  visit: (i: number, j: number) => boolean | void,
): void {
  const low = new Float64Array(count);
  const order = new Uint32Array(count);
  for (let i = 0; i < count; i++) {
    low[i] = Math.min(ax[i], bx[i]);
    order[i] = i;
  }
  order.sort((p, q) => low[p] - low[q] || p - q);
  const active = new Uint32Array(count);
  let live = 0;
  for (const i of order) {
    const south = Math.min(ay[i], by[i]);
    const north = Math.max(ay[i], by[i]);
    let kept = 0;
    for (let k = 0; k < live; k++) {
      const j = active[k];
      if (Math.max(ax[j], bx[j]) < low[i]) continue;
      active[kept++] = j;
      if (Math.min(ay[j], by[j]) > north || Math.max(ay[j], by[j]) < south) continue;
      if (visit(i, j) === true) return;
    }
    active[kept++] = i;
    live = kept;
  }
}
