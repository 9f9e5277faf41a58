import { numberColumns } from '../csv.ts';
import { readTimeText } from './read-time.ts';
import type { WindHead } from './sniff-wind.ts';
import type { SpeedUnit, WindPreview } from './wind-opening.ts';

const TIME = /date.?time|time.?stamp|valid|observed|^date|^time/;
const CLOCK = /^(time|hour|clock|hhmm)/;
const DIRECTION = /dir|drct|wdir|azim|bearing|^wd$|^dd$/;
const SPEED = /speed|spd|sknt|wspd|velocity|^ws$|^ff$/;
const GUST = /gust|peak|^max/;
const UNITS: readonly (readonly [RegExp, SpeedUnit])[] = [
  [/kno?ts?\b|\bkts?\b|sknt|_kt|\bkt/, 'kt'],
  [/mph|mi\/h|mi_h|miles/, 'mph'],
  [/km\/?h|kph|km_h/, 'km/h'],
  [/m\/s|\bmps\b|m_s|ms-1|m s-1|meters? per|metres? per|_ms\b/, 'm/s'],
];

/**
 * Says which columns of a table hold time, direction, speed and gust: by their names, else by what
 * stands in them (a date; whole numbers up to 360 that pass 36; the next column of numbers). Only a
 * guess, for the user to correct; null where nothing fits.
 * Example: names `Date, Wind Dir (deg), Wind Spd (mph)` give 0, 1, 2 and mph.
 */
export function guessWindColumns({ names, rows }: WindHead): WindPreview {
  const guess = names === null ? byContent(rows) : byName(names, rows);
  const speed = guess.speed === null ? undefined : names?.[guess.speed];
  return {
    names,
    rows: rows.slice(0, 8),
    guess,
    speedUnit: speed === undefined ? null : unitInSpeedName(speed),
    reason:
      names === null
        ? 'The columns have no names, so they are guessed from what stands in them.'
        : 'The file names its columns.',
  };
}

/** The unit that a column's name states, or null. */
export function unitInSpeedName(name: string): SpeedUnit | null {
  const lower = name.toLowerCase();
  return UNITS.find(([pattern]) => pattern.test(lower))?.[1] ?? null;
}

/** Whether a column's name says that its times are in UTC. */
export const saysUtc = (name: string): boolean => /utc|gmt|zulu|\bz\b/i.test(name);

function byName(
  names: readonly string[],
  rows: readonly (readonly string[])[],
): WindPreview['guess'] {
  const words = names.map((name) => name.toLowerCase().trim());
  const find = (fits: (word: string) => boolean) => {
    const column = words.findIndex(fits);
    return column < 0 ? null : column;
  };
  const time = find((word) => TIME.test(word)) ?? timeColumn(rows);
  const direction =
    find((word) => DIRECTION.test(word) && !GUST.test(word)) ??
    find((word) => DIRECTION.test(word));
  const speed = find((word) => SPEED.test(word) && !GUST.test(word));
  const gust = find((word) => GUST.test(word) && !DIRECTION.test(word));
  const content = byContent(rows);
  // A date alone needs the clock beside it.
  const dates = rows.map((row) => row[time ?? -1] ?? '').filter((text) => text !== '');
  const isDateOnly =
    dates.length > 0 && dates.every((text) => !/\d[:T ]\s*\d/.test(text) && text.length <= 10);
  const clock = isDateOnly
    ? words.findIndex((word, column) => column !== time && CLOCK.test(word))
    : -1;
  return {
    time,
    clock: clock < 0 ? null : clock,
    direction: direction ?? (speed === null ? content.direction : null),
    speed: speed ?? (direction === null ? content.speed : null),
    gust,
  };
}

function byContent(rows: readonly (readonly string[])[]): WindPreview['guess'] {
  const time = timeColumn(rows);
  const numbers = numberColumns(rows).filter((column) => column !== time);
  const values = (column: number) => rows.map((row) => Number(row[column]));
  const direction = numbers.find((column) => {
    const all = values(column);
    return all.every((value) => value >= 0 && value <= 360) && all.some((value) => value > 36);
  });
  const speed = numbers.find((column) => column !== direction && column > (direction ?? -1));
  return { time, clock: null, direction: direction ?? null, speed: speed ?? null, gust: null };
}

/** The first column whose every filled field is a date. */
function timeColumn(rows: readonly (readonly string[])[]): number | null {
  const width = Math.max(0, ...rows.map((row) => row.length));
  const out = { seconds: NaN, zoned: false };
  for (let column = 0; column < width; column++) {
    const filled = rows.map((row) => row[column] ?? '').filter((text) => text !== '');
    const isTime = (text: string) => {
      readTimeText(text, out);
      return !Number.isNaN(out.seconds);
    };
    if (filled.length > 0 && filled.every(isTime)) return column;
  }
  return null;
}
