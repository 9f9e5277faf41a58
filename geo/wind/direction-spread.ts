import { degrees } from './sun-series.ts';
import type { StabilityClass } from './stability-class.ts';

/** Deviation of the wind's direction within an hour, degrees (handbook, section 7.1, C 36). */
export const SIGMA_THETA: Readonly<Record<StabilityClass, number>> = {
  A: 25,
  B: 20,
  C: 15,
  D: 10,
  E: 5,
  F: 2.5,
};

/** Lower limits of classes A to E, degrees (EPA table 6-8a, from memory; midpoints of the above). */
const CLASS_LIMITS: readonly (readonly [StabilityClass, number])[] = [
  ['A', 22.5],
  ['B', 17.5],
  ['C', 12.5],
  ['D', 7.5],
  ['E', 3.8],
];

/** Class of a measured deviation, before EPA's corrections for speed and night. 10 gives D. */
export function classOfSigmaTheta(sigmaDegrees: number): StabilityClass {
  if (!(sigmaDegrees >= 0)) throw new RangeError(`sigma-theta of ${sigmaDegrees} degrees`);
  return CLASS_LIMITS.find(([, limit]) => sigmaDegrees >= limit)?.[0] ?? 'F';
}

/** How far light air meanders. */
export interface LightAir {
  /** Below this speed it does. */
  readonly belowMetersPerSecond: number;
  /** Speed of the meandering across. */
  readonly meanderMetersPerSecond: number;
}

/** Ours, common practice at best (trade notes, section 6.8). */
export const usualLightAir: LightAir = { belowMetersPerSecond: 2, meanderMetersPerSecond: 0.5 };

/**
 * Deviation of direction, degrees: the class's own, in light air at least atan(0.5 / u), so that a
 * stable night is narrow only in a steady wind. 90 for no wind.
 * Example: class F at 1 m/s: 26.6 degrees, not 2.5.
 */
export function sigmaThetaDegrees(
  stability: StabilityClass,
  metersPerSecond: number,
  light = usualLightAir,
): number {
  const own = SIGMA_THETA[stability];
  if (!(metersPerSecond < light.belowMetersPerSecond)) return own;
  return Math.max(own, degrees(Math.atan2(light.meanderMetersPerSecond, metersPerSecond)));
}
