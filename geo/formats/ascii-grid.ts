import { ok, problem, type Result } from '../result.ts';
import { commaDecimals, readAsciiGridHeader, type AsciiGridHeader } from './ascii-grid-header.ts';
import type { ByteSource } from './byte-source.ts';
import type { PixelWindow, Reading } from './opening.ts';
import { asciiText, scanNumbers, type NumberScan } from './scan-numbers.ts';

const CHUNK_BYTES = 1 << 20;
const BATCH = 1 << 15;
/** No height on Earth, in any foot, comes near this: larger is a stand-in for no data. */
const LARGEST_HEIGHT = 1e30;

/** Every `step`-th cell of a window, from its upper left corner. */
export interface CellPick extends PixelWindow {
  readonly step: number;
}

/** Head of an ESRI ASCII grid file. Never throws but what `source.read` throws. */
export async function openAsciiGrid(source: ByteSource): Promise<Result<AsciiGridHeader>> {
  const header = readAsciiGridHeader(source.name, await source.read(0, 4096));
  if (!header.ok) return header;
  const { width, height, dataOffset } = header.value;
  // A number and the blank after it take two bytes at least: a false head is told before memory is taken.
  if (width * height * 2 - 1 > source.size - dataOffset) return wrongCount(source, header.value);
  return header;
}

/**
 * Reads the numbers of an ESRI ASCII grid in one pass of 1 MB pieces; lines may break anywhere.
 * @param pick the part to keep; the whole is read in any case, to count its numbers
 * @returns row-major float32, row 0 north, in the file's own height unit; the no-data number, NaN
 *   texts and values beyond 1e30 become NaN
 * Never throws but what `source.read` throws; too few or too many numbers, decimal commas and texts
 * are problems, and nothing half-read comes back.
 */
export async function readAsciiGrid(
  source: ByteSource,
  header: AsciiGridHeader,
  pick: CellPick,
  reading: Reading = {},
): Promise<Result<Float32Array>> {
  const cells = header.width * header.height;
  const data = new Float32Array(
    Math.ceil(pick.width / pick.step) * Math.ceil(pick.height / pick.step),
  );
  const batch = new Float64Array(BATCH);
  const scan: NumberScan = { count: 0, at: 0, badAt: -1 };
  const keep = pick.step === 1 && pick.width * pick.height === cells ? keepAll : keepPicked;
  let done = 0;
  let position = header.dataOffset;
  while (position < source.size) {
    if (reading.shouldStop?.()) return stopped(source);
    const bytes = await source.read(position, CHUNK_BYTES);
    if (bytes.length === 0) break;
    const isLast = position + bytes.length >= source.size;
    let at = 0;
    do {
      scanNumbers(bytes, at, bytes.length, isLast, batch, scan);
      if (scan.badAt >= 0) return badText(source, bytes, scan.badAt, header, done + scan.count);
      if (done + scan.count > cells) return wrongCount(source, header);
      keep(batch, scan.count, header, pick, done, data);
      done += scan.count;
      at = scan.at;
    } while (scan.count === BATCH);
    if (at === 0) break;
    position += at;
    await reading.onProgress?.({ share: position / source.size, doing: 'Reading the grid' });
  }
  return done === cells ? ok(data) : wrongCount(source, header, done);
}

function keepAll(
  batch: Float64Array,
  count: number,
  header: AsciiGridHeader,
  _pick: CellPick,
  first: number,
  data: Float32Array,
): void {
  const nodata = Math.fround(header.nodata);
  for (let i = 0; i < count; i++) {
    const value = batch[i]!;
    data[first + i] = isData(value, nodata) ? value : NaN;
  }
}

function keepPicked(
  batch: Float64Array,
  count: number,
  header: AsciiGridHeader,
  pick: CellPick,
  first: number,
  data: Float32Array,
): void {
  const nodata = Math.fround(header.nodata);
  const outWidth = Math.ceil(pick.width / pick.step);
  let column = first % header.width;
  let row = (first - column) / header.width;
  for (let i = 0; i < count; i++) {
    const x = column - pick.column;
    const y = row - pick.row;
    if (
      x >= 0 &&
      y >= 0 &&
      x < pick.width &&
      y < pick.height &&
      x % pick.step === 0 &&
      y % pick.step === 0
    ) {
      const value = batch[i]!;
      data[(y / pick.step) * outWidth + x / pick.step] = isData(value, nodata) ? value : NaN;
    }
    if (++column === header.width) {
      column = 0;
      row++;
    }
  }
}

const isData = (value: number, nodata: number) =>
  Math.fround(value) !== nodata && value < LARGEST_HEIGHT && value > -LARGEST_HEIGHT;

function badText(
  source: ByteSource,
  bytes: Uint8Array,
  at: number,
  header: AsciiGridHeader,
  index: number,
): Result<never> {
  let end = at;
  while (end < bytes.length && bytes[end]! > 32 && end - at < 24) end++;
  const text = asciiText(bytes, at, end);
  if (/^[+-]?\d+,\d+$/.test(text)) return commaDecimals(source.name);
  const shown = text.replace(/[^\x21-\x7e]/g, '?');
  if (index >= header.width * header.height) return wrongCount(source, header);
  const row = Math.floor(index / header.width) + 1;
  return problem(
    'ascii-grid-text',
    `Row ${row} of the grid holds "${shown}", which is no number.`,
    'Open the file in a text editor and correct it, or export it again.',
    source.name,
  );
}

function wrongCount(source: ByteSource, header: AsciiGridHeader, found?: number): Result<never> {
  const promised = `${header.width} × ${header.height} = ${header.width * header.height}`;
  const held = found === undefined ? 'does not hold that many' : `holds ${found}`;
  return problem(
    'ascii-grid-count',
    `The grid promises ${promised} numbers and ${held}.`,
    'The file was cut short or damaged: download or export it again.',
    source.name,
  );
}

/** The user stopped it: nothing is kept. */
export function stopped(source: ByteSource): Result<never> {
  return problem(
    'stopped',
    'Reading was stopped.',
    'Open the file again when you want it.',
    source.name,
  );
}
