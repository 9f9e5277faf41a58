import { openFrame } from '../frame/open-frame.ts';
import type { GridPlace } from './grid.ts';
import { rimOf } from './rim.ts';

/**
 * West, south, east and north of a grid in degrees, from points all along its rim: in a projection
 * its sides bulge, so corners alone would cut it short. Throws RangeError where the rim leaves the
 * projection.
 */
export function placeBounds(place: GridPlace): [number, number, number, number] {
  const frame = openFrame(place.frame);
  const bounds: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of rimOf(place)) {
    const [lng, lat] = frame.toLngLat(x, y);
    bounds[0] = Math.min(bounds[0], lng);
    bounds[1] = Math.min(bounds[1], lat);
    bounds[2] = Math.max(bounds[2], lng);
    bounds[3] = Math.max(bounds[3], lat);
  }
  return bounds;
}
