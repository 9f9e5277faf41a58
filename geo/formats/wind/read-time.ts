import { asciiText } from '../scan-numbers.ts';
import { daysSince1970 } from '../vector/parse-utc.ts';

const DATE_FIRST =
  /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]+(.*))?$|^(\d{1,2})([/.])(\d{1,2})\6(\d{4})(?:[T ,]+(.*))?$|^(\d{4})(\d\d)(\d\d)[T ]?(\d\d?:?\d\d.*)?$/i;
const CLOCK =
  /^(\d{1,2}):?(\d\d)(?::(\d\d)(?:\.\d+)?)?\s*([AP]M)?\s*(Z|UTC|GMT|[+-]\d\d:?(?:\d\d)?)?$/i;
const MONTH_DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Of dates with slashes. */
export type DateOrder = 'month-first' | 'day-first';

export interface RecordTime {
  /** Unix seconds as the clock of the record reads, or in UTC where the text names its zone. */
  seconds: number;
  zoned: boolean;
}

/**
 * A date with its time as weather records write it: year first (`2019-11-02 14:53`, `T`, seconds,
 * zone or none), with dots day first (`2.11.2019 14:53`), with slashes in `order`, the usual one US
 * (`11/2/2019 2:53 PM`), or digits only (`201911021453`). Fills `out`; `seconds` is NaN for what is no time of the calendar. A date alone is midnight.
 * Example: `2019-11-02 14:53` gives 1572706380.
 */
export function readTime(
  bytes: Uint8Array,
  from: number,
  to: number,
  out: RecordTime,
  order: DateOrder = 'month-first',
): void {
  out.zoned = false;
  out.seconds = usualTime(bytes, from, to);
  if (Number.isNaN(out.seconds))
    readTimeText(asciiText(bytes, from, Math.min(to, from + 40)), out, order);
}

/** The same for a text. */
export function readTimeText(
  text: string,
  out: RecordTime,
  order: DateOrder = 'month-first',
): void {
  out.seconds = NaN;
  out.zoned = false;
  const match = DATE_FIRST.exec(text.trim());
  if (!match) return;
  const [year, month, day, rest] =
    match[1] !== undefined
      ? [match[1], match[2], match[3], match[4]]
      : match[8] !== undefined
        ? match[6] === '.' || order === 'day-first'
          ? [match[8], match[7], match[5], match[9]]
          : [match[8], match[5], match[7], match[9]]
        : [match[10], match[11], match[12], match[13]];
  const date = secondsOfDay(Number(year), Number(month), Number(day));
  if (rest === undefined || rest === '') {
    out.seconds = date;
    return;
  }
  const clock = CLOCK.exec(rest.trim());
  if (!clock) return;
  let hour = Number(clock[1]);
  const minute = Number(clock[2]);
  const half = clock[4]?.toUpperCase();
  if (half !== undefined) {
    if (hour < 1 || hour > 12) return;
    hour = (hour % 12) + (half === 'PM' ? 12 : 0);
  }
  // 24:00 is the end of the day.
  if (hour > 24 || (hour === 24 && minute > 0) || minute > 59) return;
  out.seconds = date + 3600 * hour + 60 * minute + Number(clock[3] ?? 0);
  const zone = clock[5];
  if (zone === undefined) return;
  out.zoned = true;
  if (!/^[+-]/.test(zone)) return;
  const minutes = 60 * Number(zone.slice(1, 3)) + Number(zone.slice(3).replace(':', '') || 0);
  out.seconds -= (zone.startsWith('-') ? -60 : 60) * minutes;
}

/**
 * The order of dates with slashes among some texts, by a number that is no month, or by AM and PM, which
 * go with the US order; null where both orders fit all of them. Texts without such dates do not matter.
 */
export function dateOrderOf(texts: readonly string[]): DateOrder | null {
  const dates = texts.flatMap((text) => {
    const match = /^\s*(\d{1,2})\/(\d{1,2})\/\d{4}(.*)$/.exec(text);
    return match ? [{ first: Number(match[1]), second: Number(match[2]), rest: match[3]! }] : [];
  });
  if (dates.some(({ first }) => first > 12)) return 'day-first';
  if (dates.length === 0 || dates.some(({ second }) => second > 12)) return 'month-first';
  return dates.some(({ rest }) => /\d\s*[AP]M/i.test(rest)) ? 'month-first' : null;
}

/** `YYYY-MM-DD HH:MM`, with `T` and with `:SS` too, without a string. */
function usualTime(bytes: Uint8Array, from: number, to: number): number {
  const length = to - from;
  if (length !== 16 && length !== 19) return NaN;
  if (bytes[from + 4] !== 45 || bytes[from + 7] !== 45 || bytes[from + 13] !== 58) return NaN;
  const middle = bytes[from + 10];
  if (middle !== 32 && middle !== 84) return NaN;
  if (length === 19 && bytes[from + 16] !== 58) return NaN;
  const hour = twoDigits(bytes, from + 11);
  const minute = twoDigits(bytes, from + 14);
  const second = length === 19 ? twoDigits(bytes, from + 17) : 0;
  if (!(hour < 24 && minute < 60 && second < 61)) return NaN;
  const year = 100 * twoDigits(bytes, from) + twoDigits(bytes, from + 2);
  const date = secondsOfDay(year, twoDigits(bytes, from + 5), twoDigits(bytes, from + 8));
  return date + 3600 * hour + 60 * minute + second;
}

function twoDigits(bytes: Uint8Array, at: number): number {
  const tens = bytes[at]! - 48;
  const ones = bytes[at + 1]! - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? 10 * tens + ones : NaN;
}

/** Unix seconds of midnight; NaN for no day of the calendar, or one before 1900 or after 2099. */
export function secondsOfDay(year: number, month: number, day: number): number {
  if (!(year >= 1900 && year < 2100 && month >= 1 && month <= 12 && day >= 1)) return NaN;
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  if (day > MONTH_DAYS[month - 1]! || (month === 2 && day === 29 && !leap)) return NaN;
  return 86_400 * daysSince1970(year, month, day);
}
