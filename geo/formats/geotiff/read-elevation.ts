import { affinePart, type Affine } from '../../raster/affine.ts';
import { ok, problem, type Result } from '../../result.ts';
import type { ByteSource } from '../byte-source.ts';
import type { PixelWindow, Reading } from '../opening.ts';
import { decodeHere, type BlockDecoder } from './decode-block.ts';
import { takeMask } from './mask.ts';
import { noDataNotes, scrubRun, type NoDataRule, type NoDataTally } from './no-data.ts';
import type { RasterHeader, RasterLevel } from './raster-header.ts';
import { sampleView, spread } from './samples.ts';
import { asResult } from './tiff-error.ts';
import type { TiffImage } from './tiff-image.ts';
import { walkBlocks, type ReadBlock } from './walk-blocks.ts';

/** Most cells that are read at once; a larger raster needs a window. */
export const MOST_CELLS = 64 * 1024 * 1024;

export interface ElevationChoices extends Reading {
  /** Part to read, in cells of the chosen level; the whole if not given. */
  readonly window?: PixelWindow;
  /** 0 is the full resolution. */
  readonly level?: number;
  readonly decoder?: BlockDecoder;
}

/** Heights as the file has them: its own unit, its own cells, row-major from the file's first row. */
export interface RawElevation {
  readonly width: number;
  readonly height: number;
  /** NaN is no data; scale and offset of the file are applied. */
  readonly data: Float32Array;
  /** Of these cells, in the file's own coordinate system. */
  readonly affine: Affine;
  readonly missing: number;
  readonly notes: readonly string[];
}

/**
 * Reads the first band of a raster, or a window of it, as float32 with NaN for no data. A block
 * that the file leaves out (sparse) is no data, never 0. Refuses pictures and more than
 * `MOST_CELLS` cells (code `window-needed`). Throws RangeError on a window outside the level.
 */
export function readElevation(
  source: ByteSource,
  header: RasterHeader,
  choices: ElevationChoices = {},
): Promise<Result<RawElevation>> {
  return asResult(source, () => read(source, header, choices));
}

async function read(
  source: ByteSource,
  header: RasterHeader,
  choices: ElevationChoices,
): Promise<Result<RawElevation>> {
  const level = header.levels[choices.level ?? 0];
  if (!level) throw new RangeError(`level ${choices.level} of ${header.levels.length}`);
  const window = windowInside(level, choices.window);
  if (header.purpose === 'photo' && (header.bands >= 3 || level.image.photometric > 1)) {
    return problem(
      'raster-is-photo',
      'This file is a picture, not heights.',
      'Open it as an aerial photo, and open an elevation GeoTIFF as the ground.',
      source.name,
    );
  }
  if (window.width * window.height > MOST_CELLS) {
    return problem(
      'window-needed',
      `The part to open has ${window.width} × ${window.height} cells, more than the ${MOST_CELLS / 1048576} million that fit.`,
      'Choose the part of the survey around your ground.',
      source.name,
    );
  }
  const data = new Float32Array(window.width * window.height);
  const rule: NoDataRule = {
    declared: header.noData === null ? null : Math.fround(header.noData),
    scale: header.scale,
    offset: header.offset,
  };
  const tally: NoDataTally = { missing: 0, huge: 0, standIns: 0 };
  const shared = {
    source,
    file: header.file,
    window,
    bands: [0],
    everyRow: 1,
    decoder: choices.decoder ?? decodeHere,
    reading: choices,
  };
  await walkBlocks({ ...shared, image: level.image, doing: 'Reading the survey' }, (block) =>
    takeHeights(block, level.image, window, data, rule, tally),
  );
  if (level.mask) {
    const mask = level.mask;
    await walkBlocks({ ...shared, image: mask, doing: 'Reading its mask' }, (block) => {
      takeMask(block, mask, window, 1, (column, row) => {
        const at = row * window.width + column;
        if (!Number.isNaN(data[at])) tally.missing++;
        data[at] = NaN;
      });
    });
  }
  if (tally.missing === data.length) {
    return problem(
      'raster-all-nodata',
      'Every cell of this survey is marked as no data.',
      choices.window
        ? 'Choose another part of the survey.'
        : 'Open another tile of the survey, or ask for it again.',
      source.name,
    );
  }
  return ok({
    width: window.width,
    height: window.height,
    data,
    affine: affinePart(levelAffine(header, level), window.column, window.row),
    missing: tally.missing,
    notes: noDataNotes(rule, tally),
  });
}

/** Affine of a level: an overview covers the full raster with larger cells. */
export function levelAffine(header: RasterHeader, level: RasterLevel): Affine {
  return affinePart(header.affine, 0, 0, header.width / level.width, header.height / level.height);
}

export function windowInside(level: RasterLevel, window: PixelWindow | undefined): PixelWindow {
  if (!window) return { column: 0, row: 0, width: level.width, height: level.height };
  const { column, row, width, height } = window;
  const whole = [column, row, width, height].every((n) => Number.isInteger(n) && n >= 0);
  const inside = column + width <= level.width && row + height <= level.height;
  if (!whole || !inside || width === 0 || height === 0) {
    throw new RangeError(
      `window ${column},${row} ${width} × ${height} outside ${level.width} × ${level.height}`,
    );
  }
  return window;
}

/** The part of a block inside the window, in cells of the level. */
function overlap(block: ReadBlock, window: PixelWindow) {
  const left = Math.max(block.column, window.column);
  const right = Math.min(block.column + block.width, window.column + window.width);
  const top = Math.max(block.row, window.row);
  const bottom = Math.min(block.row + block.height, window.row + window.height);
  return { left, top, bottom, count: right - left };
}

function takeHeights(
  block: ReadBlock,
  image: TiffImage,
  window: PixelWindow,
  data: Float32Array,
  rule: NoDataRule,
  tally: NoDataTally,
): void {
  const { left, top, bottom, count } = overlap(block, window);
  const samples = image.banded ? 1 : image.bands;
  const perRow = image.blockWidth * samples;
  const values = block.block && sampleView(block.block, image.kind, image.bits);
  for (let row = top; row < bottom; row++) {
    const to = (row - window.row) * window.width + (left - window.column);
    if (values) {
      const from = (row - block.row) * perRow + (left - block.column) * samples;
      if (samples === 1) data.set(values.subarray(from, from + count), to);
      else spread(values, from, samples, count, data, to);
      scrubRun(data, to, count, rule, tally);
    } else {
      data.fill(NaN, to, to + count);
      tally.missing += count;
    }
  }
}
