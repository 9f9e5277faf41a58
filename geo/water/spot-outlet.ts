import { endsAt, type FlowCatchments } from './flow-lines.ts';
import { pointerSteps } from './pointer-codes.ts';

/**
 * The cell over which a brim-full low spot runs over: the first beside it on a way that its water
 * takes on the filled ground and does not come back from. It stands exactly as high as the spot
 * fills, for it is the pass by which the spot is joined to what lies lower; a rim cell of that
 * height that leads nowhere is none. Of several equal sills the one that drains most ground, by
 * D-infinity; equal ones: the lowest index. -1 for no cells.
 * Row-major; `flow` of the filled ground, `labels` per cell 0 or its spot's, `cells` the spot's own,
 * rising.
 * Example: a pit of 5 in a ring of 7 with one gap of 6 runs over at the gap.
 */
export function spotOutlet(
  width: number,
  { areaSquareMeters, pointers }: FlowCatchments,
  labels: Int32Array,
  cells: readonly number[],
): number {
  const steps = pointerSteps(width);
  let best = -1;
  for (const own of cells) {
    const sill = own + steps[pointers[own]!]!;
    if (labels[sill] === labels[own] || sill === best) continue;
    if (best >= 0 && areaSquareMeters[sill]! < areaSquareMeters[best]!) continue;
    if (best >= 0 && areaSquareMeters[sill] === areaSquareMeters[best] && sill > best) continue;
    if (!comesBack(steps, pointers, labels, labels[own]!, sill)) best = sill;
  }
  return best;
}

/** Level ground of the rim may lead out of a spot and in again. */
function comesBack(
  steps: Int32Array,
  pointers: Uint8Array,
  labels: Int32Array,
  label: number,
  from: number,
): boolean {
  for (let cell = from; !endsAt(pointers[cell]!);) {
    cell += steps[pointers[cell]!]!;
    if (labels[cell] === label) return true;
  }
  return false;
}
