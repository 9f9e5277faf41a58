import { crsFromWkt } from '../frame/crs.ts';
import { refuseMissing } from '../frame/crs-refusals.ts';
import type { HorizontalCrs, VerticalReference } from '../frame/crs-types.ts';
import { HEIGHTS_UNKNOWN, verticalFromWkt } from '../frame/vertical.ts';
import { affinePart, type Affine } from '../raster/affine.ts';
import type { Lattice } from '../raster/point-lattice.ts';
import { ok, type Result } from '../result.ts';
import { openAsciiGrid, readAsciiGrid } from './ascii-grid.ts';
import type { BlockDecoder } from './geotiff/decode-block.ts';
import { readCoarseHeights, type CoarseHeights } from './geotiff/overview-picture.ts';
import type { RasterHeader } from './geotiff/raster-header.ts';
import { readElevation, type RawElevation } from './geotiff/read-elevation.ts';
import type { PixelWindow, Reading } from './opening.ts';
import type { FileSet } from './sidecars.ts';

/** A raster of heights of any format, opened but not read: what joining and reading need of it. */
export interface GroundTile {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly affine: Affine;
  readonly crs: Result<HorizontalCrs>;
  readonly vertical: VerticalReference;
  /** Date in the file, `YYYY-MM-DD`. */
  readonly date: string | null;
  /** How it is stored, for the reader's eyes. */
  readonly stored: string;
  readonly beside: readonly string[];
  read(window: PixelWindow, reading: Reading): Promise<Result<RawElevation>>;
  /** The whole with at least `step` times fewer cells a side, for a small picture. */
  coarse(step: number, reading: Reading): Promise<Result<CoarseHeights>>;
}

/** System and heights of a sidecar's text; missing without one. */
export function placeFromText(crsText: string | null): Pick<GroundTile, 'crs' | 'vertical'> {
  if (crsText === null) return { crs: refuseMissing(), vertical: HEIGHTS_UNKNOWN };
  return { crs: crsFromWkt(crsText), vertical: verticalFromWkt(crsText) };
}

/** A GeoTIFF of heights as a tile; a .prj beside it speaks only where the file itself is silent. */
export function tiffTile(files: FileSet, header: RasterHeader, decoder?: BlockDecoder): GroundTile {
  const source = files.main;
  const beside = placeFromText(files.crsText);
  const silent = !header.crs.ok && header.crs.problem.code === 'crs-missing';
  const how = decoder ? { decoder } : {};
  return {
    name: source.name,
    width: header.width,
    height: header.height,
    affine: header.affine,
    crs: silent ? beside.crs : header.crs,
    vertical:
      header.vertical.unit === null && beside.vertical.unit !== null
        ? beside.vertical
        : header.vertical,
    date: header.dateTag,
    stored: `GeoTIFF, ${header.sample}`,
    beside: files.beside,
    read: (window, reading) => readElevation(source, header, { ...reading, ...how, window }),
    coarse: (step, reading) => {
      const longestSide = Math.ceil(Math.max(header.width, header.height) / step);
      return readCoarseHeights(source, header, { ...reading, ...how, longestSide });
    },
  };
}

/** An ESRI ASCII grid as a tile. */
export async function asciiTile(files: FileSet): Promise<Result<GroundTile>> {
  const source = files.main;
  const opened = await openAsciiGrid(source);
  if (!opened.ok) return opened;
  const header = opened.value;
  const { width, height, west, north, cellWidth, cellHeight } = header;
  const affine = { a: cellWidth, b: 0, c: west, d: 0, e: -cellHeight, f: north };
  const pick = async (window: PixelWindow, step: number, reading: Reading) => {
    const read = await readAsciiGrid(source, header, { ...window, step }, reading);
    if (!read.ok) return read;
    const size = { width: Math.ceil(window.width / step), height: Math.ceil(window.height / step) };
    const part = affinePart(affine, window.column, window.row, step);
    const notes = header.nodataIsStated
      ? []
      : ['The grid names no value for no data; -9999 was taken.'];
    return ok(rawOf(read.value, size, part, notes));
  };
  return ok({
    name: source.name,
    width,
    height,
    affine,
    ...placeFromText(files.crsText),
    date: null,
    stored: 'ASCII grid',
    beside: files.beside,
    read: (window, reading) => pick(window, 1, reading),
    coarse: (step, reading) =>
      pick({ column: 0, row: 0, width, height }, Math.max(1, Math.floor(step)), reading),
  });
}

/** Points that are a raster already, as a tile. `data` is kept. */
export function latticeTile(
  name: string,
  lattice: Lattice,
  data: Float32Array,
  about: Pick<GroundTile, 'crs' | 'vertical' | 'beside'> & { readonly notes: readonly string[] },
): GroundTile {
  const { width, height } = lattice;
  const affine = {
    a: lattice.cellWidth,
    b: 0,
    c: lattice.west,
    d: 0,
    e: -lattice.cellHeight,
    f: lattice.north,
  };
  const whole = rawOf(data, lattice, affine, about.notes);
  return {
    name,
    width,
    height,
    affine,
    crs: about.crs,
    vertical: about.vertical,
    date: null,
    stored: 'points on a regular grid',
    beside: about.beside,
    read: (window) => Promise.resolve(ok(cut(whole, window))),
    coarse: (step) => Promise.resolve(ok(thinned(whole, step))),
  };
}

function rawOf(
  data: Float32Array,
  size: { readonly width: number; readonly height: number },
  affine: Affine,
  notes: readonly string[],
): RawElevation {
  let missing = 0;
  for (let i = 0; i < data.length; i++) if (data[i] !== data[i]) missing++;
  return { width: size.width, height: size.height, data, affine, missing, notes };
}

function cut(raw: RawElevation, window: PixelWindow): RawElevation {
  const { column, row, width, height } = window;
  if (width === raw.width && height === raw.height) return raw;
  const data = new Float32Array(width * height);
  for (let r = 0; r < height; r++) {
    const from = (row + r) * raw.width + column;
    data.set(raw.data.subarray(from, from + width), r * width);
  }
  return rawOf(data, window, affinePart(raw.affine, column, row), raw.notes);
}

/** Every `step`-th cell, from the first. */
function thinned(raw: RawElevation, step: number): RawElevation {
  const whole = Math.floor(step);
  if (whole < 2) return raw;
  const width = Math.ceil(raw.width / whole);
  const height = Math.ceil(raw.height / whole);
  const data = new Float32Array(width * height);
  for (let i = 0; i < data.length; i++) {
    const column = i % width;
    data[i] = raw.data[((i - column) / width) * whole * raw.width + column * whole]!;
  }
  return rawOf(data, { width, height }, affinePart(raw.affine, 0, 0, whole), raw.notes);
}
