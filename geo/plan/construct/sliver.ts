import type { XY } from '../overlay/arrangement.ts';
import { signedArea } from './plan-plane.ts';

/**
 * True for a ring that is narrower than a width in the mean: twice its area by its way round, which
 * is a long strip's own width and a circle's radius. Metres of a plane, first corner not repeated.
 * Example: a strip of 2 m by 100 m has 1.96 m.
 */
export function isSliver(ring: readonly XY[], widthMeters: number): boolean {
  let around = 0;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i > 0 ? i - 1 : ring.length - 1];
    around += Math.hypot(ring[i][0] - ax, ring[i][1] - ay);
  }
  return 2 * Math.abs(signedArea(ring)) < widthMeters * around;
}
