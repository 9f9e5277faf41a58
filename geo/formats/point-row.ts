import { isPassedOver, splitFields, type TableShape } from './csv.ts';
import type { PointColumns } from './point-columns.ts';
import { asciiText, parseNumber } from './scan-numbers.ts';

/** Takes x, y and z of one line at a time out of bytes. */
export class PointRow {
  /** x, y and z of the line read last. */
  readonly values = new Float64Array(3);
  passedOver = false;
  blankRows = 0;
  private readonly last: number;
  private readonly delimiter: number;
  private readonly shape: TableShape;
  private readonly columns: PointColumns;

  constructor(shape: TableShape, columns: PointColumns) {
    this.shape = shape;
    this.columns = columns;
    this.last = Math.max(columns.x, columns.y, columns.z);
    this.delimiter = shape.delimiter.charCodeAt(0);
  }

  /** What is wrong with the line, or null. */
  read(bytes: Uint8Array, from: number, to: number, quoted: boolean): string | null {
    let at = from;
    while (at < to && isBlank(bytes[at]!)) at++;
    this.passedOver = at === to || bytes[at] === 35 || (bytes[at] === 47 && bytes[at + 1] === 47);
    if (this.passedOver) return null;
    if (quoted) return this.readQuoted(bytes, from, to);
    const { columns, delimiter, last } = this;
    at = from;
    for (let column = 0; column <= last; column++) {
      if (at > to || (delimiter === 32 && at >= to)) return `has fewer than ${last + 1} fields`;
      while (at < to && isBlank(bytes[at]!) && bytes[at] !== delimiter) at++;
      if (delimiter === 32) while (at < to && isBlank(bytes[at]!)) at++;
      let end = at;
      if (delimiter === 32) while (end < to && !isBlank(bytes[end]!)) end++;
      else while (end < to && bytes[end] !== delimiter) end++;
      if (column === columns.x || column === columns.y || column === columns.z) {
        const fault = this.take(bytes, at, end, column);
        if (fault !== null || this.passedOver) return fault;
      }
      at = end + 1;
    }
    return null;
  }

  private take(bytes: Uint8Array, from: number, to: number, column: number): string | null {
    let end = to;
    while (end > from && isBlank(bytes[end - 1]!)) end--;
    const value = end === from ? NaN : parseNumber(bytes, from, end);
    if (value === Infinity) return `holds "${asciiText(bytes, from, Math.min(end, from + 24))}"`;
    if (Number.isNaN(value)) {
      this.passedOver = true;
      this.blankRows++;
    } else {
      this.values[column === this.columns.x ? 0 : column === this.columns.y ? 1 : 2] = value;
    }
    return null;
  }

  private readQuoted(bytes: Uint8Array, from: number, to: number): string | null {
    const text = asciiText(bytes, from, to);
    if (isPassedOver(text)) return null;
    const fields = splitFields(text, this.shape.delimiter);
    if (fields.length <= this.last) return `has fewer than ${this.last + 1} fields`;
    for (const column of [this.columns.x, this.columns.y, this.columns.z]) {
      const field = new TextEncoder().encode(fields[column]!);
      const fault = this.take(field, 0, field.length, column);
      if (fault !== null || this.passedOver) return fault;
    }
    return null;
  }
}

const isBlank = (byte: number) => byte === 32 || byte === 9;
