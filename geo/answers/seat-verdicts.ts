import type { Settings } from '../plan/settings.ts';
import type { SeasonHours } from '../wind/season-hours.ts';
import { seasonSlopeAir, type SeasonPaths } from '../wind/season-slope-air.ts';
import type { SeatReach } from '../wind/seat-reach.ts';
import { usualSlopeFlow } from '../wind/slope-flow.ts';
import { judgeSeason, type HourVerdicts } from '../wind/stand-season.ts';
import type { Verdict } from '../wind/wind-verdict.ts';
import type { SeatPlace } from './seats.ts';
import { driftRuleOf, exposureAt } from './stand-winds.ts';

/** A seat, or a place where one could be, with all that its hours are judged by. */
export interface JudgedSeat extends SeatPlace {
  readonly seatHeightMeters: number;
  readonly reach: SeatReach;
  /** As `openingAt` gives it. */
  readonly openingTreeHeights: number | null;
  /** What pools do that its air runs into; null where it runs into none. */
  readonly pooled: Verdict | null;
}

/**
 * The verdict on each hour of a season at a seat, by wind, shelter, the slope's own air and where that
 * stands: the same for a stand that is drawn and for a place where one could go. `hours` in true bearings.
 */
export function seatVerdicts(
  settings: Settings,
  seat: JudgedSeat,
  hours: SeasonHours,
  paths: SeasonPaths,
): HourVerdicts {
  const { slope, horizon, convergenceDegrees, reach, pooled } = seat;
  const { share, openShare, isSheltered } = exposureAt(settings, seat.seatHeightMeters, seat.openingTreeHeights); // prettier-ignore
  const air = slope && horizon ? seasonSlopeAir(hours, paths, slope, horizon, usualSlopeFlow, convergenceDegrees) : null; // prettier-ignore
  return judgeSeason(
    turnedToGrid(hours, convergenceDegrees),
    {
      reach,
      windShare: share,
      isSheltered,
      ...(pooled && { pooled }),
      ...(air && {
        slopeAir: (hour: number) => air(hour, hours.speedMetersPerSecond[hour]! * openShare),
      }),
    },
    driftRuleOf(settings),
  );
}

/** The record's true bearings as those of the grid, in which the ground round a seat is seen. */
export function turnedToGrid(hours: SeasonHours, convergence: number): SeasonHours {
  const fromDegrees = hours.fromDegrees.map((from) => (((from - convergence) % 360) + 360) % 360);
  return { ...hours, fromDegrees };
}
