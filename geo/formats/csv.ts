import { ok, problem, type Result } from '../result.ts';
import { commaDecimals } from './ascii-grid-header.ts';
import { linesOf } from './lines.ts';

export type Delimiter = ',' | ';' | '\t' | '|' | ' ';

/** How a text table is laid out, from its head. */
export interface TableShape {
  readonly delimiter: Delimiter;
  /** The file's own column names, or null where it has none. */
  readonly names: readonly string[] | null;
  readonly columnCount: number;
  /** Up to 20 rows of data, as text. */
  readonly rows: readonly (readonly string[])[];
  /** Line of the first row of data, from 1. */
  readonly firstDataLine: number;
}

const DELIMITERS: readonly Delimiter[] = ['\t', ';', '|', ',', ' '];
const SAMPLE_LINES = 60;
const PREAMBLE_LINES = 20;
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

export const isNumberText = (text: string): boolean => NUMBER.test(text);

/** The same, or with a comma for the point: only for fields that a comma does not part. */
const isCommaNumber = (text: string) => /^[+-]?\d+,\d+$/.test(text) || isNumberText(text);

/**
 * Finds delimiter, header and rows of a table that holds at least `leastNumbers` columns of numbers.
 * Lines that begin with `#` or `//` and empty lines are passed over; up to 20 lines may stand before
 * the data. The delimiter is the one that gives most columns of numbers, ties in the order tab,
 * semicolon, bar, comma, blank.
 * @param head text of the first lines; a last line that may be cut must be left off by the caller
 * @param takesCommas whether decimal commas are numbers where the delimiter is no comma; else a problem
 * Never throws. Example: `x;y;z` over `1;2;3` gives delimiter `;` and names x, y, z.
 */
export function readTableShape(
  name: string,
  head: string,
  leastNumbers = 3,
  takesCommas = false,
): Result<TableShape> {
  const lines = linesOf(head);
  let best: { shape: TableShape; numbers: number } | null = null;
  for (const delimiter of DELIMITERS) {
    const isNumber = takesCommas && delimiter !== ',' ? isCommaNumber : isNumberText;
    const shape = shapeWith(delimiter, lines, leastNumbers, isNumber);
    const numbers = shape === null ? 0 : numberColumns(shape.rows, isNumber).length;
    if (shape !== null && numbers >= leastNumbers && numbers > (best?.numbers ?? 0)) {
      best = { shape, numbers };
    }
  }
  if (best) return ok(best.shape);
  for (const delimiter of DELIMITERS.filter((d) => d !== ',')) {
    if (shapeWith(delimiter, lines, leastNumbers, isCommaNumber)) return commaDecimals(name);
  }
  return problem(
    'table-no-columns',
    `The file holds no table with ${leastNumbers} columns of numbers.`,
    'Save the points as text with one point a line: easting, northing, height.',
    name,
  );
}

/** Columns that hold numbers in at least nine of ten rows (blank fields left out). */
export function numberColumns(
  rows: readonly (readonly string[])[],
  isNumber: (text: string) => boolean = isNumberText,
): number[] {
  const columns: number[] = [];
  const width = Math.max(0, ...rows.map((row) => row.length));
  for (let column = 0; column < width; column++) {
    const filled = rows.map((row) => row[column] ?? '').filter((text) => text !== '');
    const numbers = filled.filter(isNumber).length;
    if (numbers > 0 && numbers >= 0.9 * filled.length) columns.push(column);
  }
  return columns;
}

function shapeWith(
  delimiter: Delimiter,
  lines: readonly string[],
  leastNumbers: number,
  isNumber: (text: string) => boolean,
): TableShape | null {
  let names: string[] | null = null;
  let columnCount = 0;
  let firstDataLine = 0;
  let before = 0;
  const rows: string[][] = [];
  for (let i = 0; i < lines.length && rows.length < SAMPLE_LINES; i++) {
    const line = lines[i]!;
    if (isPassedOver(line)) continue;
    const fields = splitFields(line, delimiter);
    if (rows.length === 0) {
      if (fields.filter(isNumber).length < leastNumbers) {
        names = fields;
        if (++before > PREAMBLE_LINES) return null;
        continue;
      }
      columnCount = fields.length;
      firstDataLine = i + 1;
    }
    rows.push(fields);
  }
  const fit = rows.filter((row) => row.length === columnCount).length;
  if (rows.length === 0 || fit < 0.9 * rows.length) return null;
  if (names !== null && (names.length !== columnCount || names.some(isNumberText))) names = null;
  return { delimiter, names, columnCount, rows: rows.slice(0, 20), firstDataLine };
}

/** Empty lines and remarks. */
export const isPassedOver = (line: string): boolean => /^\s*($|#|\/\/)/.test(line);

/**
 * Fields of one line, trimmed (RFC 4180 quoting within the line: a doubled quote is a quote).
 * Blanks as delimiter count as one however many stand together.
 */
export function splitFields(line: string, delimiter: Delimiter): string[] {
  if (!line.includes('"')) {
    if (delimiter === ' ') return line.trim().split(/\s+/);
    return line.split(delimiter).map((field) => field.trim());
  }
  const fields: string[] = [];
  let field = '';
  let quoted = false;
  for (let i = 0; i < line.length; i++) {
    const letter = line[i]!;
    if (quoted) {
      if (letter !== '"') field += letter;
      else if (line[i + 1] === '"') {
        field += '"';
        i++;
      } else quoted = false;
    } else if (letter === '"') quoted = true;
    else if (letter === delimiter || (delimiter === ' ' && letter === '\t')) {
      if (delimiter !== ' ' || field !== '') fields.push(field.trim());
      field = '';
    } else field += letter;
  }
  if (delimiter !== ' ' || field !== '') fields.push(field.trim());
  return fields;
}
