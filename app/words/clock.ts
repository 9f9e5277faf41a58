/**
 * Instants as a place's own clock shows them. The locale is fixed: a machine's own may be one that
 * the browser does not know, and then the formatters throw.
 */
const LOCALE = 'en-US';

interface ClockParts {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
}

/** The zone to show: the plan's, else this machine's, else UTC. */
export function zoneInUse(timeZone: string): string {
  if (timeZone && isZone(timeZone)) return timeZone;
  try {
    return new Intl.DateTimeFormat(LOCALE).resolvedOptions().timeZone || 'UTC';
  } catch {
    return 'UTC';
  }
}

export function isZone(timeZone: string): boolean {
  try {
    new Intl.DateTimeFormat(LOCALE, { timeZone });
    return true;
  } catch {
    return false;
  }
}

const readers = new Map<string, Intl.DateTimeFormat>();

function clockParts(instant: number, zone: string): ClockParts {
  let reader = readers.get(zone);
  if (!reader) {
    reader = new Intl.DateTimeFormat(LOCALE, {
      timeZone: zone,
      hourCycle: 'h23',
      year: 'numeric',
      month: 'numeric',
      day: 'numeric',
      hour: 'numeric',
      minute: 'numeric',
    });
    readers.set(zone, reader);
  }
  const of = (type: string): number =>
    Number(reader.formatToParts(instant).find((part) => part.type === type)?.value ?? 0);
  return {
    year: of('year'),
    month: of('month'),
    day: of('day'),
    hour: of('hour'),
    minute: of('minute'),
  };
}

/** The instant at which the zone's clock shows this date and hour; within a spring gap, after it. */
function instantOf(year: number, month: number, day: number, hour: number, zone: string): number {
  const wanted = Date.UTC(year, month - 1, day, hour);
  let instant = wanted;
  for (let pass = 0; pass < 3; pass++) {
    const shown = clockParts(instant, zone);
    const asUtc = Date.UTC(shown.year, shown.month - 1, shown.day, shown.hour, shown.minute);
    if (asUtc === wanted) break;
    instant += wanted - asUtc;
  }
  return instant;
}

/** Midnight to midnight of the zone's day that holds the instant: 23, 24 or 25 hours. */
export function dayAround(instant: number, zone: string): { start: number; end: number } {
  const { year, month, day } = clockParts(instant, zone);
  const next = new Date(Date.UTC(year, month - 1, day + 1));
  return {
    start: instantOf(year, month, day, 0, zone),
    end: instantOf(next.getUTCFullYear(), next.getUTCMonth() + 1, next.getUTCDate(), 0, zone),
  };
}

/** "2026-11-14", as date fields want it. */
export function dateField(instant: number, zone: string): string {
  const { year, month, day } = clockParts(instant, zone);
  return `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
}

/** The same time of day on another date ("2026-11-14"); null when the text is no date. */
export function onDate(instant: number, date: string, zone: string): number | null {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  if (!found) return null;
  const { start } = dayAround(instant, zone);
  const newStart = instantOf(Number(found[1]), Number(found[2]), Number(found[3]), 0, zone);
  return newStart + (instant - start);
}

/** "4:10 pm" */
export function timeOfDay(instant: number, zone: string): string {
  const { hour, minute } = clockParts(instant, zone);
  const half = hour < 12 ? 'am' : 'pm';
  return `${hour % 12 === 0 ? 12 : hour % 12}:${String(minute).padStart(2, '0')} ${half}`;
}

const months = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');

/** "Nov 14" */
export function shortDate(instant: number, zone: string): string {
  const { month, day } = clockParts(instant, zone);
  return `${months[month - 1]} ${day}`;
}

/** A survey date as stored ("2024", "2024-03", "2024-03-18") in words: "Mar 18, 2024". */
export function surveyDate(stored: string): string {
  const [year, month, day] = stored.split('-');
  const name = month ? months[Number(month) - 1] : undefined;
  if (!name) return year ?? stored;
  return day ? `${name} ${Number(day)}, ${year}` : `${name} ${year}`;
}

/** "saved 2 s ago" and the like, from a span in milliseconds. */
export function ago(milliseconds: number): string {
  const seconds = Math.max(0, Math.round(milliseconds / 1000));
  if (seconds < 1) return 'just now';
  if (seconds < 60) return `${seconds} s ago`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes} min ago`;
  const hours = Math.round(minutes / 60);
  return hours < 48 ? `${hours} h ago` : `${Math.round(hours / 24)} days ago`;
}

/** "41 min", "2 h 5 min" */
export function span(minutes: number): string {
  const whole = Math.abs(Math.round(minutes));
  if (whole < 60) return `${whole} min`;
  const rest = whole % 60;
  return rest === 0 ? `${whole / 60} h` : `${Math.floor(whole / 60)} h ${rest} min`;
}
