import type { ExposedStretch } from '../approach/lane-walk.ts';
import type { LaneScreen } from './lane-screens.ts';
import type { LanesOfWind } from '../approach/best-lanes.ts';

/** Ways to walk in to a stand, and out again. */

export interface LaneShown {
  readonly line: readonly (readonly [number, number])[];
  readonly accessId: string;
  readonly lengthMeters: number;
  readonly climbMeters: number;
  readonly seconds: number;
  /** By reason, then station, from where it is entered. */
  readonly exposed: readonly ExposedStretch[];
  readonly scentedMeters: number;
  /** Berms that would hide what is seen of it. */
  readonly screens: readonly LaneScreen[];
  /** Of the winds that the stand works on, those that it can be walked on (index of 16). */
  readonly serves: readonly number[];
  /** When to leave the truck to sit quietly by the beginning of the sit; null on the way out. */
  readonly sit: SitTimes | null;
}

/** Of the morning's or the evening's legal hours, as the hour in hand lies before or after noon by the sun. */
export interface SitTimes {
  readonly part: 'morning' | 'evening';
  readonly beginsUtc: string;
  readonly leaveTruckUtc: string;
}

export interface WindLanes {
  /** Index of 16, clockwise from north. */
  readonly direction: number;
  readonly best: LaneShown | null;
  readonly second: LaneShown | null;
  readonly noLane: LanesOfWind['noLane'];
}

/** Of the stand that lanes were asked for. */
export interface StandLanes {
  readonly standId: string;
  /** For each wind that the stand works on or is marginal on. */
  readonly winds: readonly WindLanes[];
  /** At dark, with the evening air of the slope; null where none leads out. */
  readonly out: LaneShown | null;
}
