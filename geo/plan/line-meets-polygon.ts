import type { XY } from './overlay/arrangement.ts';
import { isInPolygon } from './point-in-polygon.ts';

/**
 * True where any part of a line (a point, as a line of one) lies inside a polygon (even-odd) or
 * crosses one of its edges. Plane coordinates of any unit; rings closed or not. A line that merely
 * runs along an edge may count either way.
 */
export function lineMeetsPolygon(line: readonly XY[], rings: readonly (readonly XY[])[]): boolean {
  if (line.some((p) => isInPolygon(p, rings))) return true;
  for (let i = 1; i < line.length; i++) {
    for (const ring of rings) {
      for (let k = 0, j = ring.length - 1; k < ring.length; j = k++) {
        if (cross(line[i - 1], line[i], ring[j], ring[k])) return true;
      }
    }
  }
  return false;
}

function cross(a: XY, b: XY, c: XY, d: XY): boolean {
  const side = (p: XY, q: XY, r: XY) =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}
