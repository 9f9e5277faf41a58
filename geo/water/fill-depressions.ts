import { CellHeap } from '../raster/cell-heap.ts';
import type { Grid } from '../raster/grid.ts';
import { outFor, rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';

/** Work arrays of the fill; keep them for the next one of the same ground. */
export class FillBuffers {
  readonly heap = new CellHeap();
  /** Raised cells whose neighbours are still to be seen: the first `waiting`, all at one level. */
  raised = new Int32Array(1024);
  waiting = 0;
  state = new Uint8Array(0);

  /** `state` for so many cells, all open. */
  reset(cells: number): void {
    this.heap.clear();
    this.waiting = 0;
    if (this.state.length === cells) this.state.fill(0);
    else this.state = new Uint8Array(cells);
  }
}

const OPEN = 0;
const SEEN = 1;
/** Seen, and on the rim of the grid: its neighbours need a look at the bounds. */
const SEEN_ON_RIM = 2;

/**
 * The ground with every closed hollow filled level to its spill, eight neighbours: each cell at the
 * lowest level from which water still runs off to the rim or to a cell without data.
 * Source: Barnes, Lehman & Mulla 2014, Computers & Geosciences 62:117-127, priority flood with a
 * plain list for raised cells. Rim cells and those beside no data drain freely.
 * Row-major, row 0 north, metres; NaN stays NaN. Exact: results are heights of the ground itself.
 * Order of work: lowest level, then lowest index. Throws RangeError for a wrong length of `out`.
 * Example: a 7 × 7 bowl of 10, 8 and 5 with a notch of 7 fills to 7.0 and holds 19.0 cell·m.
 */
export function* fillDepressions(
  ground: Grid,
  options: { readonly out?: Float32Array; readonly buffers?: FillBuffers } = {},
): Work<Float32Array> {
  const { width, height, data } = ground;
  const cells = width * height;
  const filled = outFor(cells, options.out);
  if (filled !== data) filled.set(data);
  const buffers = options.buffers ?? new FillBuffers();
  buffers.reset(cells);
  yield { share: 0, doing: 'filling low spots' };
  seedRim(filled, width, height, buffers);
  const band = 8 * rowsPerBand(width);
  for (let row = 0; row < height; row += band) {
    seedBesideNoData(filled, width, height, row, Math.min(height, row + band), buffers);
    yield { share: 0, doing: 'filling low spots' };
  }
  let done = 0;
  for (;;) {
    const taken = floodSome(filled, width, height, buffers, 8192);
    if (taken === 0) return filled;
    done += taken;
    yield { share: Math.min(1, done / cells), doing: 'filling low spots' };
  }
}

/** Puts the outermost cells in the heap. */
function seedRim(z: Float32Array, width: number, height: number, buffers: FillBuffers): void {
  for (let row = 0; row < height; row++) {
    const rimRow = row === 0 || row === height - 1;
    const step = rimRow || width === 1 ? 1 : width - 1;
    for (let column = 0; column < width; column += step) {
      seed(z, row * width + column, SEEN_ON_RIM, buffers);
    }
  }
}

/** Closes the cells without data in some rows, and puts their neighbours in the heap. */
function seedBesideNoData(
  z: Float32Array,
  width: number,
  height: number,
  fromRow: number,
  toRow: number,
  buffers: FillBuffers,
): void {
  const { state } = buffers;
  for (let cell = fromRow * width; cell < toRow * width; cell++) {
    if (z[cell] === z[cell]) continue;
    if (state[cell] === OPEN) state[cell] = SEEN;
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    for (let r = Math.max(0, row - 1); r <= Math.min(height - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(width - 1, column + 1); c++) {
        seed(z, r * width + c, SEEN, buffers);
      }
    }
  }
}

function seed(z: Float32Array, cell: number, as: number, { state, heap }: FillBuffers): void {
  const level = z[cell]!;
  if (level !== level || state[cell] !== OPEN) return;
  state[cell] = as;
  heap.push(cell, level);
}

/** Takes up to `most` cells and looks at their neighbours; returns how many it took. */
function floodSome(
  z: Float32Array,
  width: number,
  height: number,
  buffers: FillBuffers,
  most: number,
): number {
  const { state, heap } = buffers;
  let { waiting } = buffers;
  let taken = 0;
  while (taken < most) {
    const cell = waiting > 0 ? buffers.raised[--waiting]! : heap.pop();
    if (cell < 0) break;
    taken++;
    if (buffers.raised.length < waiting + 8) buffers.raised = longer(buffers.raised);
    if (state[cell] === SEEN_ON_RIM) {
      waiting = lookRound(z, width, height, cell, buffers, waiting);
      continue;
    }
    const level = z[cell]!;
    const above = cell - width;
    const below = cell + width;
    if (state[above - 1] === OPEN) waiting = reach(z, above - 1, level, buffers, waiting);
    if (state[above] === OPEN) waiting = reach(z, above, level, buffers, waiting);
    if (state[above + 1] === OPEN) waiting = reach(z, above + 1, level, buffers, waiting);
    if (state[cell - 1] === OPEN) waiting = reach(z, cell - 1, level, buffers, waiting);
    if (state[cell + 1] === OPEN) waiting = reach(z, cell + 1, level, buffers, waiting);
    if (state[below - 1] === OPEN) waiting = reach(z, below - 1, level, buffers, waiting);
    if (state[below] === OPEN) waiting = reach(z, below, level, buffers, waiting);
    if (state[below + 1] === OPEN) waiting = reach(z, below + 1, level, buffers, waiting);
  }
  buffers.waiting = waiting;
  return taken;
}

/** A neighbour seen for the first time from `level`: raised to it, or put in the heap. */
function reach(
  z: Float32Array,
  cell: number,
  level: number,
  buffers: FillBuffers,
  waiting: number,
): number {
  buffers.state[cell] = SEEN;
  const own = z[cell]!;
  if (own > level) {
    buffers.heap.push(cell, own);
    return waiting;
  }
  z[cell] = level;
  buffers.raised[waiting] = cell;
  return waiting + 1;
}

function lookRound(
  z: Float32Array,
  width: number,
  height: number,
  cell: number,
  buffers: FillBuffers,
  waiting: number,
): number {
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  for (let r = Math.max(0, row - 1); r <= Math.min(height - 1, row + 1); r++) {
    for (let c = Math.max(0, column - 1); c <= Math.min(width - 1, column + 1); c++) {
      const next = r * width + c;
      if (buffers.state[next] === OPEN) waiting = reach(z, next, z[cell]!, buffers, waiting);
    }
  }
  return waiting;
}

function longer(list: Int32Array): Int32Array<ArrayBuffer> {
  const more = new Int32Array(list.length * 2);
  more.set(list);
  return more;
}
