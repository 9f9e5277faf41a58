import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { NO_DATA, OUTLET, PIT, pointerSteps } from './pointer-codes.ts';

/** Everything that drains off the site without a stop. */
export const OCEAN = 1;

export interface BasinLabels {
  /** Per cell: `OCEAN`, or 2 and up, one a pit in index order of the cells that reach it first. */
  readonly labels: Int32Array;
  /** Labels in use, `OCEAN` included: they run from 1 to this. */
  readonly count: number;
}

/**
 * Which pit each cell drains to, by following the pointers. Cells without data are `OCEAN`.
 * Row-major as the pointers. Each cell is walked over twice at the most. Throws RangeError when
 * `out` has another length.
 */
export function* basinLabels(
  pointers: Uint8Array,
  width: number,
  out: Int32Array,
): Work<BasinLabels> {
  if (out.length !== pointers.length) {
    throw new RangeError(`labels for ${out.length} cells, not ${pointers.length}`);
  }
  const steps = pointerSteps(width);
  const way = new Int32Array(WAY);
  const band = Math.max(1, rowsPerBand(width) >> 1) * width;
  out.fill(0);
  let count = OCEAN;
  for (let from = 0; from < out.length; from += band) {
    const to = Math.min(out.length, from + band);
    count = labelSome(pointers, steps, way, out, from, to, count);
    yield { share: to / out.length, doing: 'finding what drains where' };
  }
  return { labels: out, count };
}

/** Cells of a way that are kept, to go back over them. */
const WAY = 1 << 12;
const MASK = WAY - 1;

function labelSome(
  pointers: Uint8Array,
  steps: Int32Array,
  way: Int32Array,
  labels: Int32Array,
  from: number,
  to: number,
  count: number,
): number {
  for (let start = from; start < to; start++) {
    if (labels[start] !== 0) continue;
    let cell = start;
    let label = 0;
    let length = 0;
    // A way that is longer than the list is walked in parts: its head comes again by `start`.
    do {
      const pointer = pointers[cell]!;
      way[length++ & MASK] = cell;
      if (pointer >= PIT) {
        label = pointer === OUTLET || pointer === NO_DATA ? OCEAN : ++count;
        break;
      }
      cell += steps[pointer]!;
      label = labels[cell]!;
    } while (label === 0);
    for (let k = Math.max(0, length - WAY); k < length; k++) labels[way[k & MASK]!] = label;
    if (length > WAY) start--;
  }
  return count;
}
