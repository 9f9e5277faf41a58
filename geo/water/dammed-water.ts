import type { Grid } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import { fillBasins, findBasins } from './fill-basins.ts';

/** Water that stands, brim full, only because something was laid on the ground. */
export interface DammedPond {
  readonly cells: readonly number[];
  readonly areaSquareMeters: number;
  /** What stands here over what would have stood without it. */
  readonly volumeCubicMeters: number;
  /** Of the water over the ground. */
  readonly maxDepthMeters: number;
  readonly deepestCell: number;
  /** It may reach on beyond the rim: the window was too small to say. */
  readonly touchesRim: boolean;
}

export interface DammedWater {
  /** By volume, largest first, then by deepest cell. */
  readonly ponds: readonly DammedPond[];
  readonly filledBefore: Float32Array;
  readonly filledAfter: Float32Array;
}

/** Heights of 250 m in 32 bits come in steps of 0.00003 m. */
const NOTHING_METERS = 0.001;

/**
 * What a berm, heap or road dams: the ground is filled brim full without it and with it, and where
 * water stands higher with it, on ground that was not raised, it dams. Eight neighbours make a pond.
 * Row-major, row 0 north, metres; NaN drains. Source: the difference of two fills (Barnes, Lehman &
 * Mulla 2014 for what a fill is). Throws RangeError for grids of two sizes.
 * Example: a wall 1 m high across a trough that falls 1 % dams water 100 m up the trough.
 */
export function* dammedWater(before: Grid, after: Float32Array): Work<DammedWater> {
  const { width, height } = before;
  if (after.length !== before.data.length) {
    throw new RangeError(`a ground of ${after.length} cells against ${before.data.length}`);
  }
  const raised = { ...before, data: after };
  const filledBefore = yield* fillBasins(before, yield* findBasins(before));
  const filledAfter = yield* fillBasins(raised, yield* findBasins(raised));
  const open = new Uint8Array(after.length);
  for (let i = 0; i < after.length; i++) {
    if (after[i] !== before.data[i]) continue;
    if (filledAfter[i]! - filledBefore[i]! > NOTHING_METERS) open[i] = 1;
  }
  const ponds: DammedPond[] = [];
  for (let i = 0; i < open.length; i++) {
    if (open[i] === 0) continue;
    const cells = takeRegion(open, width, height, i);
    ponds.push(pondOf(cells, before, filledBefore, filledAfter));
  }
  ponds.sort((a, b) => b.volumeCubicMeters - a.volumeCubicMeters || a.deepestCell - b.deepestCell);
  return { ponds, filledBefore, filledAfter };
}

/** The cells joined to one, taken off the map. */
function takeRegion(open: Uint8Array, width: number, height: number, first: number): number[] {
  const cells = [first];
  open[first] = 0;
  for (let next = 0; next < cells.length; next++) {
    const row = Math.floor(cells[next]! / width);
    const column = cells[next]! - row * width;
    for (let r = Math.max(0, row - 1); r <= Math.min(height - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(width - 1, column + 1); c++) {
        const near = r * width + c;
        if (open[near] === 0) continue;
        open[near] = 0;
        cells.push(near);
      }
    }
  }
  return cells;
}

function pondOf(
  cells: number[],
  { data, width, height, cellGroundAreaSquareMeters: area }: Grid,
  filledBefore: Float32Array,
  filledAfter: Float32Array,
): DammedPond {
  let sum = 0;
  let maxDepth = 0;
  let deepestCell = cells[0]!;
  let touchesRim = false;
  for (const cell of cells) {
    sum += filledAfter[cell]! - filledBefore[cell]!;
    const depth = filledAfter[cell]! - data[cell]!;
    if (depth > maxDepth || (depth === maxDepth && cell < deepestCell)) {
      maxDepth = depth;
      deepestCell = cell;
    }
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    touchesRim ||= row <= 1 || column <= 1 || row >= height - 2 || column >= width - 2;
  }
  return {
    cells,
    areaSquareMeters: cells.length * area,
    volumeCubicMeters: sum * area,
    maxDepthMeters: maxDepth,
    deepestCell,
    touchesRim,
  };
}
