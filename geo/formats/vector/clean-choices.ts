import type { Sky } from './track-accuracy.ts';

export interface CleanChoices {
  readonly sky: Sky;
  /** Wiggles up to this wide are straightened; trade practice is 3 to 6 ft (trade notes, 3.7). */
  readonly jitterMeters: number;
  /** A plot edge is closed, a lane is not; `auto` closes what comes back to its start. */
  readonly close: boolean | 'auto';
}

/** 4.5 ft, the middle of what the trade uses. */
export const defaultCleanChoices: CleanChoices = {
  sky: 'unknown',
  jitterMeters: 1.3716,
  close: 'auto',
};
