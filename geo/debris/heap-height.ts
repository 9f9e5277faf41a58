import { distanceToLine } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';

/** Sides of a heap whose outline is drawn, metres out for a metre up: common practice, no source. */
const SIDE_RUN = 1;

/**
 * Height of a heap over the ground at a place in its drawn outline, metres: it rises 1 to 1 from its
 * edge up to the height said.
 * @param rings outline and holes in frame metres, each closed
 * Example: 2 m in from the edge of a heap 3 m high it is 2 m high.
 */
export function outlineHeightAt(
  rings: readonly (readonly XY[])[],
  heightMeters: number,
): (x: number, y: number) => number {
  return (x, y) => {
    const nearest = Math.min(...rings.map((ring) => distanceToLine([x, y], ring)));
    return Math.min(heightMeters, nearest / SIDE_RUN);
  };
}
