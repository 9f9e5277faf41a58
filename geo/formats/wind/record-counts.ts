import type { WindRecord, WindTally } from '../../plan/wind-record.ts';

const HOUR = 3600;
/** A longer break is a time of year that the record does not cover. */
const LONGEST_GAP_HOURS = 60 * 24;

type RecordCounts = Pick<
  WindTally,
  'kept' | 'calm' | 'variable' | 'stepHours' | 'gaps' | 'gapHours' | 'longestGapHours'
>;

/** What a record holds and where it breaks off: by whole hours, against the step most rows keep. */
export function recordCounts(record: WindRecord): RecordCounts {
  const { count, timeSeconds, speedMetersPerSecond, fromDegrees } = record;
  let [calm, variable] = [0, 0];
  for (let i = 0; i < count; i++) {
    if (speedMetersPerSecond[i] === 0) calm++;
    else if (Number.isNaN(fromDegrees[i]!)) variable++;
  }
  const hour = (i: number) => Math.floor(timeSeconds[i]! / HOUR);
  const steps = new Uint32Array(25);
  for (let i = 1; i < count; i++) steps[Math.min(24, hour(i) - hour(i - 1))]!++;
  let stepHours = 1;
  for (let step = 1; step <= 24; step++) if (steps[step]! > steps[stepHours]!) stepHours = step;
  let [gaps, gapHours, longestGapHours] = [0, 0, 0];
  for (let i = 1; i < count; i++) {
    const missing = hour(i) - hour(i - 1) - stepHours;
    if (missing <= 0 || missing > LONGEST_GAP_HOURS) continue;
    gaps++;
    gapHours += missing;
    longestGapHours = Math.max(longestGapHours, missing);
  }
  return { kept: count, calm, variable, stepHours, gaps, gapHours, longestGapHours };
}
