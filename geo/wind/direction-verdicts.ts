import type { DriftRule } from './drift-rule.ts';
import { scentDrift } from './scent-drift.ts';
import type { SeatReach } from './seat-reach.ts';
import { SECTORS } from './sectors.ts';
import type { StabilityClass } from './stability-class.ts';
import { windVerdict, type WindVerdict } from './wind-verdict.ts';

/** A wind that is neither light nor strong, under a grey sky: for tables by direction alone. */
export const plainWind = { speedMetersPerSecond: 4, stability: 'D' } as const;

/**
 * A stand's verdict on each of the 16 directions that the wind can come from, clockwise from north,
 * at the centre of the sector, in one kind of air. `reach` in bearings of the grid, to which
 * `convergenceDegrees` is added to make a true one.
 */
export function directionVerdicts(
  reach: SeatReach,
  rule: DriftRule,
  air: { readonly speedMetersPerSecond: number; readonly stability: StabilityClass } = plainWind,
  convergenceDegrees = 0,
): WindVerdict[] {
  return Array.from({ length: SECTORS }, (_, sector) => {
    const fromDegrees = ((((360 / SECTORS) * sector - convergenceDegrees) % 360) + 360) % 360;
    const seatAir = { ...air, fromDegrees, slopeFlow: null, isSheltered: false };
    return windVerdict(reach, scentDrift(seatAir, rule), rule);
  });
}
