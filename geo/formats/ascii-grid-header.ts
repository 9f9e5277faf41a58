import { ok, problem, type Result } from '../result.ts';
import { asciiText } from './scan-numbers.ts';

/** Head of an ESRI ASCII grid, in the file's own coordinates and units. */
export interface AsciiGridHeader {
  readonly width: number;
  readonly height: number;
  /** Outer edges of the first column and of the first (northern) row. */
  readonly west: number;
  readonly north: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
  /** Number that stands for no data; -9999 where the file does not say, which is the format's own rule. */
  readonly nodata: number;
  readonly nodataIsStated: boolean;
  /** Byte where the numbers begin. */
  readonly dataOffset: number;
}

const KEYS = new Set([
  'ncols',
  'nrows',
  'xllcorner',
  'yllcorner',
  'xllcenter',
  'yllcenter',
  'cellsize',
  'dx',
  'dy',
  'nodata_value',
  'nodata',
  'byteorder',
]);
const MORE =
  'Save it again as an ESRI ASCII grid with ncols, nrows, xllcorner, yllcorner and cellsize on top.';

/** Whether a file that begins so is meant as an ESRI ASCII grid. */
export function looksLikeAsciiGrid(head: Uint8Array): boolean {
  const from = head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf ? 3 : 0;
  const text = asciiText(head, from, Math.min(head.length, from + 200));
  const first = /^\s*([a-z_]+)\s/i.exec(text)?.[1]?.toLowerCase();
  return first !== undefined && KEYS.has(first);
}

/**
 * Reads the head of an ESRI ASCII grid (layout: ESRI ArcGIS help, "Esri ASCII raster format"):
 * keys in any order and case, corner or centre origin, `cellsize` or `dx` and `dy`.
 * @param head the first bytes of the file, at least 4 kB unless the file is shorter
 * Never throws; what the user can cause comes back as a problem.
 * Example: xllcenter 10, cellsize 2 gives west 9.
 */
export function readAsciiGridHeader(name: string, head: Uint8Array): Result<AsciiGridHeader> {
  const found = new Map<string, number>();
  let at = head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf ? 3 : 0;
  for (;;) {
    const key = word(head, at);
    const lower = key.text.toLowerCase();
    if (!/^[a-z_]+$/.test(lower) || lower === 'nan') break;
    if (!KEYS.has(lower)) {
      const what = `The top of the grid has a line "${key.text.slice(0, 30)}" that this format does not know.`;
      return problem('ascii-grid-key-unknown', what, MORE, name);
    }
    if (found.has(lower)) {
      return problem(
        'ascii-grid-key-twice',
        `The top of the grid says ${lower} twice.`,
        MORE,
        name,
      );
    }
    const value = word(head, key.end);
    at = value.end;
    if (lower === 'byteorder') continue;
    if (/^[+-]?\d*,\d+$/.test(value.text)) return commaDecimals(name);
    // A no-data word such as NaN stands for itself: those cells hold no number in any case.
    const number = /^[+-]?(nan|inf(inity)?)$/i.test(value.text) ? NaN : Number(value.text);
    if (value.text === '' || (Number.isNaN(number) && !lower.startsWith('nodata'))) {
      const what = `"${key.text} ${value.text.slice(0, 30)}" at the top of the grid is no number.`;
      return problem('ascii-grid-value-bad', what, MORE, name);
    }
    found.set(lower, number);
  }
  return place(name, found, at);
}

function place(name: string, found: Map<string, number>, dataOffset: number) {
  const missing = (what: string) =>
    problem('ascii-grid-head-incomplete', `The top of the grid does not give ${what}.`, MORE, name);
  const wrong = (what: string) => problem('ascii-grid-value-bad', what, MORE, name);
  const width = found.get('ncols');
  const height = found.get('nrows');
  if (width === undefined || height === undefined) return missing('ncols and nrows');
  if (!isCount(width) || !isCount(height)) {
    return wrong(`The grid claims ${width} columns and ${height} rows.`);
  }
  const cellWidth = found.get('dx') ?? found.get('cellsize');
  const cellHeight = found.get('dy') ?? found.get('cellsize');
  if (cellWidth === undefined || cellHeight === undefined) return missing('the cell size');
  if (!isLength(cellWidth) || !isLength(cellHeight)) {
    return wrong(`The grid claims cells of ${cellWidth} by ${cellHeight}.`);
  }
  const west = edge(found.get('xllcorner'), found.get('xllcenter'), cellWidth);
  const south = edge(found.get('yllcorner'), found.get('yllcenter'), cellHeight);
  if (west === undefined || south === undefined) return missing('its lower left corner');
  if (!Number.isFinite(west) || !Number.isFinite(south)) {
    return wrong('The lower left corner of the grid is no number.');
  }
  const nodata = found.get('nodata_value') ?? found.get('nodata');
  return ok({
    width,
    height,
    west,
    north: south + height * cellHeight,
    cellWidth,
    cellHeight,
    nodata: nodata ?? -9999,
    nodataIsStated: nodata !== undefined,
    dataOffset,
  });
}

export function commaDecimals(name: string) {
  return problem(
    'comma-decimals',
    'The numbers have a comma for the decimal point.',
    'Export the file again with a point in the numbers, as in 412.5.',
    name,
  );
}

const isCount = (value: number) => Number.isInteger(value) && value >= 1 && value < 2 ** 31;
const isLength = (value: number) => Number.isFinite(value) && value > 0;

function edge(corner: number | undefined, center: number | undefined, cell: number) {
  return corner ?? (center === undefined ? undefined : center - cell / 2);
}

function word(bytes: Uint8Array, from: number): { text: string; end: number } {
  let at = from;
  while (at < bytes.length && bytes[at]! <= 32) at++;
  const begin = at;
  while (at < bytes.length && bytes[at]! > 32 && at - begin < 80) at++;
  return { text: asciiText(bytes, begin, at), end: at };
}
