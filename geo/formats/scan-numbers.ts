/** Powers of ten that a double holds exactly (IEEE 754 binary64). */
const POWER = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));
/** Texts that writers use for "no number here", lower case. */
const NOT_A_NUMBER = new Set([
  'nan',
  '-nan',
  '+nan',
  'nan(ind)',
  '-nan(ind)',
  '1.#qnan',
  '-1.#ind',
]);

export interface NumberScan {
  /** Numbers written to `out` in this call. */
  count: number;
  /** Where the next call goes on: the byte after the last whole number. */
  at: number;
  /** Where the first text that is no number begins, or -1. */
  badAt: number;
}

/**
 * Numbers in ASCII text, split by blanks, tabs and line ends, straight from bytes without a string.
 * A number that touches `end` may go on in the next chunk: it is left unread unless `isLast`.
 * Up to 15 digits the nearest double (W. D. Clinger, "How to read floating point numbers
 * accurately", 1990, fast case); with more digits within 3 units in the last place. NaN texts give
 * NaN. `scan` is filled in place; no allocation but for texts that are no plain decimal.
 * Throws nothing: what is no number stops the scan with `badAt`.
 * Example: `12.5 -3e2` gives 12.5 and -300.
 */
export function scanNumbers(
  bytes: Uint8Array,
  start: number,
  end: number,
  isLast: boolean,
  out: Float64Array,
  scan: NumberScan,
): void {
  const room = out.length;
  let count = 0;
  let at = start;
  scan.badAt = -1;
  while (count < room) {
    while (at < end && bytes[at]! <= 32) at++;
    if (at >= end) break;
    const begin = at;
    let byte = bytes[at]!;
    const negative = byte === 45;
    if (negative || byte === 43) byte = ++at < end ? bytes[at]! : 0;
    let high = 0;
    let low = 0;
    let lowDigits = 0;
    let digits = 0;
    let fraction = 0;
    let pointSeen = false;
    let digitSeen = false;
    for (;;) {
      if (byte >= 48 && byte <= 57) {
        if (digits < 15) high = high * 10 + (byte - 48);
        else {
          low = low * 10 + (byte - 48);
          lowDigits++;
        }
        // A leading zero takes no room in the mantissa, but counts after the point.
        if (high !== 0) digits++;
        if (pointSeen) fraction++;
        digitSeen = true;
      } else if (byte === 46 && !pointSeen) pointSeen = true;
      else break;
      at++;
      if (at >= end) break;
      byte = bytes[at]!;
    }
    const plain = at >= end || byte <= 32;
    if (plain && digitSeen && fraction <= 22 && lowDigits <= 15) {
      if (at >= end && !isLast) {
        at = begin;
        break;
      }
      let value = lowDigits === 0 ? high : high * POWER[lowDigits]! + low;
      if (fraction > 0) value /= POWER[fraction]!;
      out[count++] = negative ? -value : value;
      continue;
    }
    while (at < end && bytes[at]! > 32) at++;
    if (at >= end && !isLast && at - begin < 64) {
      at = begin;
      break;
    }
    const value = slowNumber(bytes, begin, at);
    if (value === undefined) {
      scan.badAt = begin;
      at = begin;
      break;
    }
    out[count++] = value;
  }
  scan.count = count;
  scan.at = at;
}

/** A text with an exponent, many digits or a NaN word; undefined when it is no number. */
function slowNumber(bytes: Uint8Array, from: number, to: number): number | undefined {
  if (to - from > 64) return undefined;
  const text = asciiText(bytes, from, to);
  if (/^[+-]?(\d+\.?\d*|\.\d+)([eEdD][+-]?\d+)?$/.test(text)) {
    return Number(text.replace(/[dD]/, 'e'));
  }
  return NOT_A_NUMBER.has(text.toLowerCase()) ? NaN : undefined;
}

/** Bytes as text, one character a byte; for short pieces. */
export function asciiText(bytes: Uint8Array, from: number, to: number): string {
  let text = '';
  for (let i = from; i < to; i++) text += String.fromCharCode(bytes[i]!);
  return text;
}
