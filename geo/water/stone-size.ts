/** Isbash's coefficient for rough, turbulent water, the safe side. */
const TURBULENT = 0.86;
const GRAVITY = 9.80665;
/** Stone of 165 lb a cubic foot. */
const SPECIFIC_GRAVITY = 2.65;

/**
 * Middle stone size that stays put under water so fast, metres: V² / (2 g C² (S − 1)).
 * Source: Isbash 1935, with the coefficients of US Army hydraulic design chart 712-1 (0.86 in
 * turbulent water, 1.20 in quiet), as NCHRP report 568 (2006) gives them. A layer is laid twice as
 * thick (common practice). Throws RangeError for a speed below 0.
 * Example: 5 ft/s takes stone of 3.8 in.
 */
export function stoneSizeMeters(metersPerSecond: number): number {
  if (!(metersPerSecond >= 0 && metersPerSecond < Infinity)) {
    throw new RangeError(`water at ${metersPerSecond} m/s`);
  }
  return metersPerSecond ** 2 / (2 * GRAVITY * TURBULENT ** 2 * (SPECIFIC_GRAVITY - 1));
}
