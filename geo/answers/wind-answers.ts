import type { HeldAir } from './evening-pools.ts';
import type { StandCoverage } from '../wind/stand-coverage.ts';
import type { StandSeason } from '../wind/stand-season.ts';
import type { GlareWeek } from '../wind/sun-glare.ts';
import type { DriftDoubt } from '../wind/scent-drift.ts';
import type { StabilityClass } from '../wind/stability-class.ts';
import type { Reached, Verdict } from '../wind/wind-verdict.ts';
import type { RecordLength } from '../wind/record-length.ts';

/** What the wind does here, and what it does to stands. */

/** Hours by 16 directions, clockwise from north, in one part of the day. */
export interface RoseAnswer {
  readonly hours: number;
  readonly calmHours: number;
  readonly variableHours: number;
  /** By direction, all speeds. */
  readonly directionHours: readonly number[];
  /** Index of the direction with most hours; null without wind. */
  readonly prevailing: number | null;
  /** Mean of all speeds, calm too. */
  readonly meanMetersPerSecond: number;
  /** Length of the mean vector over that mean: 1 always from one side, 0 from everywhere. */
  readonly steadiness: number;
}

export type DayPart = 'dawn' | 'midday' | 'dusk';

export interface SiteWind {
  readonly stationId: string;
  readonly stationName: string;
  readonly firstSecond: number;
  readonly lastSecond: number;
  readonly rows: number;
  /** Of the season. */
  readonly parts: Readonly<Record<DayPart, RoseAnswer>>;
  /** Every month that has rows, all legal light. */
  readonly months: readonly { readonly month: number; readonly rose: RoseAnswer }[];
  readonly length: RecordLength;
  /** Of the record, as its directions are given; 0 where they keep to none. */
  readonly stepDegrees: number;
}

/** A stand on the wind and at the hour under the map. */
export interface StandWindNow {
  readonly verdict: Verdict;
  /** Nearest first. */
  readonly reached: readonly Reached[];
  /** True bearing that scent goes toward; null where it spreads all round. */
  readonly towardDegrees: number | null;
  readonly halfAngleDegrees: number;
  readonly reachMeters: number;
  /** At the seat, likely. */
  readonly seatMetersPerSecond: number;
  readonly stability: StabilityClass;
  readonly doubts: readonly DriftDoubt[];
  /** Where its air runs down into and stands, while air drains; else none. */
  readonly pools: readonly HeldAir[];
}

export interface StandWinds {
  /** By stand, in the order of their ids. */
  readonly stands: Readonly<Record<string, StandWindNow>>;
}

/** A stand over the season. Hours are of all years: over `seasons` they are those of one. */
export interface StandOverSeason {
  readonly season: StandSeason;
  /** What scent reaches in a plain wind from each of 16 directions, clockwise from north; nearest first. */
  readonly downwind: readonly (readonly Reached[])[];
  /** By week; none where it does not say which way it looks. */
  readonly glare: readonly GlareWeek[];
}

export interface StandSeasons {
  readonly seasons: number;
  readonly hours: number;
  readonly stands: Readonly<Record<string, StandOverSeason>>;
  readonly coverage: StandCoverage;
}
