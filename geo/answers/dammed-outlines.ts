import type { DammedPond } from '../water/dammed-water.ts';
import type { Work } from '../work.ts';
import type { LngLatPolygon } from './answers.ts';
import type { DamWindow } from './dam-window.ts';
import { spotBoxes, spotOutline } from './low-spot-outline.ts';

/** Shorelines of what is dammed, brim full, in the order of `ponds`: longitude and latitude. */
export function* dammedOutlines(
  { sub, after, filledAfter }: DamWindow,
  ponds: readonly DammedPond[],
): Work<LngLatPolygon[][]> {
  const labels = new Int32Array(after.length);
  const spots = ponds.map(({ cells }, i) => {
    let spillElevationMeters = -Infinity;
    for (const cell of cells) {
      labels[cell] = i + 1;
      // Where ponds of two levels touch, the higher one's shore.
      spillElevationMeters = Math.max(spillElevationMeters, filledAfter[cell]!);
    }
    return { spillElevationMeters };
  });
  const ground = { ...sub, grid: { ...sub.grid, data: after } };
  const boxes = yield* spotBoxes(labels, sub.grid.width, ponds.length);
  const outlines: LngLatPolygon[][] = [];
  for (const i of ponds.keys()) {
    const box = boxes.subarray(i * 4, i * 4 + 4);
    outlines.push(yield* spotOutline(ground, { labels, spots }, i + 1, box));
  }
  return outlines;
}
