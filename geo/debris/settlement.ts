import { badNumber } from './check-numbers.ts';
import { ok, type Result } from '../result.ts';
import type { LowHigh } from './low-high.ts';

/**
 * Heaps and berms of debris lose 20 to 40 % of their height in two to three years: common practice,
 * no source (trade notes Q39). Most of it goes in the first, hence the curve; what rots later, in
 * five to ten years and more, has no figure and is left out.
 */
const LOSS: LowHigh = { low: 0.2, likely: 0.3, high: 0.4 };
const YEARS = 3;

/**
 * Share of its first height (and, its base being held, of its volume) that a heap or a berm still
 * has after so many years; `low` is the one that settles most. The same after the third year.
 * Problem for years that are no number or below 0.
 * Example: after one year 0.80 (0.73 to 0.87), after three 0.70 (0.60 to 0.80).
 */
export function heightShareAfter(years: number): Result<LowHigh> {
  const bad = badNumber({ 'number of years': years }, 0, 200);
  if (bad) return bad;
  const done = (1 - Math.exp(-Math.min(years, YEARS))) / (1 - Math.exp(-YEARS));
  return ok({
    low: 1 - LOSS.high * done,
    likely: 1 - LOSS.likely * done,
    high: 1 - LOSS.low * done,
  });
}

/**
 * Heights of a heap or a berm after one, two and three years, metres; `low` settles most.
 * Throws RangeError for a height that is no number.
 * Example: 3 m is after three years 2.1 m (1.8 to 2.4).
 */
export function settledHeights(heightMeters: number): LowHigh[] {
  if (!Number.isFinite(heightMeters)) throw new RangeError(`a height of ${heightMeters} m`);
  return Array.from({ length: YEARS }, (_, year) => {
    const share = heightShareAfter(year + 1);
    if (!share.ok) throw new RangeError(share.problem.what);
    const { low, likely, high } = share.value;
    return { low: low * heightMeters, likely: likely * heightMeters, high: high * heightMeters };
  });
}
