import type { XY } from './overlay/arrangement.ts';

/**
 * True where a point lies inside a polygon (even-odd over all its rings). Plane coordinates of any
 * unit; rings closed or not. A point on an edge may count either way.
 */
export function isInPolygon([x, y]: XY, rings: readonly (readonly XY[])[]): boolean {
  let inside = false;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [ax, ay] = ring[j];
      const [bx, by] = ring[i];
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
    }
  }
  return inside;
}
