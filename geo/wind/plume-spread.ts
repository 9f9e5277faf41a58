import type { StabilityClass } from './stability-class.ts';

/** Briggs 1973, open country (handbook, section 7.2, C 39): first factor of sigma y. */
const ACROSS: Readonly<Record<StabilityClass, number>> = {
  A: 0.22,
  B: 0.16,
  C: 0.11,
  D: 0.08,
  E: 0.06,
  F: 0.04,
};

/** Factor, what it is shrunk by with distance, and the power of that, of sigma z. */
const UP: Readonly<Record<StabilityClass, readonly [number, number, number]>> = {
  A: [0.2, 0, 1],
  B: [0.12, 0, 1],
  C: [0.08, 0.0002, -0.5],
  D: [0.06, 0.0015, -0.5],
  E: [0.03, 0.0003, -1],
  F: [0.016, 0.0003, -1],
};

export interface PlumeSpread {
  readonly acrossMeters: number;
  readonly upMeters: number;
}

/**
 * Deviations across and up of a plume at a distance downwind (m), by Briggs's rural curves. Made for
 * 100 m to 10 km: nearer they are an extrapolation, so no dilution is read from them.
 * Throws RangeError for a distance below 0. Example: class D at 100 m: 7.96 and 5.60 m.
 */
export function plumeSpread(stability: StabilityClass, meters: number): PlumeSpread {
  if (!(meters >= 0)) throw new RangeError(`plumeSpread: ${meters} m`);
  const [factor, shrink, power] = UP[stability];
  return {
    acrossMeters: (ACROSS[stability] * meters) / Math.sqrt(1 + 0.0001 * meters),
    upMeters: factor * meters * (1 + shrink * meters) ** power,
  };
}

/** Angle of the edge where a plume is down to a tenth of its middle: 2.15 deviations either side. */
export function plumeHalfAngleDegrees(stability: StabilityClass, meters: number): number {
  const { acrossMeters } = plumeSpread(stability, meters);
  return (Math.atan2(TENTH_OF_MIDDLE * acrossMeters, meters) * 180) / Math.PI;
}

const TENTH_OF_MIDDLE = 2.15;

export interface PlumeSource {
  /** Amount given off a second, in any unit. */
  readonly perSecond: number;
  readonly windMetersPerSecond: number;
  /** Height at which it is given off. */
  readonly heightMeters: number;
}

/**
 * Concentration at the ground, per cubic metre, `offAxisMeters` beside the axis of a plume whose
 * ground reflects (Turner 1970, AP-26; handbook, section 7.2). Throws RangeError without wind.
 * Example: 3 per second, 7 m/s, at the ground, 190 by 65 m: 1.10e-5.
 */
export function plumeConcentration(
  { perSecond, windMetersPerSecond, heightMeters }: PlumeSource,
  { acrossMeters, upMeters }: PlumeSpread,
  offAxisMeters = 0,
): number {
  if (!(windMetersPerSecond > 0)) throw new RangeError(`plume in ${windMetersPerSecond} m/s`);
  return (
    (perSecond / (Math.PI * acrossMeters * upMeters * windMetersPerSecond)) *
    Math.exp(-0.5 * (offAxisMeters / acrossMeters) ** 2 - 0.5 * (heightMeters / upMeters) ** 2)
  );
}
