import type { SoilGroup } from '../plan/kinds.ts';
import { singleGroup } from './curve-numbers.ts';

/** What is known of how fast a soil takes water; null where nobody has said. */
export interface SoilIntake {
  readonly group: SoilGroup;
  readonly drained: boolean;
  readonly surfaceKsatMetersPerSecond: number | null;
  readonly restrictingKsatMetersPerSecond: number | null;
}

const METERS_PER_SECOND_PER_INCH_PER_HOUR = 0.0254 / 3600;

/**
 * Slow end of each group's least transmission rate, inches an hour: A over 0.30, B 0.15–0.30,
 * C 0.05–0.15, D 0–0.05. Source: TR-55 (1986), appendix A. D has no slow end but nought; half of
 * its range stands for it (our choice).
 */
const slowInchesPerHour = { A: 0.3, B: 0.15, C: 0.05, D: 0.025 } as const;

/**
 * How fast standing water soaks in, metres a second: the lesser of what the surface and the layer
 * below let through, where they are known (handbook §1.5), else the slow end of the soil group's
 * range. A dual group counts as D unless it is drained (NEH 630 ch. 7).
 * Example: a silt loam of 9 µm/s over a pan of 0.3 µm/s soaks 0.3 µm/s, an inch a day.
 */
export function intakeMetersPerSecond(soil: SoilIntake): number {
  const { surfaceKsatMetersPerSecond: surface, restrictingKsatMetersPerSecond: below } = soil;
  if (surface !== null || below !== null) return Math.min(surface ?? Infinity, below ?? Infinity);
  return (
    slowInchesPerHour[singleGroup(soil.group, soil.drained)] * METERS_PER_SECOND_PER_INCH_PER_HOUR
  );
}

/**
 * Hours until so much standing water is gone if no more rain falls: soaking (none while the water
 * table is up) and evaporation work on the depth together. Infinity where neither does anything.
 * Throws RangeError for a negative depth or rate.
 * Example: 0.50 m over 0.3 µm/s with 3 mm of evaporation a day stand 415 hours, 17 days.
 */
export function hoursToDry(
  depthMeters: number,
  intake: number,
  evaporationMetersPerDay: number,
): number {
  for (const value of [depthMeters, intake, evaporationMetersPerDay]) {
    if (!(value >= 0)) throw new RangeError(`depth or rate of ${value}`);
  }
  if (depthMeters === 0) return 0;
  return depthMeters / (intake * 3600 + evaporationMetersPerDay / 24);
}
