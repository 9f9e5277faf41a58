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
 * `scan` is filled in place. Throws nothing: what is no number stops the scan with `badAt`.
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
  let count = 0;
  let at = start;
  scan.badAt = -1;
  while (count < out.length) {
    while (at < end && bytes[at]! <= 32) at++;
    const begin = at;
    while (at < end && bytes[at]! > 32) at++;
    if (at >= end && (begin === at || !isLast)) {
      at = begin;
      break;
    }
    const value = parseNumber(bytes, begin, at);
    if (value === Infinity) {
      scan.badAt = begin;
      at = begin;
      break;
    }
    out[count++] = value;
  }
  scan.count = count;
  scan.at = at;
}

/**
 * One decimal number in `bytes[from, to)`; NaN for the usual NaN words, Infinity for what is no
 * number (or one too large to be one). Up to 15 digits it is the nearest double (W. D. Clinger, "How
 * to read floating point numbers accurately", 1990, fast case); with more within 3 units in the last
 * place. No allocation but for exponents and words.
 * Example: the bytes of `-412.5` give -412.5.
 */
export function parseNumber(bytes: Uint8Array, from: number, to: number): number {
  let at = from;
  const negative = bytes[at] === 45;
  if (negative || bytes[at] === 43) at++;
  let high = 0;
  let low = 0;
  let digits = 0;
  let lowDigits = 0;
  let whole = -1;
  const first = at;
  for (; at < to; at++) {
    const byte = bytes[at]!;
    if (byte >= 48 && byte <= 57) {
      // A leading zero takes no room in the mantissa.
      if (digits < 15) high = high * 10 + (byte - 48);
      else {
        low = low * 10 + (byte - 48);
        lowDigits++;
      }
      if (high !== 0) digits++;
    } else if (byte === 46 && whole < 0) whole = at;
    else return slowNumber(bytes, from, to);
  }
  const fraction = whole < 0 ? 0 : to - whole - 1;
  const hasDigit = to - first > (whole < 0 ? 0 : 1);
  if (!hasDigit || fraction > 22 || lowDigits > 15) return slowNumber(bytes, from, to);
  let value = lowDigits === 0 ? high : high * POWER[lowDigits]! + low;
  if (fraction > 0) value /= POWER[fraction]!;
  return negative ? -value : value;
}

function slowNumber(bytes: Uint8Array, from: number, to: number): number {
  if (to - from > 64) return Infinity;
  const text = asciiText(bytes, from, to);
  if (/^[+-]?(\d+\.?\d*|\.\d+)([eEdD][+-]?\d+)?$/.test(text)) {
    const value = Number(text.replace(/[dD]/, 'e'));
    return Number.isFinite(value) ? value : Infinity;
  }
  return NOT_A_NUMBER.has(text.toLowerCase()) ? NaN : Infinity;
}

/** Bytes as text, one character a byte; for short pieces. */
export function asciiText(bytes: Uint8Array, from: number, to: number): string {
  let text = '';
  for (let i = from; i < to; i++) text += String.fromCharCode(bytes[i]!);
  return text;
}
