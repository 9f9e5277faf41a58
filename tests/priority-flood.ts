/**
 * A plain priority flood with a binary heap (Barnes, Lehman, Mulla 2014, "Priority-flood", algorithm
 * 1, and the pointers of its algorithm 3): the slow reference for fills, spots and catchments.
 * Row-major, eight neighbours, the raster's edge is open.
 */
export interface Flood {
  /** Filled surface. */
  readonly filled: Float32Array;
  /** The cell that each cell was reached from: where its water goes over the rim; -1 at the edge. */
  readonly from: Int32Array;
}

const STEPS = [
  [-1, -1],
  [0, -1],
  [1, -1],
  [-1, 0],
  [1, 0],
  [-1, 1],
  [0, 1],
  [1, 1],
] as const;

export function neighbours(i: number, width: number, height: number): number[] {
  const column = i % width;
  const row = (i - column) / width;
  const found: number[] = [];
  for (const [dx, dy] of STEPS) {
    const c = column + dx;
    const r = row + dy;
    if (c >= 0 && r >= 0 && c < width && r < height) found.push(r * width + c);
  }
  return found;
}

export function priorityFlood(z: Float32Array, width: number, height: number): Flood {
  const filled = Float32Array.from(z);
  const from = new Int32Array(z.length).fill(-1);
  const seen = new Uint8Array(z.length);
  const heap: number[] = [];
  for (let i = 0; i < z.length; i++) {
    const column = i % width;
    const edge = column === 0 || column === width - 1 || i < width || i >= z.length - width;
    if (edge) {
      seen[i] = 1;
      push(heap, filled, i);
    }
  }
  while (heap.length > 0) {
    const i = pop(heap, filled);
    for (const j of neighbours(i, width, height)) {
      if (seen[j]) continue;
      seen[j] = 1;
      from[j] = i;
      filled[j] = Math.max(z[j], filled[i]);
      push(heap, filled, j);
    }
  }
  return { filled, from };
}

/**
 * Cells that drain to each cell, along steepest descent on the filled surface, and across flats and
 * filled spots by the way the flood came.
 */
export function upslopeCells(flood: Flood, width: number, height: number): Int32Array {
  const { filled, from } = flood;
  const to = new Int32Array(filled.length);
  const waiting = new Int32Array(filled.length);
  for (let i = 0; i < filled.length; i++) {
    let steepest = 0;
    to[i] = from[i];
    for (const j of neighbours(i, width, height)) {
      const straight = Math.abs(i - j) === 1 || Math.abs(i - j) === width;
      const drop = (filled[i] - filled[j]) / (straight ? 1 : Math.SQRT2);
      if (drop > steepest) {
        steepest = drop;
        to[i] = j;
      }
    }
    if (to[i] >= 0) waiting[to[i]]++;
  }
  const upslope = new Int32Array(filled.length).fill(1);
  const ready: number[] = [];
  for (let i = 0; i < waiting.length; i++) if (waiting[i] === 0) ready.push(i);
  while (ready.length > 0) {
    const i = ready.pop()!;
    const next = to[i];
    if (next < 0) continue;
    upslope[next] += upslope[i];
    if (--waiting[next] === 0) ready.push(next);
  }
  return upslope;
}

function before(filled: Float32Array, a: number, b: number): boolean {
  return filled[a] < filled[b] || (filled[a] === filled[b] && a < b);
}

function push(heap: number[], filled: Float32Array, cell: number): void {
  let at = heap.push(cell) - 1;
  while (at > 0) {
    const parent = (at - 1) >> 1;
    if (!before(filled, cell, heap[parent])) break;
    heap[at] = heap[parent];
    at = parent;
  }
  heap[at] = cell;
}

function pop(heap: number[], filled: Float32Array): number {
  const first = heap[0];
  const cell = heap.pop()!;
  if (heap.length === 0) return first;
  let at = 0;
  for (;;) {
    let child = 2 * at + 1;
    if (child >= heap.length) break;
    if (child + 1 < heap.length && before(filled, heap[child + 1], heap[child])) child++;
    if (!before(filled, heap[child], cell)) break;
    heap[at] = heap[child];
    at = child;
  }
  heap[at] = cell;
  return first;
}
