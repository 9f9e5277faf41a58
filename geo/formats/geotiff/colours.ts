import type { PixelWindow } from '../opening.ts';
import { pickedCells } from './mask.ts';
import type { RasterHeader, RasterLevel } from './raster-header.ts';
import { sampleView, type SampleView } from './samples.ts';
import { COMPRESSION, PHOTOMETRIC, TAG } from './tiff-tags.ts';
import { tagNumbers } from './tiff-directory.ts';
import type { ReadBlock } from './walk-blocks.ts';
import { yCbCrToRgb } from './ycbcr.ts';

/** The picture being made: every `step`-th pixel of a window. */
export interface PhotoTarget {
  readonly window: PixelWindow;
  readonly step: number;
  readonly width: number;
  readonly pixels: Uint8ClampedArray;
}

/** Turns blocks of a photo into RGBA. */
export interface ColourReader {
  /** Bands to read where bands have blocks of their own. */
  readonly bands: readonly number[];
  take(block: ReadBlock, target: PhotoTarget): void;
  /** After the last block. */
  finish(target: PhotoTarget): void;
}

/** Null where the bands make no picture (signed or floating-point cells, or CMYK). */
export async function colourReader(
  header: RasterHeader,
  level: RasterLevel,
): Promise<ColourReader | null> {
  const { image } = level;
  const { photometric, bits, kind } = image;
  if (kind !== 'uint' || (bits !== 8 && bits !== 16)) return null;
  if (photometric === PHOTOMETRIC.Separated) return null;
  const isPalette = photometric === PHOTOMETRIC.Palette;
  const colours = !isPalette && image.bands >= 3 ? 3 : 1;
  const alpha = alphaBand(image.extraSamples, image.bands, colours);
  const channels = colours === 3 ? [0, 1, 2] : [0];
  if (alpha !== null) channels.push(alpha);

  const table = isPalette
    ? await tagNumbers(header.file, image.directory, TAG.ColorMap)
    : undefined;
  if (isPalette && (!table || table.length < 3 * 2 ** bits)) return null;
  const palette = table ? Uint8Array.from(table, (v) => v >> 8) : null;
  const paletteSize = table ? Math.floor(table.length / 3) : 0;

  // 16-bit cameras rarely fill 16 bits: what they did fill is spread over 8, in `finish`.
  const wide = bits === 16 && !isPalette;
  const stored = wide ? new Map<PhotoTarget, Uint16Array>() : null;
  const samples = image.banded ? 1 : image.bands;
  const noData = header.noData;
  const inverted = photometric === PHOTOMETRIC.WhiteIsZero;
  // JPEG blocks of three bands are turned where they are unpacked.
  const isTurned = image.compression === COMPRESSION.Jpeg && image.bands === 3 && !image.banded;
  const isYCbCr = photometric === PHOTOMETRIC.YCbCr && image.bands >= 3 && !isTurned;

  const isPlainRgb = colours === 3 && !wide && !image.banded && !inverted && noData === null;

  const put = (target: PhotoTarget, pixel: number, channel: number, value: number) => {
    const { pixels } = target;
    const at = 4 * pixel;
    if (palette) {
      for (let k = 0; k < 3; k++) pixels[at + k] = palette[k * paletteSize + value];
    } else if (channels[channel] === alpha && channel > 0) {
      pixels[at + 3] = wide ? value >> 8 : value;
    } else if (stored) storedFor(stored, target)[3 * pixel + channel] = value;
    else pixels[at + channel] = inverted ? 255 - value : value;
  };

  return {
    bands: channels,
    take(block, target) {
      const values = block.block && sampleView(block.block, kind, bits);
      const { window, step, width, pixels } = target;
      const picked = pickedCells(block, window, step);
      for (let y = picked.firstRow; y < picked.endRow; y++) {
        const inBlock = (window.row + y * step - block.row) * image.blockWidth;
        if (isPlainRgb && values) {
          const from = inBlock + window.column + picked.firstColumn * step - block.column;
          const count = Math.max(0, picked.endColumn - picked.firstColumn);
          const to = 4 * (y * width + picked.firstColumn);
          copyRgb(values, from * samples, step * samples, alpha, count, pixels, to);
          continue;
        }
        for (let x = picked.firstColumn; x < picked.endColumn; x++) {
          const pixel = y * width + x;
          if (!values) continue;
          const at = (inBlock + window.column + x * step - block.column) * samples;
          if (image.banded) {
            put(target, pixel, channels.indexOf(block.band), values[at]);
            if (block.band === 0 && alpha === null) pixels[4 * pixel + 3] = 255;
            continue;
          }
          let isNoData = noData !== null;
          for (let k = 0; k < channels.length; k++) {
            const value = values[at + channels[k]];
            if (k < colours && value !== noData) isNoData = false;
            put(target, pixel, k, value);
          }
          if (isNoData) pixels[4 * pixel + 3] = 0;
          else if (alpha === null) pixels[4 * pixel + 3] = 255;
        }
      }
    },
    finish(target) {
      const { pixels } = target;
      const wideValues = stored?.get(target);
      if (wideValues) narrow(wideValues, pixels, colours, inverted);
      if (isYCbCr) yCbCrToRgb(pixels, 4);
      if (colours === 1 && !palette) {
        for (let at = 0; at < pixels.length; at += 4) pixels[at + 1] = pixels[at + 2] = pixels[at];
      }
      if (image.banded && noData !== null) hideNoData(pixels, noData, colours);
    },
  };
}

