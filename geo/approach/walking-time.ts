/** Shares of Tobler's speed that are left (Tobler 1993 for off the path; the other is common practice). */
export const offPathFactor = 0.6;
export const darkAndQuietFactor = 0.6;

/**
 * Seconds for a metre of plan distance at a slope (rise over run in the direction walked), on a
 * path by day: Tobler's hiking function turned over, 0.6 e^(3.5 |slope + 0.05|). Fastest, 6 km/h,
 * where it falls by 5 %. Source: Tobler 1993, "Three presentations on geographical analysis and
 * modeling", NCGIA report 93-1. Divide by the factors above for a walk off the path or in the dark.
 * Example: 0.7147 s on level ground, 5.037 km/h.
 */
export function secondsPerMeter(slopeRatio: number): number {
  return 0.6 * Math.exp(3.5 * Math.abs(slopeRatio + 0.05));
}

/** A walk along a line: how long it takes, and what it climbs. */
export interface WalkingTime {
  readonly seconds: number;
  /** Sum of all rises, metres. */
  readonly climbMeters: number;
}

/**
 * Time and climb along a section, in the direction of its stations (metres on the ground, rising;
 * heights in metres). `factorOf` is the share of Tobler's speed left on the piece that begins at a
 * station. A piece without height at either end is walked as if level.
 * Throws RangeError where the arrays differ in length or a factor is not above 0.
 * Example: 503.7 m of level path takes 360 s.
 */
export function walkingTime(
  stationsMeters: ArrayLike<number>,
  elevationsMeters: ArrayLike<number>,
  factorOf: (piece: number) => number,
): WalkingTime {
  if (stationsMeters.length !== elevationsMeters.length) {
    throw new RangeError(`${stationsMeters.length} stations, ${elevationsMeters.length} heights`);
  }
  let seconds = 0;
  let climbMeters = 0;
  for (let i = 0; i + 1 < stationsMeters.length; i++) {
    const run = stationsMeters[i + 1]! - stationsMeters[i]!;
    const factor = factorOf(i);
    if (!(factor > 0)) throw new RangeError(`a walking factor of ${factor}`);
    if (!(run > 0)) continue;
    const rise = elevationsMeters[i + 1]! - elevationsMeters[i]!;
    const known = rise === rise ? rise : 0;
    seconds += (run * secondsPerMeter(known / run)) / factor;
    climbMeters += Math.max(0, known);
  }
  return { seconds, climbMeters };
}
