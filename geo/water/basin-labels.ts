import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { NO_DATA, OUTLET, PIT, pointerSteps } from './flow-pointers.ts';

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
  const band = Math.max(1, rowsPerBand(width) >> 1) * width;
  out.fill(0);
  let count = OCEAN;
  for (let from = 0; from < out.length; from += band) {
    const to = Math.min(out.length, from + band);
    count = labelSome(pointers, steps, out, from, to, count);
    yield { share: to / out.length, doing: 'finding what drains where' };
  }
  return { labels: out, count };
}

function labelSome(
  pointers: Uint8Array,
  steps: Int32Array,
  labels: Int32Array,
  from: number,
  to: number,
  count: number,
): number {
  for (let start = from; start < to; start++) {
    if (labels[start] !== 0) continue;
    let cell = start;
    let pointer = pointers[cell]!;
    while (pointer < PIT && labels[cell] === 0) {
      cell += steps[pointer]!;
      pointer = pointers[cell]!;
    }
    let label = labels[cell]!;
    if (label === 0) {
      label = pointer === OUTLET || pointer === NO_DATA ? OCEAN : ++count;
      labels[cell] = label;
    }
    for (let back = start; labels[back] === 0;) {
      labels[back] = label;
      back += steps[pointers[back]!]!;
    }
  }
  return count;
}
