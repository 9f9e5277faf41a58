import { ok, type Result } from '../../result.ts';
import type { ByteSource } from '../byte-source.ts';
import type { Overview, Reading } from '../opening.ts';
import { decodeHere, type BlockDecoder } from './decode-block.ts';
import { pickedCells, takeMask } from './mask.ts';
import { scrubRun, type NoDataRule } from './no-data.ts';
import type { RasterHeader } from './raster-header.ts';
import { windowInside } from './read-elevation.ts';
import { sampleView } from './samples.ts';
import { asResult } from './tiff-error.ts';
import { walkBlocks } from './walk-blocks.ts';

const LONGEST_SIDE = 768;

export interface OverviewChoices extends Reading {
  readonly longestSide?: number;
  readonly decoder?: BlockDecoder;
}

/**
 * A small shaded picture of a raster that is too large to open, for choosing a part of it. Comes
 * from the smallest overview that is fine enough, or from every n-th row and column, block by block,
 * so that the raster is never held whole. No data is transparent.
 */
export function readOverviewPicture(
  source: ByteSource,
  header: RasterHeader,
  choices: OverviewChoices = {},
): Promise<Result<Overview>> {
  return asResult(source, async () => {
    const { width, height, data } = await readCoarse(source, header, choices);
    return ok({
      width,
      height,
      pixels: shadeHeights(data, width, height),
      fullWidth: header.width,
      fullHeight: header.height,
      cellMeters: header.cellMeters ?? NaN,
    });
  });
}

/** Heights with few cells: row-major, NaN for no data, covering the whole raster. */
export interface CoarseHeights {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/** The heights behind `readOverviewPicture`, for a picture made of several rasters. */
export function readCoarseHeights(
  source: ByteSource,
  header: RasterHeader,
  choices: OverviewChoices = {},
): Promise<Result<CoarseHeights>> {
  return asResult(source, async () => ok(await readCoarse(source, header, choices)));
}

async function readCoarse(
  source: ByteSource,
  header: RasterHeader,
  choices: OverviewChoices,
): Promise<CoarseHeights> {
  const longest = choices.longestSide ?? LONGEST_SIDE;
  const fine = header.levels.filter((l) => Math.max(l.width, l.height) >= longest);
  const level = fine[fine.length - 1] ?? header.levels[0];
  const step = Math.max(1, Math.ceil(Math.max(level.width, level.height) / longest));
  const width = Math.ceil(level.width / step);
  const height = Math.ceil(level.height / step);
  const heights = new Float32Array(width * height);
  const rule: NoDataRule = {
    declared: header.noData === null ? null : Math.fround(header.noData),
    scale: header.scale,
    offset: header.offset,
  };
  const tally = { missing: 0, huge: 0, standIns: 0 };
  const window = windowInside(level, undefined);
  const { image, mask } = level;
  const samples = image.banded ? 1 : image.bands;
  const shared = {
    source,
    file: header.file,
    window,
    bands: [0],
    everyRow: step,
    decoder: choices.decoder ?? decodeHere,
    reading: choices,
    doing: 'Drawing a small picture of the survey',
  };
  await walkBlocks({ ...shared, image }, (block) => {
    const values = block.block && sampleView(block.block, image.kind, image.bits);
    const picked = pickedCells(block, window, step);
    const { firstColumn, endColumn } = picked;
    for (let y = picked.firstRow; y < picked.endRow; y++) {
      const inBlock = (y * step - block.row) * image.blockWidth;
      for (let x = firstColumn; x < endColumn; x++) {
        const at = (inBlock + x * step - block.column) * samples;
        heights[y * width + x] = values ? values[at] : NaN;
      }
      const count = Math.max(0, endColumn - firstColumn);
      scrubRun(heights, y * width + firstColumn, count, rule, tally);
    }
  });
  if (mask) {
    await walkBlocks({ ...shared, image: mask }, (block) =>
      takeMask(block, mask, window, step, (x, y) => {
        heights[y * width + x] = NaN;
      }),
    );
  }
  return { width, height, data: heights };
}

/** Grey relief lit from the upper left, its contrast set by the ground's own steepness. */
export function shadeHeights(
  heights: Float32Array,
  width: number,
  height: number,
): Uint8ClampedArray {
  const pixels = new Uint8ClampedArray(4 * width * height);
  const lean = new Float32Array(width * height);
  let sum = 0;
  let counted = 0;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const at = y * width + x;
      const left = heights[x > 0 ? at - 1 : at];
      const above = heights[y > 0 ? at - width : at];
      const value = 2 * heights[at] - left - above;
      lean[at] = Number.isNaN(value) ? 0 : value;
      if (Number.isNaN(value)) continue;
      sum += Math.abs(value);
      counted++;
    }
  }
  const contrast = sum > 0 ? (45 * counted) / sum : 0;
  for (let at = 0; at < lean.length; at++) {
    if (Number.isNaN(heights[at])) continue;
    const grey = 168 + Math.max(-110, Math.min(80, lean[at] * contrast));
    pixels[4 * at] = pixels[4 * at + 1] = pixels[4 * at + 2] = grey;
    pixels[4 * at + 3] = 255;
  }
  return pixels;
}
