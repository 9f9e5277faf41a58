import { ok, type Result } from '../result.ts';
import { badLowHigh, badNumber, notAboveZero } from './check-numbers.ts';
import { partVolume } from './berm-volume.ts';
import type { LowHigh } from './low-high.ts';
import { checkPile, pileVolume, type PileShape } from './pile-shapes.ts';
import type { WindrowSection } from './windrow-sections.ts';

/** A heap or windrow as the tape has it, metres. */
export type TapedHeap =
  | { readonly kind: 'pile'; readonly shape: PileShape }
  | { readonly kind: 'windrow'; readonly section: WindrowSection; readonly lengthMeters: number };

/** Three measures of a rough heap, each to about a twentieth (ours). */
export const usualTapeError = 0.1;

/**
 * Volume of a taped heap, give or take a share for the tape and the shape.
 * Problems: measures not above 0, an error from 1 on.
 * Example: a half ellipsoid of 9 × 6 × 3 m: 84.8 m³ (76 to 93).
 */
export function tapedVolume(heap: TapedHeap, tapeErrorShare = usualTapeError): Result<LowHigh> {
  const bad = badNumber({ 'error of the tape': tapeErrorShare }, 0, 0.99);
  if (bad) return bad;
  let likely: number;
  if (heap.kind === 'pile') {
    const checked = checkPile(heap.shape);
    if (!checked.ok) return checked;
    likely = pileVolume(heap.shape);
  } else {
    const { section, lengthMeters } = heap;
    const wrong = notAboveZero({
      'windrow length': lengthMeters,
      'windrow width': section.baseWidthMeters,
      'windrow height': section.heightMeters,
    });
    if (wrong) return wrong;
    likely = partVolume(section, lengthMeters);
  }
  return ok({ low: likely * (1 - tapeErrorShare), likely, high: likely * (1 + tapeErrorShare) });
}

export type ReestimateDoubt = 'little-cleared' | 'far-from-estimate';

export interface Reestimate {
  /** Of the whole job. */
  readonly cubicMeters: LowHigh;
  /** Of what is still to come. */
  readonly restCubicMeters: LowHigh;
  /** Whole job now over whole job as estimated. */
  readonly ratio: number;
  readonly doubts: readonly ReestimateDoubt[];
}

/** Under so much cleared one heap says little of the rest; farther off than so is a slip of tape. */
const LITTLE = 0.1;
const FAR = 4;

/**
 * The whole job by what lies heaped so far. What is measured stands; the rest of the ground is
 * taken to give as much for each cubic metre that was estimated on it. The rest's low and high are
 * those of the estimate, in proportion, to the power of the root of the share not cleared yet: all
 * of the doubt before anything is cleared, none when all is (ours; the estimate's doubts, packing
 * above all, are mostly alike over a clearing, and a measured heap settles them).
 * @param measured volume of all heaps so far (`tapedVolume`, `surveyedHeap`), in order
 * @param clearedShare share of the estimated debris that stood on the ground cleared so far
 * Problems: values out of bounds.
 * Example: 300 m³ from a quarter of a job estimated at 1,000 (700 to 1,500): 1,200, 1.2 times.
 */
export function heapReestimate(
  measured: LowHigh,
  clearedShare: number,
  estimate: LowHigh,
): Result<Reestimate> {
  const bad =
    badLowHigh('measured volume', measured, 0, 1e9) ??
    badNumber({ 'measured volume': measured.likely }, 0, 1e9, true) ??
    badNumber({ 'share cleared': clearedShare }, 0, 1, true) ??
    badLowHigh('estimated volume', estimate, 0, 1e9) ??
    badNumber({ 'estimated volume': estimate.likely }, 0, 1e9, true);
  if (bad) return bad;
  const left = 1 - clearedShare;
  const rest = (measured.likely * left) / clearedShare;
  const doubt = Math.sqrt(left);
  const restCubicMeters = {
    low: rest * (estimate.low / estimate.likely) ** doubt,
    likely: rest,
    high: rest * (estimate.high / estimate.likely) ** doubt,
  };
  const cubicMeters = {
    low: measured.low + restCubicMeters.low,
    likely: measured.likely + rest,
    high: measured.high + restCubicMeters.high,
  };
  const ratio = cubicMeters.likely / estimate.likely;
  const doubts: ReestimateDoubt[] = [];
  if (clearedShare < LITTLE) doubts.push('little-cleared');
  if (ratio > FAR || ratio < 1 / FAR) doubts.push('far-from-estimate');
  return ok({ cubicMeters, restCubicMeters, ratio, doubts });
}
