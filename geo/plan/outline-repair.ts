import type { Frame } from '../frame/crs-types.ts';
import { planeArea, ringsToPlane, toPlanPolygons } from './construct/plan-plane.ts';
import { isSliver } from './construct/sliver.ts';
import type { Position } from './feature.ts';
import type { XY } from './overlay/arrangement.ts';
import { overlay } from './overlay/overlay.ts';

export interface RepairedOutline {
  /** Sound outlines, largest first; each the outer ring, then its holes. */
  readonly parts: readonly (readonly (readonly Position[])[])[];
  /** Pieces and gaps too narrow to be ground of their own. */
  readonly slivers: number;
  /** Of all slivers together, on the ground. */
  readonly sliverSquareMeters: number;
}

/**
 * Sound outlines that together cover what a self-crossing outline covers, counted even-odd, as it
 * looks when filled. Pieces narrower in the mean than `leastWidthMeters` on the ground (`isSliver`)
 * are left out and gaps of that kind filled, for the crossing made them and not the user; the
 * largest piece always stays, and so does a drawn hole that nothing crosses. No parts where it
 * encloses nothing. Positions in degrees, rounded to 1e-9; first ones repeated.
 * Throws RangeError where the frame has no place for a position.
 */
export function repairOutline(
  rings: readonly (readonly Position[])[],
  frame: Frame,
  leastWidthMeters: number,
): RepairedOutline {
  const plane = ringsToPlane(frame, { type: 'Polygon', coordinates: rings });
  const drawn = new Set(plane.slice(1).flat().map(nearby));
  const pieces = overlay([{ rings: plane, rule: 'even-odd' }], ([inside]) => inside);
  const slivers: (readonly XY[])[] = [];
  const isKept = (ring: readonly XY[]) => {
    const [x, y] = ring[0];
    const ground = Math.sqrt(frame.distortionAt(x, y).groundAreaPerFrameArea);
    if (!isSliver(ring, leastWidthMeters / ground)) return true;
    slivers.push(ring);
    return false;
  };
  const isDrawn = (hole: readonly XY[]) => hole.every((corner) => drawn.has(nearby(corner)));
  const kept = pieces
    .filter(([outer], i) => i === 0 || isKept(outer))
    .map(([outer, ...gaps]) => [outer, ...gaps.filter((gap) => isDrawn(gap) || isKept(gap))]);
  const [x, y] = plane[0][0];
  return {
    parts: toPlanPolygons(frame, kept).map(({ coordinates }) => coordinates),
    slivers: slivers.length,
    sliverSquareMeters:
      slivers.reduce((sum, ring) => sum + planeArea([ring]), 0) *
      frame.distortionAt(x, y).groundAreaPerFrameArea,
  };
}

/** The same text for a corner before and after it was laid on the lattice: to a millimetre. */
function nearby([x, y]: XY): string {
  return `${Math.round(x * 1e3)} ${Math.round(y * 1e3)}`;
}
