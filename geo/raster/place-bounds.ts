import { openFrame } from '../frame/open-frame.ts';
import type { GridPlace } from './grid.ts';

/**
 * West, south, east and north of a grid in degrees, from points all along its rim: in a projection
 * its sides bulge, so corners alone would cut it short. Throws RangeError where the rim leaves the
 * projection.
 */
export function placeBounds(place: GridPlace): [number, number, number, number] {
  const frame = openFrame(place.frame);
  const east = place.west + place.width * place.cellWidth;
  const south = place.north - place.height * place.cellHeight;
  const bounds: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  const widen = (x: number, y: number) => {
    const [lng, lat] = frame.toLngLat(x, y);
    bounds[0] = Math.min(bounds[0], lng);
    bounds[1] = Math.min(bounds[1], lat);
    bounds[2] = Math.max(bounds[2], lng);
    bounds[3] = Math.max(bounds[3], lat);
  };
  const steps = 8;
  for (let i = 0; i <= steps; i++) {
    const x = place.west + (i / steps) * (east - place.west);
    const y = place.north - (i / steps) * (place.north - south);
    widen(x, place.north);
    widen(x, south);
    widen(place.west, y);
    widen(east, y);
  }
  return bounds;
}
