const TIME =
  /^(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d):(\d\d)(?::(\d\d(?:\.\d{1,9})?))?)?(Z|[+-]\d\d:?\d\d)?$/;

/**
 * Milliseconds since 1970 of an ISO 8601 time as GPX and KML write it; a time without a zone counts
 * as UTC, as GPX 1.1 says. NaN where it is none.
 * Example: 2024-03-19T15:04:05Z gives 1710860645000.
 */
export function parseUtc(text: string): number {
  const usual = usualTime(text);
  if (!Number.isNaN(usual)) return usual;
  const match = TIME.exec(text);
  if (!match) return Number.NaN;
  const [, year, month, day, hour = '0', minute = '0', second = '0', zone = 'Z'] = match;
  const seconds = Number(second);
  if (!isOnCalendar(+month, +day, +hour, +minute, seconds)) return Number.NaN;
  const utc =
    Date.UTC(+year, +month - 1, +day, +hour, +minute, Math.floor(seconds)) +
    Math.round((seconds % 1) * 1000);
  if (zone === 'Z') return utc;
  const [, sign, hours, minutes] = /([+-])(\d\d):?(\d\d)/.exec(zone)!;
  return utc - (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) * 60_000;
}

/**
 * `YYYY-MM-DDTHH:MM:SSZ` or with `.mmm` before the Z, as nearly every recorder writes hundreds of
 * thousands of, without a regular expression; NaN for any other form.
 */
function usualTime(text: string): number {
  const { length } = text;
  const hasThousandths = length === 24 && text.charCodeAt(19) === 46;
  if ((length !== 20 && !hasThousandths) || text.charCodeAt(10) !== 84) return Number.NaN;
  if (text.charCodeAt(length - 1) !== 90) return Number.NaN;
  const isMarked =
    text.charCodeAt(4) === 45 &&
    text.charCodeAt(7) === 45 &&
    text.charCodeAt(13) === 58 &&
    text.charCodeAt(16) === 58;
  if (!isMarked) return Number.NaN;
  const year = 100 * twoDigits(text, 0) + twoDigits(text, 2);
  const month = twoDigits(text, 5);
  const day = twoDigits(text, 8);
  const hour = twoDigits(text, 11);
  const minute = twoDigits(text, 14);
  const second = twoDigits(text, 17);
  if (!isOnCalendar(month, day, hour, minute, second)) return Number.NaN;
  const seconds = 3600 * hour + 60 * minute + second;
  const thousandths = hasThousandths ? 10 * twoDigits(text, 20) + (twoDigits(text, 21) % 10) : 0;
  return 1000 * (86_400 * daysSince1970(year, month, day) + seconds) + thousandths;
}

function isOnCalendar(
  month: number,
  day: number,
  hour: number,
  minute: number,
  second: number,
): boolean {
  // A second 60 is a leap second; a 31st of a short month counts on into the next.
  return (
    month >= 1 && month <= 12 && day >= 1 && day <= 31 && hour <= 24 && minute < 60 && second < 61
  );
}

function twoDigits(text: string, at: number): number {
  const tens = text.charCodeAt(at) - 48;
  const ones = text.charCodeAt(at + 1) - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? 10 * tens + ones : Number.NaN;
}

/** Days of the Gregorian calendar, counted in years that begin in March, so leap days come last. */
export function daysSince1970(year: number, month: number, day: number): number {
  const y = month <= 2 ? year - 1 : year;
  const monthFromMarch = (month + 9) % 12;
  const dayOfYear = Math.floor((153 * monthFromMarch + 2) / 5) + day - 1;
  const leapDays = Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400);
  return 365 * y + leapDays + dayOfYear - 719_468;
}
