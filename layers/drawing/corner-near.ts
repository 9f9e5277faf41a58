import type { PlanGeometry, Position } from '../../geo/plan/feature.ts';
import { corners } from './edit-geometry.ts';

/** Index of the corner nearest to a point of the screen and within reach of it, or -1. */
export function cornerNear(
  geometry: PlanGeometry,
  point: { readonly x: number; readonly y: number },
  project: (position: Position) => { readonly x: number; readonly y: number },
  reachPixels: number,
): number {
  let near = -1;
  let nearest = reachPixels;
  corners(geometry).forEach((corner, index) => {
    const { x, y } = project(corner);
    const away = Math.hypot(x - point.x, y - point.y);
    if (away <= nearest) {
      near = index;
      nearest = away;
    }
  });
  return near;
}
