import type { WindRecord } from '../plan/wind-record.ts';
import { legalLight, usualLight, type LegalLight, type LightOffsets } from './legal-light.ts';
import { seasonDay, seasonLengthDays, type HuntingSeason } from './hunting-season.ts';

/** Parts of the day by the sun. Morning, midday and evening are legal light. */
export const NIGHT = 0;
export const MORNING = 1;
export const MIDDAY = 2;
export const EVENING = 3;

export interface DayParts {
  readonly light: LightOffsets;
  /** A morning ends so long after sunrise, an evening begins so long before sunset. */
  readonly morningMinutes: number;
  readonly eveningMinutes: number;
}

/** Two hours by the sun at either end of the day, and legal light before and after. */
export const usualParts: DayParts = { light: usualLight, morningMinutes: 120, eveningMinutes: 120 };

/** Each row of a record by the sun of its own day, in the order of the record. */
export interface SunParts {
  /** NIGHT, MORNING, MIDDAY or EVENING. */
  readonly part: Uint8Array;
  /** From 1. */
  readonly month: Uint8Array;
  /** Year in which the row's season began; 0 outside the season. */
  readonly season: Uint16Array;
  /** Week of the season from 0; 255 outside. */
  readonly week: Uint8Array;
  /** Day of the season from 0; 65535 outside. */
  readonly day: Uint16Array;
  /** Minutes since the day's sunrise and until its sunset, below 0 in the dark; NaN without them. */
  readonly sinceSunrise: Float32Array;
  readonly untilSunset: Float32Array;
  /** Days with rows but without a sunrise. */
  readonly daysWithoutSunrise: number;
  /** Days of rows in each season, by the year it began. */
  readonly daysBySeason: ReadonlyMap<number, { readonly days: number; readonly of: number }>;
}

const DAY = 86_400;

/**
 * Sorts the rows of a record into night, morning, midday and evening by minutes from their own day's
 * sunrise and sunset, never by the clock; days and months are those of local solar time. Where a
 * short day's windows meet, solar noon divides them. Rows of a day without a sunrise are night.
 * Throws RangeError for a place or minutes that are not finite.
 */
export function sunParts(
  record: WindRecord,
  longitude: number,
  latitude: number,
  season: HuntingSeason,
  parts: DayParts = usualParts,
): SunParts {
  if (!Number.isFinite(parts.morningMinutes + parts.eveningMinutes)) {
    throw new RangeError(`sunParts: ${parts.morningMinutes}, ${parts.eveningMinutes} minutes`);
  }
  const { count, timeSeconds } = record;
  const part = new Uint8Array(count);
  const month = new Uint8Array(count);
  const seasons = new Uint16Array(count);
  const week = new Uint8Array(count).fill(255);
  const days = new Uint16Array(count).fill(65_535);
  const sinceSunrise = new Float32Array(count).fill(NaN);
  const untilSunset = new Float32Array(count).fill(NaN);
  const daysBySeason = new Map<number, { days: number; of: number }>();
  const shift = longitude * (DAY / 360);
  let today = NaN;
  let light: LegalLight | null = null;
  let monthNow = 0;
  let within: ReturnType<typeof seasonDay> = null;
  let daysWithoutSunrise = 0;
  for (let i = 0; i < count; i++) {
    const day = Math.floor((timeSeconds[i]! + shift) / DAY);
    if (day !== today) {
      today = day;
      light = legalLight(longitude, latitude, ((day + 0.5) * DAY - shift) * 1000, parts.light);
      if (!light) daysWithoutSunrise++;
      monthNow = new Date(day * DAY * 1000).getUTCMonth() + 1;
      within = seasonDay(day * DAY * 1000, season);
      if (within) countDay(daysBySeason, within.year, season);
    }
    month[i] = monthNow;
    if (within) {
      seasons[i] = within.year;
      week[i] = Math.floor(within.day / 7);
      days[i] = within.day;
    }
    if (!light) continue;
    const now = timeSeconds[i]! * 1000;
    part[i] = partOf(now, light, parts);
    sinceSunrise[i] = (now - light.sunriseUtcMilliseconds) / 60_000;
    untilSunset[i] = (light.sunsetUtcMilliseconds - now) / 60_000;
  }
  return {
    part,
    month,
    season: seasons,
    week,
    day: days,
    sinceSunrise,
    untilSunset,
    daysWithoutSunrise,
    daysBySeason,
  };
}

/** The part of the day at an instant of that day. */
export function partOf(utcMilliseconds: number, light: LegalLight, parts: DayParts): number {
  if (utcMilliseconds < light.fromUtcMilliseconds || utcMilliseconds > light.toUtcMilliseconds) {
    return NIGHT;
  }
  const noon = light.noonUtcMilliseconds;
  if (utcMilliseconds < noon) {
    const end = light.sunriseUtcMilliseconds + parts.morningMinutes * 60_000;
    return utcMilliseconds <= end ? MORNING : MIDDAY;
  }
  const begin = light.sunsetUtcMilliseconds - parts.eveningMinutes * 60_000;
  return utcMilliseconds >= begin ? EVENING : MIDDAY;
}

function countDay(
  days: Map<number, { days: number; of: number }>,
  year: number,
  season: HuntingSeason,
): void {
  const held = days.get(year);
  if (held) held.days++;
  else days.set(year, { days: 1, of: seasonLengthDays(year, season) });
}
