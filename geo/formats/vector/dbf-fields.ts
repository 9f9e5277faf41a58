import { plainAttribute, type OutFeature } from './out-feature.ts';

/** One column of a dBase table to be written. */
export interface DbfField {
  /** At most ten ASCII characters, no two alike. */
  readonly name: string;
  readonly type: 'C' | 'N';
  readonly length: number;
  readonly decimals: number;
  /** Value of each row, padded text; blank where there is none. */
  readonly values: readonly string[];
}

/** What a text field of dBase can hold. */
const MOST_BYTES = 254;

/**
 * Columns of a table of features: name, description where there is one, then the attributes in the
 * order in which they first stand. A column of numbers alone becomes numeric, everything else text;
 * texts are cut at 254 bytes of UTF-8, between letters.
 */
export function dbfFields(features: readonly OutFeature[]): DbfField[] {
  const columns = new Map<string, (string | number | null)[]>();
  const put = (column: string, row: number, value: string | number) => {
    const values = columns.get(column) ?? features.map(() => null);
    values[row] = value;
    columns.set(column, values);
  };
  features.forEach((feature, row) => {
    put('name', row, feature.name);
    if (feature.description !== '') put('descript', row, feature.description);
    for (const [key, value] of Object.entries(feature.attributes)) {
      if (value !== null && value !== undefined && key !== 'name') {
        put(key, row, plainAttribute(value));
      }
    }
  });
  // A dBase header holds 255 columns of at most 64 kB a row together.
  const chosen = [...columns].slice(0, 200);
  const names = shortNames(chosen.map(([column]) => column));
  return chosen.map(([, values], i) => fieldOf(names[i], values));
}

/**
 * Column names of at most ten ASCII letters, digits and underscores, no two alike. A longer name
 * keeps its beginning; a second of the same beginning ends in its number.
 */
export function shortNames(columns: readonly string[]): string[] {
  const taken = new Set<string>();
  return columns.map((column) => {
    const plain = column.replace(/[^A-Za-z0-9_]/g, '_').replace(/^(?![A-Za-z])/, 'f') || 'field';
    let name = plain.slice(0, 10);
    for (let n = 2; taken.has(name.toLowerCase()); n++) {
      name = `${plain.slice(0, 10 - String(n).length)}${n}`;
    }
    taken.add(name.toLowerCase());
    return name;
  });
}

function fieldOf(name: string, values: readonly (string | number | null)[]): DbfField {
  const known = values.filter((value) => value !== null);
  if (known.every((value) => typeof value === 'number') && known.length > 0) {
    const texts = values.map((value) => (value === null ? '' : numberText(value as number)));
    const decimals = Math.max(...texts.map((text) => (text.split('.')[1] ?? '').length));
    const fixed = values.map((value) =>
      value === null ? '' : fixedText(value as number, Math.min(decimals, 15)),
    );
    const length = Math.max(1, ...fixed.map((text) => text.length));
    if (length <= 20) {
      return { name, type: 'N', length, decimals: Math.min(decimals, 15), values: fixed };
    }
  }
  const texts = values.map((value) => (value === null ? '' : cutText(String(value))));
  const length = Math.max(1, ...texts.map((text) => new TextEncoder().encode(text).length));
  return { name, type: 'C', length, decimals: 0, values: texts };
}

/** Shortest decimal text of a number, without an exponent where it has few digits. */
function numberText(value: number): string {
  const text = String(value);
  return /e/i.test(text) ? value.toFixed(15).replace(/\.?0+$/, '') : text;
}

function fixedText(value: number, decimals: number): string {
  return Math.abs(value) < 1e15 ? value.toFixed(decimals) : String(value);
}

function cutText(text: string): string {
  const bytes = new TextEncoder().encode(text.replace(/[\0\r\n\t]+/g, ' '));
  if (bytes.length <= MOST_BYTES) return new TextDecoder().decode(bytes);
  let end = MOST_BYTES;
  // A letter of several bytes is left out whole.
  while ((bytes[end] & 0xc0) === 0x80) end--;
  return new TextDecoder().decode(bytes.subarray(0, end));
}
