/** Air that moves along a slope by itself. */
export interface SlopeFlow {
  readonly kind: 'down' | 'up';
  /** Degrees, in the bearings of the slope given. */
  readonly towardDegrees: number;
  readonly speedMetersPerSecond: number;
}

/** Every number of it editable. */
export interface SlopeFlowRule {
  /** Gentler ground moves no air. */
  readonly leastGrade: number;
  /** Stronger wind at the seat has its own way. */
  readonly mostWindMetersPerSecond: number;
  /** Under more cloud the ground neither heats nor cools enough; cloud not known counts as less. */
  readonly mostCloudShare: number;
  readonly downMetersPerSecond: number;
  readonly upMetersPerSecond: number;
  /** Up-slope air begins so long after the sun strikes. */
  readonly upDelayMinutes: number;
  /** Up-slope air ends so long before sunset even where the sun still shines. */
  readonly upEndsBeforeSunsetMinutes: number;
  /** The calm between, after up-slope air has ended. */
  readonly downDelayMinutes: number;
}

/**
 * Speeds: the low ends of 2 to 5 mph down and 3 to 8 mph up (handbook, section 7.3, C 42), for a
 * plot's slope is mild. Wind under 4 to 5 mph (trade notes, Q24). Up 45 to 90 min after sun strikes
 * (trade notes, section 6.8), to about 1 h before sunset (handbook, section 7.3, C 43: up-valley air;
 * Turner's night begins then too). Grade, cloud and the calm between: ours, no source.
 */
export const usualSlopeFlow: SlopeFlowRule = {
  leastGrade: 0.01,
  mostWindMetersPerSecond: 2,
  mostCloudShare: 0.8,
  downMetersPerSecond: 2 * 0.44704,
  upMetersPerSecond: 3 * 0.44704,
  upDelayMinutes: 60,
  upEndsBeforeSunsetMinutes: 60,
  downDelayMinutes: 15,
};

/** The slope that a seat stands on, over some tens of metres. */
export interface SeatSlope {
  /** Rise over run. */
  readonly grade: number;
  /** Bearing that it falls toward; null where level. */
  readonly fallsTowardDegrees: number | null;
}

/** When the sun strikes and leaves a slope on a day; null on a day when it never does. */
export interface SunOnSlope {
  readonly strikesUtcMilliseconds: number;
  readonly leavesUtcMilliseconds: number;
  /** Sunset of the open sky that day. */
  readonly setsUtcMilliseconds: number;
}

/**
 * The slope's own air at an instant: down from some minutes after the sun has left, or stands low, until it strikes
 * again, up from an hour or so after it struck, nothing between, in wind or under cloud. A slope that
 * the sun never strikes that day drains all day. Low confidence always: no station measures it.
 */
export function slopeFlow(
  utcMilliseconds: number,
  slope: SeatSlope,
  sun: SunOnSlope | null,
  windMetersPerSecond: number,
  cloudShare: number,
  rule: SlopeFlowRule,
): SlopeFlow | null {
  const { grade, fallsTowardDegrees } = slope;
  if (fallsTowardDegrees === null || !(grade >= rule.leastGrade)) return null;
  if (windMetersPerSecond > rule.mostWindMetersPerSecond) return null;
  if (cloudShare > rule.mostCloudShare) return null;
  const down = {
    kind: 'down',
    towardDegrees: fallsTowardDegrees,
    speedMetersPerSecond: rule.downMetersPerSecond,
  } as const;
  if (sun === null) return down;
  const strikes = sun.strikesUtcMilliseconds;
  const lowSun = sun.setsUtcMilliseconds - rule.upEndsBeforeSunsetMinutes * 60_000;
  const leaves = Math.min(sun.leavesUtcMilliseconds, lowSun);
  // Sun in the last hour alone warms nothing.
  if (strikes >= leaves || utcMilliseconds < strikes) return down;
  if (utcMilliseconds >= leaves) {
    return utcMilliseconds >= leaves + rule.downDelayMinutes * 60_000 ? down : null;
  }
  if (utcMilliseconds < strikes + rule.upDelayMinutes * 60_000) return null;
  return {
    kind: 'up',
    towardDegrees: (fallsTowardDegrees + 180) % 360,
    speedMetersPerSecond: rule.upMetersPerSecond,
  };
}
