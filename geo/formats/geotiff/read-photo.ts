import { affinePart, type Affine } from '../../raster/affine.ts';
import type { HorizontalCrs } from '../../frame/crs-types.ts';
import { ok, problem, type Result } from '../../result.ts';
import type { ByteSource } from '../byte-source.ts';
import type { PixelWindow, Reading } from '../opening.ts';
import { colourReader } from './colours.ts';
import { decodeHere, type BlockDecoder } from './decode-block.ts';
import { takeMask } from './mask.ts';
import type { RasterHeader, RasterLevel } from './raster-header.ts';
import { levelAffine, windowInside } from './read-elevation.ts';
import { asResult } from './tiff-error.ts';
import { walkBlocks } from './walk-blocks.ts';

/** Most pixels that a photo may have in memory (four bytes each) unless the caller says otherwise. */
const MOST_PIXELS = 24 * 1024 * 1024;

export interface PhotoChoices extends Reading {
  /** Part wanted, in pixels of the full resolution; the whole if not given. */
  readonly window?: PixelWindow;
  /** 0 is the full resolution; if not given, the finest that keeps to `mostPixels`. */
  readonly level?: number;
  readonly mostPixels?: number;
  readonly decoder?: BlockDecoder;
}

export interface RawPhoto {
  readonly width: number;
  readonly height: number;
  /** RGBA, row-major from the file's first row; alpha 0 where there is no picture. */
  readonly pixels: Uint8ClampedArray<ArrayBuffer>;
  /** Of these pixels, in `crs`. */
  readonly affine: Affine;
  readonly crs: Result<HorizontalCrs>;
  /** How many pixels of the file, along a side, went into one of these. */
  readonly reduction: number;
}

/**
 * Reads an aerial photo as RGBA: RGB, grey, palette or YCbCr, with an alpha band or an internal mask
 * or no-data value as transparency; of more bands the first three (red, green, blue before infrared);
 * 16-bit pictures are scaled by their own brightest values. Too large a photo is read from its
 * overviews, or with every n-th pixel where it has none. Throws RangeError on a window outside.
 */
export function readPhoto(
  source: ByteSource,
  header: RasterHeader,
  choices: PhotoChoices = {},
): Promise<Result<RawPhoto>> {
  return asResult(source, () => read(source, header, choices));
}

async function read(
  source: ByteSource,
  header: RasterHeader,
  choices: PhotoChoices,
): Promise<Result<RawPhoto>> {
  const wanted = windowInside(header.levels[0], choices.window);
  const most = choices.mostPixels ?? MOST_PIXELS;
  const number = choices.level ?? finestLevel(header.levels, wanted, most);
  const level = header.levels[number];
  if (!level) throw new RangeError(`level ${number} of ${header.levels.length}`);
  const window = scaleWindow(wanted, header.levels[0], level);
  const step = Math.ceil(Math.sqrt((window.width * window.height) / most));
  const width = Math.ceil(window.width / step);
  const height = Math.ceil(window.height / step);
  const colours = await colourReader(header, level);
  if (!colours) {
    return problem(
      'photo-unsupported',
      `A picture of ${header.bands} bands of ${header.sample} cannot be shown.`,
      'Save it again as an 8-bit RGB GeoTIFF.',
      source.name,
    );
  }
  const pixels = new Uint8ClampedArray(4 * width * height);
  const shared = {
    source,
    file: header.file,
    window,
    everyRow: step,
    decoder: choices.decoder ?? decodeHere,
    reading: choices,
  };
  const target = { window, step, width, pixels };
  await walkBlocks(
    { ...shared, image: level.image, bands: colours.bands, doing: 'Reading the photo' },
    (block) => colours.take(block, target),
  );
  colours.finish(target);
  const { mask } = level;
  if (mask) {
    await walkBlocks({ ...shared, image: mask, bands: [0], doing: 'Reading its mask' }, (block) =>
      takeMask(block, mask, window, step, (x, y) => {
        pixels[4 * (y * width + x) + 3] = 0;
      }),
    );
  }
  return ok({
    width,
    height,
    pixels,
    affine: affinePart(levelAffine(header, level), window.column, window.row, step),
    crs: header.crs,
    reduction: (step * header.width) / level.width,
  });
}

function finestLevel(levels: readonly RasterLevel[], wanted: PixelWindow, most: number): number {
  for (let i = 0; i < levels.length; i++) {
    const { width, height } = scaleWindow(wanted, levels[0], levels[i]);
    if (width * height <= most) return i;
  }
  return levels.length - 1;
}

/** A window of the full resolution in pixels of a level, outward to whole ones. */
export function scaleWindow(w: PixelWindow, full: RasterLevel, level: RasterLevel): PixelWindow {
  const across = level.width / full.width;
  const down = level.height / full.height;
  const column = Math.floor(w.column * across);
  const row = Math.floor(w.row * down);
  const right = Math.min(level.width, Math.ceil((w.column + w.width) * across));
  const bottom = Math.min(level.height, Math.ceil((w.row + w.height) * down));
  return { column, row, width: right - column, height: bottom - row };
}
