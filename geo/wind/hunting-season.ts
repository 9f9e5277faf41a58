/** Days of a hunting season, both included; it may run over the new year. Months from 1. */
export interface HuntingSeason {
  readonly from: { readonly month: number; readonly day: number };
  readonly to: { readonly month: number; readonly day: number };
}

/** The demo's season; the real one is the state's. */
export const usualSeason: HuntingSeason = {
  from: { month: 10, day: 1 },
  to: { month: 1, day: 15 },
};

const DAY = 86_400_000;

export interface SeasonDay {
  /** The year in which the season began. */
  readonly year: number;
  /** Days since its first, from 0. */
  readonly day: number;
}

/**
 * Which season a day belongs to, and how far into it; null outside. `date` is any instant of the day
 * in Unix milliseconds, its calendar day taken in UTC: shift it by the local clock first.
 * Throws RangeError for a season that is not of the calendar.
 * Example: 3 Jan 2024 in a season from 1 Oct to 15 Jan: 2023, day 94.
 */
export function seasonDay(date: number, season: HuntingSeason): SeasonDay | null {
  const today = new Date(date);
  const year = today.getUTCFullYear();
  const midnight = Date.UTC(year, today.getUTCMonth(), today.getUTCDate());
  for (const began of [year, year - 1]) {
    const first = dayOf(began, season.from);
    if (midnight < first || midnight >= first + seasonLengthDays(began, season) * DAY) continue;
    return { year: began, day: Math.round((midnight - first) / DAY) };
  }
  return null;
}

/** Days of the season that begins in a year: 107 from 1 Oct to 15 Jan. */
export function seasonLengthDays(year: number, season: HuntingSeason): number {
  const first = dayOf(year, season.from);
  const sameYear = dayOf(year, season.to);
  const last = sameYear >= first ? sameYear : dayOf(year + 1, season.to);
  return Math.round((last - first) / DAY) + 1;
}

function dayOf(year: number, { month, day }: HuntingSeason['from']): number {
  const isOnCalendar = month >= 1 && month <= 12 && day >= 1 && day <= 31;
  if (!isOnCalendar) throw new RangeError(`seasonDay: month ${month}, day ${day}`);
  return Date.UTC(year, month - 1, day);
}
