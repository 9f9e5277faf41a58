import type { DebrisPatch } from './debris-patches.ts';
import { roundHeap, type RoundHeap } from './round-heap.ts';
import type { XY } from '../plan/overlay/arrangement.ts';

export interface HeapPlace extends RoundHeap {
  readonly at: XY;
  readonly cubicMeters: number;
}

/** One heap for every so much debris (900 yd³, a heap about 71 ft wide): common practice. */
const ONE_HEAP = 690;
const TURNS = 30;

/**
 * Compact heaps for the debris of patches (plane metres), each in the middle of what is pushed to
 * it, so that the pushes are short (Lloyd's method, begun from the patches farthest apart); as many
 * as there are 900 yd³, one at least. They hold together what the patches hold.
 * Example: 2,660 yd³ makes three heaps of about 71 ft by 12 ft.
 */
export function heapPlaces(patches: readonly DebrisPatch[], maxHeightMeters: number): HeapPlace[] {
  const total = patches.reduce((sum, { cubicMeters }) => sum + cubicMeters, 0);
  if (!(total > 0)) return [];
  const count = Math.min(patches.length, Math.max(1, Math.round(total / ONE_HEAP)));
  let middles = farthestApart(patches, count);
  let nearest: number[] = [];
  for (let turn = 0; turn < TURNS; turn++) {
    const next = patches.map(({ at }) => nearestOf(middles, at));
    if (next.every((one, i) => one === nearest[i])) break;
    nearest = next;
    middles = middles.map((before, k) => middleOf(patches.filter((_, i) => next[i] === k)) ?? before); // prettier-ignore
  }
  return middles.flatMap((at, k): HeapPlace[] => {
    const own = patches.filter((_, i) => nearest[i] === k);
    const cubicMeters = own.reduce((sum, one) => sum + one.cubicMeters, 0);
    if (cubicMeters === 0) return [];
    return [{ at, cubicMeters, ...roundHeap(cubicMeters, maxHeightMeters) }];
  });
}

function farthestApart(patches: readonly DebrisPatch[], count: number): XY[] {
  const middle = middleOf(patches)!;
  const chosen: XY[] = [];
  const away = patches.map(({ at }) => distance(at, middle));
  for (let k = 0; k < count; k++) {
    const next = away.indexOf(Math.max(...away));
    const { at } = patches[next]!;
    chosen.push(at);
    patches.forEach((patch, i) => {
      const here = distance(patch.at, at);
      away[i] = k === 0 ? here : Math.min(away[i]!, here);
    });
  }
  return chosen;
}

function nearestOf(places: readonly XY[], at: XY): number {
  let best = 0;
  places.forEach((place, k) => {
    if (distance(place, at) < distance(places[best]!, at)) best = k;
  });
  return best;
}

function middleOf(patches: readonly DebrisPatch[]): XY | null {
  const total = patches.reduce((sum, { cubicMeters }) => sum + cubicMeters, 0);
  if (!(total > 0)) return null;
  const mean = (axis: 0 | 1) =>
    patches.reduce((sum, { at, cubicMeters }) => sum + at[axis] * cubicMeters, 0) / total;
  return [mean(0), mean(1)];
}

function distance(a: XY, b: XY): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
