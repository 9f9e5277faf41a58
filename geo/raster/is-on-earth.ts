import type { Frame } from '../frame/crs-types.ts';
import type { GridShape } from './make-grid.ts';
import { rimOf } from './rim.ts';

/** What goes to degrees and does not come back to the same place was never in the projection. */
const MOST_METERS_OFF = 1;

/**
 * Whether a grid lies where its frame's projection holds, so that its cells have a size on the ground
 * and its rim has a place in degrees: a file may claim any numbers. Cells must be large enough to be
 * told apart by their coordinates. Throws nothing for numbers that are not finite: they are nowhere.
 * Example: cells of 1 m at 500,000, 4,000,000 in a UTM zone are; cells of 10,000 km there are not.
 */
export function isOnEarth(shape: GridShape, frame: Frame): boolean {
  const { width, height, west, north, cellWidth, cellHeight } = shape;
  if (!(west + cellWidth > west && north - cellHeight < north)) return false;
  try {
    const middle = [west + (width * cellWidth) / 2, north - (height * cellHeight) / 2] as const;
    const area = cellWidth * cellHeight * frame.distortionAt(...middle).groundAreaPerFrameArea;
    if (!(area > 0 && area < Infinity)) return false;
    return rimOf(shape).every(([x, y]) => {
      const [backX, backY] = frame.fromLngLat(...frame.toLngLat(x, y));
      return Math.hypot(backX - x, backY - y) < MOST_METERS_OFF;
    });
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}
