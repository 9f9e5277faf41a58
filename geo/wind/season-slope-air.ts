import type { SeasonHours } from './season-hours.ts';
import { slopeFlow, type SeatSlope, type SlopeFlow, type SlopeFlowRule } from './slope-flow.ts';
import { sunOnSlope, sunPath, type HorizonProfile, type SunPath } from './slope-sun.ts';

const DAY = 86_400;

/** The sun's path on each day of a season, found when it is asked for, for all stands of a tract. */
export type SeasonPaths = (hour: number) => {
  readonly path: SunPath | null;
  readonly since: number;
};

/**
 * Paths by day of the season: the same day of another year has the same sun to half a minute.
 * `since` is what has to be added to the path's times to come to the hour's own year, ms.
 */
export function seasonPaths(hours: SeasonHours, longitude: number, latitude: number): SeasonPaths {
  const shift = longitude * (DAY / 360);
  const noonOf = (hour: number) =>
    ((Math.floor((hours.timeSeconds[hour]! + shift) / DAY) + 0.5) * DAY - shift) * 1000;
  const byDay = new Map<number, { readonly noon: number; readonly path: SunPath | null }>();
  return (hour) => {
    const noon = noonOf(hour);
    const day = hours.day[hour]!;
    let held = byDay.get(day);
    if (!held) {
      held = { noon, path: sunPath(longitude, latitude, noon) };
      byDay.set(day, held);
    }
    return { path: held.path, since: noon - held.noon };
  };
}

/**
 * The slope's own air at a seat, hour by hour: a function from the hour and the wind at the seat.
 * When the sun strikes and leaves is found once a day of the season.
 */
export function seasonSlopeAir(
  hours: SeasonHours,
  paths: SeasonPaths,
  slope: SeatSlope,
  horizon: HorizonProfile,
  rule: SlopeFlowRule,
  convergenceDegrees = 0,
): (hour: number, seatMetersPerSecond: number) => SlopeFlow | null {
  const byDay = new Map<number, ReturnType<typeof sunOnSlope>>();
  return (hour, seatMetersPerSecond) => {
    // Most winds are too strong, and need no sun.
    if (seatMetersPerSecond > rule.mostWindMetersPerSecond) return null;
    const { path, since } = paths(hour);
    const day = hours.day[hour]!;
    let sun = byDay.get(day);
    if (sun === undefined) {
      sun = path && sunOnSlope(slope, horizon, path, convergenceDegrees);
      byDay.set(day, sun);
    }
    const instant = hours.timeSeconds[hour]! * 1000 - since;
    return slopeFlow(instant, slope, sun, seatMetersPerSecond, hours.cloudShare[hour]!, rule);
  };
}