/** The common case at full speed: 8-bit red, green, blue side by side, with or without alpha. */
function copyRgb(
  values: SampleView,
  from: number,
  stride: number,
  alpha: number | null,
  count: number,
  pixels: Uint8ClampedArray,
  to: number,
): void {
  for (let i = 0, at = from; i < count; i++, at += stride, to += 4) {
    pixels[to] = values[at];
    pixels[to + 1] = values[at + 1];
    pixels[to + 2] = values[at + 2];
    pixels[to + 3] = alpha === null ? 255 : values[at + alpha];
  }
}

/** TIFF 6.0: extra samples of kind 1 or 2 are alpha; the first extra band is `colours`. */
function alphaBand(extra: readonly number[], bands: number, colours: number): number | null {
  const first = bands - extra.length;
  const at = extra.findIndex((kind) => kind === 1 || kind === 2);
  return at >= 0 && first + at >= colours ? first + at : null;
}

function storedFor(stored: Map<PhotoTarget, Uint16Array>, target: PhotoTarget): Uint16Array {
  let values = stored.get(target);
  if (!values) stored.set(target, (values = new Uint16Array((target.pixels.length / 4) * 3)));
  return values;
}

/** 16 to 8 bits: all channels by one factor, the brightest half percent left to saturate. */
function narrow(
  values: Uint16Array,
  pixels: Uint8ClampedArray,
  colours: number,
  inverted: boolean,
): void {
  const histogram = new Uint32Array(65536);
  let counted = 0;
  for (let pixel = 0; pixel < pixels.length / 4; pixel++) {
    if (pixels[4 * pixel + 3] === 0) continue;
    for (let k = 0; k < colours; k++) histogram[values[3 * pixel + k]]++;
    counted += colours;
  }
  let white = 65535;
  for (let above = 0; white > 1 && above + histogram[white] <= counted * 0.005; white--) {
    above += histogram[white];
  }
  for (let pixel = 0; pixel < pixels.length / 4; pixel++) {
    for (let k = 0; k < colours; k++) {
      const value = (values[3 * pixel + k] * 255) / white;
      pixels[4 * pixel + k] = inverted ? 255 - value : value;
    }
  }
}

function hideNoData(pixels: Uint8ClampedArray, noData: number, colours: number): void {
  for (let at = 0; at < pixels.length; at += 4) {
    let all = true;
    for (let k = 0; k < colours; k++) if (pixels[at + k] !== noData) all = false;
    if (all) pixels[at + 3] = 0;
  }
}
