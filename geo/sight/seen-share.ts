import type { Grid } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import type { Lookout } from './lookout.ts';
import { viewshedFast } from './viewshed-fast.ts';

/**
 * How many of a group's eyes see a thing of `targetMeters` on each cell of the grid, as a share of
 * the group; of several groups (a plot, a bedding area) the largest share. 0 where nobody sees it, also
 * beyond their radius and on cells without data. By the fast viewshed. Row-major, row 0 north.
 * Eyes without ground under them count among the group and see nothing.
 * Throws RangeError as `viewshedFast` does.
 */
export function* seenShare(
  ground: Grid,
  groups: readonly (readonly Lookout[])[],
  targetMeters: number,
): Work<Float32Array> {
  const most = new Float32Array(ground.data.length);
  const eyes = groups.reduce((sum, group) => sum + group.length, 0);
  let done = 0;
  for (const group of groups) {
    const counts = new Uint16Array(ground.data.length);
    for (const lookout of group) {
      const seen = yield* viewshedFast(ground, lookout);
      if (seen !== null) countSeen(ground, seen.data, seen.window, targetMeters, counts);
      yield { share: ++done / eyes, doing: 'who sees the walk' };
    }
    if (group.length === 0) continue;
    for (let i = 0; i < counts.length; i++) most[i] = Math.max(most[i]!, counts[i]! / group.length);
  }
  return most;
}

function countSeen(
  ground: Grid,
  seenFrom: Float32Array,
  window: { column: number; row: number; width: number; height: number },
  targetMeters: number,
  counts: Uint16Array,
): void {
  for (let r = 0, at = 0; r < window.height; r++) {
    let cell = (window.row + r) * ground.width + window.column;
    for (let c = 0; c < window.width; c++, at++, cell++) {
      if (seenFrom[at]! <= targetMeters) counts[cell]!++;
    }
  }
}
