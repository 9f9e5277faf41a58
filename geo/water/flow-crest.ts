import { NO_DATA, OUTLET, PIT, pointerSteps } from './pointer-codes.ts';

/** A filled ground with what drains through its cells. */
export interface FlowGround {
  readonly width: number;
  readonly height: number;
  readonly z: Float32Array;
  readonly area: Float64Array;
  readonly pointers: Uint8Array;
}

/** How much more than the least of its neighbours across goes through a crest. */
const CREST_RATIO = 1.5;
/** Neighbours two cells off are looked at too: a flow line may be two cells wide. */
const REACH = 2;

/**
 * The cell that a flow line goes to next: the lower neighbour with the largest catchment (then the
 * lower one, then the lowest index); on a flat, where its water goes. -1 where water ends.
 * Each step leads down or along a flat's own way out, so a line always ends.
 */
export function nextAlong({ width, z, area, pointers }: FlowGround, cell: number): number {
  const pointer = pointers[cell]!;
  if (pointer === OUTLET || pointer === PIT || pointer === NO_DATA) return -1;
  const own = z[cell]!;
  let best = -1;
  for (let row = -width; row <= width; row += width) {
    for (let near = cell + row - 1; near <= cell + row + 1; near++) {
      if (!(z[near]! < own)) continue;
      if (best < 0 || area[near]! > area[best]!) best = near;
      else if (area[near] === area[best] && z[near]! < z[best]!) best = near;
    }
  }
  return best >= 0 ? best : cell + pointerSteps(width)[pointer]!;
}

/**
 * Whether water runs together at a cell: square to its course, up to two cells to either side, no
 * cell drains more, and on either side some cell drains clearly less. Rows beyond the rim and
 * cells without data count as draining nothing.
 */
export function isCrest(ground: FlowGround, cell: number): boolean {
  const { width, height, area } = ground;
  const next = nextAlong(ground, cell);
  if (next < 0) return false;
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  const nextRow = Math.floor(next / width);
  const down = nextRow - row;
  const right = next - nextRow * width - column;
  const own = area[cell]!;
  for (const side of [-1, 1]) {
    let least = Infinity;
    for (let k = 1; k <= REACH; k++) {
      const r = row + side * k * right;
      const c = column - side * k * down;
      const off = r < 0 || c < 0 || r >= height || c >= width;
      const there = off ? 0 : area[r * width + c]!;
      if (there > own) return false;
      least = Math.min(least, there === there ? there : 0);
    }
    if (own < CREST_RATIO * least) return false;
  }
  return true;
}
