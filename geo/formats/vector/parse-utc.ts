const TIME =
  /^(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d):(\d\d)(?::(\d\d(?:\.\d{1,9})?))?)?(Z|[+-]\d\d:?\d\d)?$/;

/**
 * Milliseconds since 1970 of an ISO 8601 time as GPX and KML write it; a time without a zone counts
 * as UTC, as GPX 1.1 says. NaN where it is none.
 * Example: 2024-03-19T15:04:05Z gives 1710860645000.
 */
export function parseUtc(text: string): number {
  const match = TIME.exec(text);
  if (!match) return Number.NaN;
  const [, year, month, day, hour = '0', minute = '0', second = '0', zone = 'Z'] = match;
  const seconds = Number(second);
  const utc =
    Date.UTC(+year, +month - 1, +day, +hour, +minute, Math.floor(seconds)) +
    Math.round((seconds % 1) * 1000);
  if (zone === 'Z') return utc;
  const [, sign, hours, minutes] = /([+-])(\d\d):?(\d\d)/.exec(zone)!;
  return utc - (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) * 60_000;
}
