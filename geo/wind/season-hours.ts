import type { WindRecord } from '../plan/wind-record.ts';
import { reportingStep } from './sectors.ts';
import { turnerClass, type StabilityClass } from './stability-class.ts';
import { EVENING, MORNING, type SunParts } from './sun-parts.ts';
import { sunPosition } from './sun-position.ts';

/**
 * The hours that a season is judged by: legal mornings and evenings within it, over all its years.
 * Made once for a record and a place; stands come later.
 */
export interface SeasonHours {
  readonly count: number;
  readonly timeSeconds: Float64Array;
  /** MORNING or EVENING. */
  readonly part: Uint8Array;
  readonly week: Uint8Array;
  /** Day of the season from 0. */
  readonly day: Uint16Array;
  /** NaN: calm or variable. */
  readonly fromDegrees: Float32Array;
  /** At the station. */
  readonly speedMetersPerSecond: Float32Array;
  readonly cloudShare: Float32Array;
  /** By Turner's method. */
  readonly stability: readonly StabilityClass[];
  /** Years whose hours are in it. */
  readonly seasons: readonly number[];
  readonly stepDegrees: number;
}

/**
 * Picks the legal mornings and evenings of the season out of a record, with the stability of each.
 * Night, for stability, is from 1 h before sunset to 1 h after sunrise. `years`: seasons to take, by
 * the year they began; all where left out. Throws RangeError where record and parts differ in length.
 */
export function seasonHours(
  record: WindRecord,
  sun: SunParts,
  longitude: number,
  latitude: number,
  years?: readonly number[],
): SeasonHours {
  if (sun.part.length !== record.count)
    throw new RangeError(`seasonHours: ${sun.part.length} parts`);
  const rows: number[] = [];
  for (let i = 0; i < record.count; i++) {
    const part = sun.part[i];
    if ((part !== MORNING && part !== EVENING) || sun.season[i] === 0) continue;
    if (!years || years.includes(sun.season[i]!)) rows.push(i);
  }
  const pick = (column: Float32Array) => Float32Array.from(rows, (i) => column[i]!);
  return {
    count: rows.length,
    timeSeconds: Float64Array.from(rows, (i) => record.timeSeconds[i]!),
    part: Uint8Array.from(rows, (i) => sun.part[i]!),
    week: Uint8Array.from(rows, (i) => sun.week[i]!),
    day: Uint16Array.from(rows, (i) => sun.day[i]!),
    fromDegrees: pick(record.fromDegrees),
    speedMetersPerSecond: pick(record.speedMetersPerSecond),
    cloudShare: pick(record.cloudShare),
    stability: rows.map((i) =>
      turnerClass({
        speedMetersPerSecond: record.speedMetersPerSecond[i]!,
        sunElevationDegrees: sunPosition(longitude, latitude, record.timeSeconds[i]! * 1000)
          .elevationDegrees,
        isNight: sun.sinceSunrise[i]! < 60 || sun.untilSunset[i]! < 60,
        cloudShare: record.cloudShare[i]!,
        ceilingMeters: record.ceilingMeters[i]!,
      }),
    ),
    seasons: [...new Set(rows.map((i) => sun.season[i]!))],
    stepDegrees: reportingStep(record.fromDegrees),
  };
}
