import { ok, problem, type Result } from '../result.ts';
import { commaDecimals } from './ascii-grid-header.ts';
import type { ByteSource } from './byte-source.ts';
import { readTableShape, type TableShape } from './csv.ts';
import { readLines } from './lines.ts';
import type { Reading } from './opening.ts';
import type { PointColumns } from './point-columns.ts';
import { PointRow } from './point-row.ts';

const HEAD_BYTES = 1 << 16;
/** 24 bytes a point: about half a gigabyte. */
const MOST_POINTS = 20_000_000;

/** Points in the file's own coordinates and units, in file order. */
export interface PointSet {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** Rows passed over because a field of theirs was blank. */
  readonly blankRows: number;
}

/** Layout of a point file from its first 64 kB. */
export async function openPoints(source: ByteSource): Promise<Result<TableShape>> {
  const bytes = await source.read(0, HEAD_BYTES);
  const text = new TextDecoder('utf-8').decode(bytes);
  // The last line may be cut in the middle of a number.
  const end =
    bytes.length < source.size
      ? Math.max(text.lastIndexOf('\n'), text.lastIndexOf('\r'))
      : text.length;
  return readTableShape(source.name, text.slice(0, Math.max(0, end)));
}

/**
 * Reads three columns of a table of points in one pass of 1 MB pieces.
 * Rows where one of the three is blank are passed over and counted; a text where a number belongs,
 * a row with too few fields or a decimal comma is a problem that names its line.
 * Never throws but what `source.read` throws, and RangeError for a column below 0.
 */
export async function readPoints(
  source: ByteSource,
  shape: TableShape,
  columns: PointColumns,
  reading: Reading = {},
): Promise<Result<PointSet>> {
  const { x, y, z } = columns;
  if (Math.min(x, y, z) < 0) throw new RangeError(`columns ${x}, ${y}, ${z}`);
  if (Math.max(x, y, z) >= shape.columnCount || x === y || y === z || x === z) {
    const what = `The table has ${shape.columnCount} columns; three different ones are needed.`;
    return problem(
      'table-columns',
      what,
      'Choose the columns of easting, northing and height again.',
      source.name,
    );
  }
  const points = new PointStore();
  const row = new PointRow(shape, columns);
  const read = await readLines(
    source,
    {
      doing: 'Reading the points',
      take(bytes, from, to, line, isQuoted) {
        if (line < shape.firstDataLine) return null;
        const fault = row.read(bytes, from, to, isQuoted);
        if (fault !== null) return badRow(source, fault, line);
        return row.passedOver || points.add(row.values) ? null : tooMany(source);
      },
      tooLong: (line) => badRow(source, 'is longer than a million letters', line),
    },
    reading,
  );
  if (!read.ok) return read;
  if (points.count === 0) {
    return problem(
      'points-none',
      'The table holds no point.',
      'Export the points again.',
      source.name,
    );
  }
  return ok(points.finished(row.blankRows));
}

/** Columns that grow. */
class PointStore {
  count = 0;
  private x = new Float64Array(4096);
  private y = new Float64Array(4096);
  private z = new Float64Array(4096);

  add(values: Float64Array): boolean {
    if (this.count === MOST_POINTS) return false;
    if (this.count === this.x.length) {
      const size = Math.min(MOST_POINTS, this.count * 2);
      [this.x, this.y, this.z] = [grown(this.x, size), grown(this.y, size), grown(this.z, size)];
    }
    this.x[this.count] = values[0]!;
    this.y[this.count] = values[1]!;
    this.z[this.count++] = values[2]!;
    return true;
  }

  finished(blankRows: number): PointSet {
    const { count } = this;
    return {
      count,
      x: this.x.subarray(0, count),
      y: this.y.subarray(0, count),
      z: this.z.subarray(0, count),
      blankRows,
    };
  }
}

function grown(array: Float64Array<ArrayBuffer>, size: number): Float64Array<ArrayBuffer> {
  const larger = new Float64Array(size);
  larger.set(array);
  return larger;
}

function badRow(source: ByteSource, fault: string, line: number): Result<never> {
  if (/"[+-]?\d+,\d+"/.test(fault)) return commaDecimals(source.name);
  const isText = fault.startsWith('holds');
  return problem(
    'table-row',
    `Line ${line} ${fault.replace(/[^\x20-\x7e]/g, '?')}${isText ? ' where a number belongs' : ''}.`,
    'Correct that line in a text editor, or choose other columns.',
    source.name,
  );
}

function tooMany(source: ByteSource): Result<never> {
  return problem(
    'points-too-many',
    `The file holds more than ${MOST_POINTS / 1e6} million points.`,
    'Cut it to your ground, or thin it, or open the survey as a raster instead.',
    source.name,
  );
}
