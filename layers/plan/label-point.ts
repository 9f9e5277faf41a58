import type { Point } from './local-plane.ts';

/**
 * A place for a label well inside a polygon: of a lattice over its box, refined around the best,
 * the point farthest from any edge. Within a hundredth of the box of the true one, which is plenty
 * for text. Rings are closed; the first is the outline, the others are holes.
 */
export function labelPoint(rings: readonly (readonly Point[])[]): Point {
  const outline = rings[0];
  if (!outline || outline.length < 4) throw new RangeError('A polygon needs a closed outline.');
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (const [x, y] of outline) {
    minX = Math.min(minX, x);
    maxX = Math.max(maxX, x);
    minY = Math.min(minY, y);
    maxY = Math.max(maxY, y);
  }
  let best: Point = [(minX + maxX) / 2, (minY + maxY) / 2];
  let bestRoom = signedRoom(best, rings, -Infinity);
  let stepX = (maxX - minX) / cells;
  let stepY = (maxY - minY) / cells;
  let fromX = minX;
  let fromY = minY;
  for (let round = 0; round < 3; round++) {
    for (let j = 0; j <= cells; j++) {
      for (let i = 0; i <= cells; i++) {
        const point: Point = [fromX + i * stepX, fromY + j * stepY];
        const room = signedRoom(point, rings, bestRoom);
        if (room > bestRoom) {
          best = point;
          bestRoom = room;
        }
      }
    }
    fromX = best[0] - stepX;
    fromY = best[1] - stepY;
    stepX *= 2 / cells;
    stepY *= 2 / cells;
  }
  return best;
}

const cells = 12;

/**
 * Distance to the nearest edge, negative outside. A point that has no more room than `enough` may get
 * any answer up to that: most points are given up at the first edge that is too near.
 */
function signedRoom([x, y]: Point, rings: readonly (readonly Point[])[], enough: number): number {
  const tooNear = enough > 0 ? enough * enough : -1;
  let inside = false;
  let nearest = Infinity;
  for (const ring of rings) {
    for (let i = 1; i < ring.length; i++) {
      const [ax, ay] = ring[i - 1];
      const [bx, by] = ring[i];
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
      const dx = bx - ax;
      const dy = by - ay;
      const square = dx * dx + dy * dy;
      const t = square > 0 ? Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / square)) : 0;
      const awayX = x - ax - t * dx;
      const awayY = y - ay - t * dy;
      nearest = Math.min(nearest, awayX * awayX + awayY * awayY);
      if (nearest <= tooNear) return enough;
    }
  }
  return inside ? Math.sqrt(nearest) : -Math.sqrt(nearest);
}
