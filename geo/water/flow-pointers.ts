import type { Grid } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { isPlain, plainRow } from './plain-pointers.ts';
import { NO_DATA, OUTLET, PIT, pointerSteps } from './pointer-codes.ts';

/** Work lists of `flowPointers`; keep them for the next run. */
export class FlatBuffers {
  flats = new Int32Array(4096);
  queue = new Int32Array(4096);
}

/**
 * A pointer for every cell to its lowest neighbour; flats lead to where they drain, and a flat
 * without a way down has one pit, its lowest index, that the others lead to. Row-major, row 0
 * north, NaN no data. Equal neighbours: the lowest index. For the depression hierarchy only: the
 * eight-neighbour rule halves the catchment of a smooth swale (kernels, measured).
 * Source: Cordonnier, Bovy & Braun 2019, Earth Surf. Dynam. 7:549–562, first step; flats by
 * breadth-first search from the cells that drain. Throws RangeError when `out` has another length.
 */
export function* flowPointers(
  ground: Pick<Grid, 'data' | 'width' | 'height'>,
  out: Uint8Array,
  buffers: FlatBuffers = new FlatBuffers(),
): Work<Uint8Array> {
  const { data, width, height } = ground;
  if (out.length !== data.length) {
    throw new RangeError(`pointers for ${out.length} cells, not ${data.length}`);
  }
  let flats = 0;
  const bits = new Int32Array(data.buffer, data.byteOffset, data.length);
  // Whether the row above, the row itself and the row below are plain.
  let [above, here, below] = [false, false, height > 0 && isPlain(bits, 0, width)];
  const band = Math.max(1, rowsPerBand(width) >> 1);
  for (let row = 0; row < height; row += band) {
    const end = Math.min(height, row + band);
    for (let r = row; r < end; r++) {
      if (buffers.flats.length < flats + width) buffers.flats = longer(buffers.flats, width);
      above = here;
      here = below;
      below = r + 1 < height && isPlain(bits, (r + 1) * width, width);
      if (r === 0 || r === height - 1) rimRow(data, r * width, width, out);
      else if (above && here && below) {
        flats = plainRow(bits, r * width, width, out, buffers.flats, flats);
      } else flats = innerRow(data, r * width, width, out, buffers.flats, flats);
    }
    yield { share: end / height, doing: 'finding where water goes' };
  }
  yield* resolveFlats(data, width, out, buffers, flats);
  return out;
}

function rimRow(z: Float32Array, start: number, width: number, out: Uint8Array): void {
  for (let i = start; i < start + width; i++) out[i] = z[i] === z[i] ? OUTLET : NO_DATA;
}

/** Returns the new count of cells that no neighbour lies below. */
function innerRow(
  z: Float32Array,
  start: number,
  width: number,
  out: Uint8Array,
  flats: Int32Array,
  count: number,
): number {
  out[start] = z[start] === z[start] ? OUTLET : NO_DATA;
  const last = start + width - 1;
  for (let i = start + 1; i < last; i++) {
    const a = z[i - width - 1]!;
    const b = z[i - width]!;
    const c = z[i - width + 1]!;
    const d = z[i - 1]!;
    const f = z[i + 1]!;
    const g = z[i + width - 1]!;
    const h = z[i + width]!;
    const k = z[i + width + 1]!;
    let low = z[i]!;
    const all = a + b + c + d + low + f + g + h + k;
    if (all !== all) {
      out[i] = low === low ? OUTLET : NO_DATA;
      continue;
    }
    let to = PIT;
    if (a < low) {
      low = a;
      to = 0;
    }
    if (b < low) {
      low = b;
      to = 1;
    }
    if (c < low) {
      low = c;
      to = 2;
    }
    if (d < low) {
      low = d;
      to = 3;
    }
    if (f < low) {
      low = f;
      to = 4;
    }
    if (g < low) {
      low = g;
      to = 5;
    }
    if (h < low) {
      low = h;
      to = 6;
    }
    if (k < low) {
      low = k;
      to = 7;
    }
    out[i] = to;
    if (to === PIT) flats[count++] = i;
  }
  if (width > 1) out[last] = z[last] === z[last] ? OUTLET : NO_DATA;
  return count;
}

/** Leads flats to the nearest cell of theirs that drains; what is left gets one pit a flat. */
function* resolveFlats(
  z: Float32Array,
  width: number,
  out: Uint8Array,
  buffers: FlatBuffers,
  count: number,
): Work<void> {
  const steps = pointerSteps(width);
  const { flats } = buffers;
  if (buffers.queue.length < count) buffers.queue = new Int32Array(count);
  const { queue } = buffers;
  const doing = 'leading flats to where they drain';
  let tail = 0;
  for (let i = 0; i < count; i++) {
    const cell = flats[i]!;
    const to = drainingNeighbour(z, cell, steps, out);
    if (to !== PIT) {
      queue[tail++] = cell;
      out[cell] = to + LED;
    }
    if ((i & 0xffff) === 0xffff) yield { share: 1, doing };
  }
  for (let i = 0; i < tail; i++) out[queue[i]!]! -= LED;
  for (let head = 0; head < tail;) {
    const until = Math.min(tail, head + 65_536);
    tail = spread(z, steps, out, queue, head, until, tail);
    head = until;
    yield { share: 1, doing };
  }
  let walked = 0;
  for (let i = 0; i < count; i++) {
    const cell = flats[i]!;
    if (out[cell] !== PIT) continue;
    out[cell] = CHOSEN;
    queue[0] = cell;
    tail = 1;
    for (let head = 0; head < tail;) {
      const until = Math.min(tail, head + 65_536);
      tail = spread(z, steps, out, queue, head, until, tail);
      walked += until - head;
      head = until;
      if (walked > 65_536) {
        walked = 0;
        yield { share: 1, doing };
      }
    }
  }
  for (let i = 0; i < count; i++) if (out[flats[i]!] === CHOSEN) out[flats[i]!] = PIT;
}

/** A pit that its flat has been led to already; PIT again at the end. */
const CHOSEN = 11;
/** Added to the way out of a flat's cell while others still look for one that drains by itself. */
const LED = 16;

function drainingNeighbour(
  z: Float32Array,
  cell: number,
  steps: Int32Array,
  out: Uint8Array,
): number {
  const level = z[cell]!;
  for (let to = 0; to < 8; to++) {
    const next = cell + steps[to]!;
    const way = out[next]!;
    if (way !== PIT && way < LED && z[next] === level) return to;
  }
  return PIT;
}

/**
 * From the queue's cells `head` up to `until`, every equal neighbour still without a way leads
 * back and joins the queue; returns its new end.
 */
function spread(
  z: Float32Array,
  steps: Int32Array,
  out: Uint8Array,
  queue: Int32Array,
  head: number,
  until: number,
  tail: number,
): number {
  for (let at = head; at < until; at++) {
    const cell = queue[at]!;
    const level = z[cell]!;
    for (let to = 0; to < 8; to++) {
      const next = cell + steps[to]!;
      if (out[next] !== PIT || z[next] !== level) continue;
      // The opposite of neighbour `to` is `7 - to`.
      out[next] = 7 - to;
      queue[tail++] = next;
    }
  }
  return tail;
}

function longer(list: Int32Array, atLeast: number): Int32Array<ArrayBuffer> {
  const more = new Int32Array(list.length * 2 + atLeast);
  more.set(list);
  return more;
}
