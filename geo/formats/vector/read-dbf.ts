import type { Work } from '../../work.ts';
import { encodingFromCpg, encodingFromDriver, guessEncoding } from './dbf-encoding.ts';

export interface DbfTable {
  /** Row by row; null where the record is marked as deleted. */
  readonly rows: readonly (readonly (readonly [string, string | number])[] | null)[];
  readonly notes: readonly string[];
}

interface Field {
  readonly name: string;
  readonly type: string;
  readonly at: number;
  readonly length: number;
}

const ROWS_BETWEEN = 1000;

/**
 * Reads a dBase III or IV table as it stands beside a shapefile (ESRI Shapefile Technical
 * Description, 1998, and the dBase file format): texts, numbers, dates as YYYY-MM-DD, logicals as
 * yes or no; blank and starred fields are left out, memo fields not read. A table that is cut gives
 * its whole records, one that makes no sense none, each with a note. Never throws.
 * @param cpg text of the .cpg beside it, null where there is none
 */
export function* readDbf(bytes: Uint8Array, cpg: string | null, file: string): Work<DbfTable> {
  const notes: string[] = [];
  const fail = (why: string): DbfTable => ({
    rows: [],
    notes: [`${file}: ${why} The shapes come without their attributes.`],
  });
  if (bytes.length < 33) return fail('The table is empty.');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const promised = view.getUint32(4, true);
  const headerLength = view.getUint16(8, true);
  const recordLength = view.getUint16(10, true);
  const raw = readFields(bytes, headerLength);
  const width = raw.reduce((sum, field) => sum + field.length, 1);
  if (raw.length === 0 || width > recordLength || headerLength > bytes.length) {
    return fail('The table is damaged.');
  }
  const whole = Math.floor((bytes.length - headerLength) / recordLength);
  const count = Math.min(promised, whole);
  if (whole < promised) {
    notes.push(
      `${file}: the table breaks off; ${promised - whole} of its ${promised} rows are missing.`,
    );
  }
  const stated = cpg === null ? null : encodingFromCpg(cpg);
  if (cpg !== null && stated === null) {
    notes.push(`${file}: the encoding "${cpg.trim().slice(0, 20)}" is not known and was guessed.`);
  }
  const texts = textFields(bytes, raw, headerLength, recordLength, Math.min(count, 2000));
  const encoding = stated ?? encodingFromDriver(bytes[29]) ?? guessEncoding(texts);
  const decoder = new TextDecoder(encoding);
  const fields = nameFields(bytes, raw, decoder);
  const rows: ((readonly [string, string | number])[] | null)[] = [];
  for (let i = 0; i < count; i++) {
    const start = headerLength + i * recordLength;
    rows.push(bytes[start] === 0x2a ? null : readRow(bytes, start, fields, decoder));
    if (i % ROWS_BETWEEN === ROWS_BETWEEN - 1) yield { share: i / count, doing: `Reading ${file}` };
  }
  return { rows, notes };
}

/** Field descriptors of 32 bytes up to the mark 0x0D; the name stays bytes until the encoding is known. */
function readFields(bytes: Uint8Array, headerLength: number): Omit<Field, 'name'>[] {
  const fields: Omit<Field, 'name'>[] = [];
  const end = Math.min(headerLength, bytes.length);
  for (let at = 32; at + 32 <= end && bytes[at] !== 0x0d && fields.length < 1024; at += 32) {
    fields.push({ at, type: String.fromCharCode(bytes[at + 11]), length: bytes[at + 16] });
  }
  return fields;
}

function nameFields(
  bytes: Uint8Array,
  raw: readonly Omit<Field, 'name'>[],
  decoder: TextDecoder,
): Field[] {
  let offset = 1;
  return raw.map(({ at, type, length }, i) => {
    const nameBytes = bytes.subarray(at, at + 11);
    const zero = nameBytes.indexOf(0);
    const name = textOf(zero < 0 ? nameBytes : nameBytes.subarray(0, zero), decoder).trim();
    const field = { name: name || `field ${i + 1}`, type, at: offset, length };
    offset += length;
    return field;
  });
}

function* textFields(
  bytes: Uint8Array,
  raw: readonly Omit<Field, 'name'>[],
  headerLength: number,
  recordLength: number,
  count: number,
): Iterable<Uint8Array> {
  for (let i = 0; i < count; i++) {
    let at = headerLength + i * recordLength + 1;
    for (const { type, length } of raw) {
      if (type === 'C') yield bytes.subarray(at, at + length);
      at += length;
    }
  }
}

function readRow(
  bytes: Uint8Array,
  start: number,
  fields: readonly Field[],
  decoder: TextDecoder,
): (readonly [string, string | number])[] {
  const row: (readonly [string, string | number])[] = [];
  for (const { name, type, at, length } of fields) {
    const text = textOf(bytes.subarray(start + at, start + at + length), decoder);
    const value = valueOf(type, text);
    if (value !== null) row.push([name, value]);
  }
  return row;
}

function valueOf(type: string, padded: string): string | number | null {
  const text = padded.replaceAll('\0', ' ').trim();
  if (text === '') return null;
  switch (type) {
    case 'N':
    case 'F': {
      const value = Number(text);
      if (text[0] === '*' || !Number.isFinite(value)) return null;
      // Whole numbers beyond 2^53 would lose digits.
      return Number.isInteger(value) && !Number.isSafeInteger(value) ? text : value;
    }
    case 'D':
      return /^\d{8}$/.test(text)
        ? text === '00000000'
          ? null
          : `${text.slice(0, 4)}-${text.slice(4, 6)}-${text.slice(6)}`
        : null;
    case 'L':
      return /^[TtYy]$/.test(text) ? 'yes' : /^[FfNn]$/.test(text) ? 'no' : null;
    case 'C':
      return text;
    default:
      // Memos stand in another file, the rest is binary.
      return null;
  }
}

/** Most fields are plain ASCII, which needs no decoder. */
function textOf(bytes: Uint8Array, decoder: TextDecoder): string {
  for (let i = 0; i < bytes.length; i++) if (bytes[i] > 127) return decoder.decode(bytes);
  return String.fromCharCode(...bytes);
}
