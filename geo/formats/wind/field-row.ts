import { asciiText, parseNumber } from '../scan-numbers.ts';

const QUOTE = 34;

/**
 * The fields of one line, as places in its bytes, without a string. Fields may stand in double
 * quotes (RFC 4180, within the line); blanks round a field are left out.
 */
export class FieldRow {
  bytes: Uint8Array = new Uint8Array(0);
  from = 0;
  to = 0;
  count = 0;
  private starts = new Int32Array(256);
  private ends = new Int32Array(256);

  /** Takes a line apart at `delimiter`, up to and with field `last`; with null it stays whole. */
  split(bytes: Uint8Array, from: number, to: number, delimiter: number | null, last: number): void {
    this.bytes = bytes;
    this.from = from;
    this.to = to;
    this.count = 0;
    if (delimiter === null) return;
    if (last >= this.starts.length) {
      this.starts = new Int32Array(last + 1);
      this.ends = new Int32Array(last + 1);
    }
    let at = from;
    while (at <= to && this.count <= last) {
      while (at < to && isBlank(bytes[at]!) && bytes[at] !== delimiter) at++;
      let end: number;
      if (bytes[at] === QUOTE && at < to) {
        const start = ++at;
        // A doubled quote stays doubled: no field that is read here holds one.
        while (at < to && (bytes[at] !== QUOTE || bytes[at + 1] === QUOTE)) {
          at += bytes[at] === QUOTE ? 2 : 1;
        }
        end = Math.min(at, to);
        this.keep(start, end);
        while (at < to && bytes[at] !== delimiter) at++;
      } else {
        const start = at;
        while (at < to && bytes[at] !== delimiter) at++;
        end = at;
        this.keep(start, end);
      }
      at++;
    }
  }

  private keep(start: number, end: number): void {
    let last = end;
    while (last > start && isBlank(this.bytes[last - 1]!)) last--;
    let first = start;
    while (first < last && isBlank(this.bytes[first]!)) first++;
    this.starts[this.count] = first;
    this.ends[this.count++] = last;
  }

  start(field: number): number {
    return field >= 0 && field < this.count ? this.starts[field]! : 0;
  }

  end(field: number): number {
    return field >= 0 && field < this.count ? this.ends[field]! : 0;
  }

  length(field: number): number {
    return this.end(field) - this.start(field);
  }

  /** First letter's code, 0 for an empty field. */
  first(field: number): number {
    return this.length(field) > 0 ? this.bytes[this.start(field)]! : 0;
  }

  text(field: number): string {
    return asciiText(this.bytes, this.start(field), this.end(field));
  }

  /** A decimal number; NaN for an empty field and for what is no number. */
  number(field: number): number {
    return this.numberIn(this.start(field), this.end(field));
  }

  /** The same for places in the bytes, blanks round it left out. */
  numberIn(from: number, to: number): number {
    while (from < to && isBlank(this.bytes[from]!)) from++;
    while (to > from && isBlank(this.bytes[to - 1]!)) to--;
    if (to <= from) return NaN;
    const value = parseNumber(this.bytes, from, to);
    return value === Infinity ? NaN : value;
  }

  /** Unsigned digits only, NaN for anything else: fixed-width codes such as `0093`. */
  digitsIn(from: number, to: number): number {
    if (to <= from || to > this.to) return NaN;
    let value = 0;
    for (let at = from; at < to; at++) {
      const digit = this.bytes[at]! - 48;
      if (digit < 0 || digit > 9) return NaN;
      value = value * 10 + digit;
    }
    return value;
  }
}

const isBlank = (byte: number) => byte === 32 || byte === 9;
