import { ringMeetings } from '../../plan/construct/ring-meetings.ts';
import { isSliver } from '../../plan/construct/sliver.ts';
import type { XY } from '../../plan/overlay/arrangement.ts';
import { overlay } from '../../plan/overlay/overlay.ts';

export interface WithoutLoops {
  /** The outline first, then wide gaps within it; first corners repeated at the end. */
  readonly rings: readonly (readonly XY[])[];
  /** Small loops and gaps that went. */
  readonly loops: number;
  /** False where the ring crosses itself by more than the width: then it is as it was walked. */
  readonly isSimple: boolean;
}

/**
 * Takes the small loops out of a walked ring, so that it does not cross itself. What the walk goes
 * round, either way and however often, is its ground (winding number other than 0). Pieces that hang
 * on it by a crossing, and gaps left within, go where they are narrower than the width in the mean
 * (`isSliver`): position error alone draws those. Two wider pieces are two fields, and such a ring
 * stays as walked. A ring that does not cross itself keeps its very corners.
 * Source: the nonzero winding rule by which loops of raw offset curves are taken out, common practice.
 * Metres of a plane; the ring is closed, its first corner repeated.
 */
export function withoutSmallLoops(ring: readonly XY[], widthMeters: number): WithoutLoops {
  const asWalked = { rings: [ring], loops: 0 };
  const all = new Uint8Array(ring.length).fill(1);
  if (ringMeetings([ring], [all]).length === 0) return { ...asWalked, isSimple: true };
  const pieces = overlay(
    [
      { rings: [ring], rule: 'positive' },
      { rings: [ring.toReversed()], rule: 'positive' },
    ],
    ([forward, backward]) => forward || backward,
  );
  const [ground, ...others] = pieces;
  // Out and back in its own steps: it encloses nothing, and its outline says so.
  if (!ground) return { ...asWalked, isSimple: true };
  if (others.some(([outer]) => !isSliver(outer, widthMeters))) {
    return { ...asWalked, isSimple: false };
  }
  const [outline, ...gaps] = ground;
  const wide = gaps.filter((gap) => !isSliver(gap, widthMeters));
  return {
    rings: [outline, ...wide].map((r) => [...r, r[0]]),
    loops: others.length + gaps.length - wide.length,
    isSimple: true,
  };
}
