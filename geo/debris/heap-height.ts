import { distanceToPiece } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';

/** Sides of a heap whose outline is drawn, metres out for a metre up: common practice, no source. */
const SIDE_RUN = 1;

/**
 * Height of a heap over the ground at a place in its outline, metres. One said by length and width
 * is the paraboloid of handbook §2 over its oval (πhwl/8 in all); a drawn outline rises 1 to 1 from
 * its edge up to the height said.
 * @param rings outline and holes in frame metres, each closed
 * Example: an oval 8 m long and 2 m high is 1.5 m high half-way out.
 */
export function heapHeightAt(
  rings: readonly (readonly XY[])[],
  heightMeters: number,
  drawnAs: 'Point' | 'LineString' | 'Polygon',
): (x: number, y: number) => number {
  if (drawnAs !== 'Polygon') return paraboloid(rings[0]!, heightMeters);
  return (x, y) => {
    let nearest = Infinity;
    for (const ring of rings) {
      for (let i = 1; i < ring.length; i++) {
        nearest = Math.min(nearest, distanceToPiece([x, y], ring[i - 1]!, ring[i]!));
      }
    }
    return Math.min(heightMeters, nearest / SIDE_RUN);
  };
}

/** Over an oval whose first corner is an end of one axis; corners go round evenly. */
function paraboloid(ring: readonly XY[], height: number): (x: number, y: number) => number {
  const count = ring.length - 1;
  const [end, side] = [ring[0]!, ring[count / 4]!];
  const middle = [(end[0] + ring[count / 2]![0]) / 2, (end[1] + ring[count / 2]![1]) / 2] as const;
  const [ax, ay] = [end[0] - middle[0], end[1] - middle[1]];
  const [bx, by] = [side[0] - middle[0], side[1] - middle[1]];
  const [a2, b2] = [ax * ax + ay * ay, bx * bx + by * by];
  return (x, y) => {
    const [dx, dy] = [x - middle[0], y - middle[1]];
    const along = (dx * ax + dy * ay) / a2;
    const across = (dx * bx + dy * by) / b2;
    return height * Math.max(0, 1 - along * along - across * across);
  };
}
