import type { CellField } from '../raster/cell-window.ts';
import { eachCoveredRun, type CoveredCells } from '../raster/covered-cells.ts';

export interface SeenByHeight {
  /** Of the covered ground that has data, by floor height as asked: 0 to 1, never falling. */
  readonly seenShares: Float64Array;
  /** Index of the lowest floor that shows nearly what the highest does; null where height gains nothing. */
  readonly knee: number | null;
  /** Of the covered ground, the share without data. */
  readonly missingShare: number;
}

/** A curve that gains less than this has no knee. */
const LEAST_GAIN = 0.02;
/** So much more of the ground, or less, is little more. Ours, common practice at best. */
export const LITTLE_MORE = 0.05;

/**
 * How much of a piece of ground is seen from each floor height, and the knee of that curve: the lowest
 * floor past which no floor asked shows more than a twentieth of the ground more. That is what is said of
 * it; where a curve bends most (Satopää et al. 2011) it may still rise by much. Common practice, no source.
 * `needed`: eye heights as `eyeNeeded` gives them; what lies off its window has no data.
 * `floorsMeters` rising; the eye is `eyeOverFloorMeters` over the floor. Metres.
 * Throws RangeError for floors that do not rise.
 */
export function seenByHeight(
  needed: CellField,
  covered: CoveredCells,
  floorsMeters: readonly number[],
  eyeOverFloorMeters: number,
): SeenByHeight {
  floorsMeters.forEach((floor, i) => {
    const rises = Number.isFinite(floor) && (i === 0 || floor > floorsMeters[i - 1]!);
    if (!rises) throw new RangeError(`floors at ${floorsMeters.join(', ')} m`);
  });
  const eyes = floorsMeters.map((floor) => floor + eyeOverFloorMeters);
  const first = new Float64Array(eyes.length + 1);
  const missing = eachCoveredRun(covered, needed, (data, from, to, share) => {
    for (let i = from; i < to; i++) {
      let floor = 0;
      while (floor < eyes.length && !(data[i]! <= eyes[floor]!)) floor++;
      first[floor]! += share;
    }
  });
  const known = first.reduce((sum, share) => sum + share, 0);
  const seenShares = new Float64Array(eyes.length);
  let seen = 0;
  for (let i = 0; i < eyes.length; i++) {
    seen += first[i]!;
    seenShares[i] = known > 0 ? seen / known : NaN;
  }
  const whole = known + missing;
  return {
    seenShares,
    knee: kneeOf(seenShares),
    missingShare: whole > 0 ? missing / whole : 0,
  };
}

function kneeOf(shares: Float64Array): number | null {
  const most = shares.at(-1) ?? NaN;
  if (!(most - shares[0]! >= LEAST_GAIN)) return null;
  // Shares of the same count may differ in the last bit; the lower floor keeps the knee.
  return shares.findIndex((share) => most - share <= LITTLE_MORE + 1e-9);
}
