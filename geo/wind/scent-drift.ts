import type { DriftRule } from './drift-rule.ts';
import { sigmaThetaDegrees } from './direction-spread.ts';
import type { SlopeFlow } from './slope-flow.ts';
import type { StabilityClass } from './stability-class.ts';
import { degrees, radians } from './sun-series.ts';

/** Air at a seat. Bearings are all true or all of the grid, as the caller likes. */
export interface SeatAir {
  /** Where it blows from, degrees; null where it is calm or variable. */
  readonly fromDegrees: number | null;
  /** At the seat, m/s. */
  readonly speedMetersPerSecond: number;
  readonly stability: StabilityClass;
  /** Air that moves down or up the slope by itself; null where none does. */
  readonly slopeFlow: SlopeFlow | null;
  /** In a small opening the air turns. */
  readonly isSheltered: boolean;
}

/** Why a drift deserves little confidence. */
export type DriftDoubt =
  | 'calm'
  | 'variable'
  | 'light-air'
  | 'slope-air'
  | 'sheltered'
  /** Given by what runs into a pool, not by the drift itself. */
  | 'pooled-air';

export interface ScentDrift {
  /** Where the air carries scent to, degrees; null where it spreads all round. */
  readonly axisDegrees: number | null;
  /** Either side of the axis; 180 where it spreads all round. */
  readonly halfAngleDegrees: number;
  readonly reachMeters: number;
  /** Of the air that carries it, m/s. */
  readonly speedMetersPerSecond: number;
  /** Empty where the confidence is the usual one. */
  readonly doubts: readonly DriftDoubt[];
}

/**
 * Where scent goes from a seat. The half-angle is the greater of the rule's least and the sum of the
 * direction's deviation (by class, wider in light air), half the reporting step and the local
 * turning (trade notes, section 6.8 and Q23). The slope's own air is added to the wind as a vector.
 * Air without a direction spreads all round, unless the slope gives it one.
 * Throws RangeError for a speed below 0 or a direction or rule that is not finite.
 * Example: from 225 at 4 m/s, class D: to 45, 30 either side, 274 m.
 */
export function scentDrift(air: SeatAir, rule: DriftRule): ScentDrift {
  const { fromDegrees, speedMetersPerSecond, slopeFlow, isSheltered } = air;
  if (!(speedMetersPerSecond >= 0) || (fromDegrees !== null && !Number.isFinite(fromDegrees))) {
    throw new RangeError(`scentDrift: from ${fromDegrees}, ${speedMetersPerSecond} m/s`);
  }
  const hasDirection = fromDegrees !== null && speedMetersPerSecond > 0;
  const doubts: DriftDoubt[] = [];
  if (speedMetersPerSecond === 0) doubts.push('calm');
  else if (!hasDirection) doubts.push('variable');
  if (slopeFlow) doubts.push('slope-air');
  if (isSheltered) doubts.push('sheltered');
  const moved = slopeFlow
    ? together(hasDirection ? fromDegrees + 180 : null, speedMetersPerSecond, slopeFlow)
    : { axisDegrees: hasDirection ? turned(fromDegrees + 180) : null, speed: speedMetersPerSecond };
  const reachMeters = rule.rangeMeters;
  if (moved.axisDegrees === null) {
    return {
      axisDegrees: null,
      halfAngleDegrees: 180,
      reachMeters,
      speedMetersPerSecond: moved.speed,
      doubts,
    };
  }
  if (moved.speed < rule.lightAir.belowMetersPerSecond) doubts.push('light-air');
  return {
    axisDegrees: moved.axisDegrees,
    halfAngleDegrees: halfAngleDegrees(air.stability, moved.speed, rule),
    reachMeters,
    speedMetersPerSecond: moved.speed,
    doubts,
  };
}

/** Half-angle of a drift in moving air, degrees, at most 180. */
export function halfAngleDegrees(
  stability: StabilityClass,
  metersPerSecond: number,
  rule: DriftRule,
): number {
  const sigma = sigmaThetaDegrees(stability, metersPerSecond, rule.lightAir);
  const sum = sigma + rule.reportingStepDegrees / 2 + rule.localTurningDegrees;
  return Math.min(180, Math.max(rule.leastHalfAngleDegrees, sum));
}

/** Wind and slope air as one vector; the slope's alone where the wind has no direction. */
function together(
  windToward: number | null,
  windSpeed: number,
  { towardDegrees, speedMetersPerSecond }: SlopeFlow,
): { axisDegrees: number | null; speed: number } {
  const speeds = [windToward === null ? 0 : windSpeed, speedMetersPerSecond];
  const angles = [radians(windToward ?? 0), radians(towardDegrees)];
  const east = speeds[0]! * Math.sin(angles[0]!) + speeds[1]! * Math.sin(angles[1]!);
  const north = speeds[0]! * Math.cos(angles[0]!) + speeds[1]! * Math.cos(angles[1]!);
  const speed = Math.hypot(east, north);
  // Two airs that meet head on leave none.
  if (speed < 1e-9) return { axisDegrees: null, speed: 0 };
  return { axisDegrees: turned(degrees(Math.atan2(east, north))), speed };
}

const turned = (angle: number) => ((angle % 360) + 360) % 360;
