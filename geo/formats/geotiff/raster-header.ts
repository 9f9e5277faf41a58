import { crsFromGeoKeys, extentProblem } from '../../frame/crs.ts';
import type { HorizontalCrs, VerticalReference } from '../../frame/crs-types.ts';
import { verticalFromGeoKeys } from '../../frame/vertical.ts';
import { affineBounds, type Affine } from '../../raster/affine.ts';
import { ok, problem, type Result } from '../../result.ts';
import type { ByteSource } from '../byte-source.ts';
import { bandMetadata } from './gdal-metadata.ts';
import { PIXEL_IS_POINT, RASTER_TYPE_KEY, readGeoKeys } from './geo-keys.ts';
import { groundCellMeters } from './ground-cell.ts';
import { parseNoData } from './no-data.ts';
import { readAffine } from './placement.ts';
import { asResult, TiffError } from './tiff-error.ts';
import { PHOTOMETRIC, TAG } from './tiff-tags.ts';
import { openTiff, tagText, type TiffFile } from './tiff-directory.ts';
import { readImage, type TiffImage } from './tiff-image.ts';

/** One resolution of a raster: level 0 is the full one, then its overviews by falling size. */
export interface RasterLevel {
  readonly width: number;
  readonly height: number;
  readonly image: TiffImage;
  /** Internal mask of this level: 0 is no data. */
  readonly mask: TiffImage | null;
}

/** What a GeoTIFF says of itself. Holds the open directories: not for sending to a worker. */
export interface RasterHeader {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly bands: number;
  readonly sample: string;
  /** A picture (colour, palette, or plain 8-bit grey without a height unit) or heights. */
  readonly purpose: 'elevation' | 'photo';
  readonly crs: Result<HorizontalCrs>;
  readonly vertical: VerticalReference;
  /** Cell corners to coordinates of the file's own system, PixelIsPoint already honoured. */
  readonly affine: Affine;
  readonly pixelIsPoint: boolean;
  readonly noData: number | null;
  readonly scale: number;
  readonly offset: number;
  readonly levels: readonly RasterLevel[];
  /** Date in the file's date tag, `YYYY-MM-DD`: when it was written, not always when it was flown. */
  readonly dateTag: string | null;
  /** Cell size on the ground at the centre, metres; null where the coordinate system is not known. */
  readonly cellMeters: number | null;
  readonly file: TiffFile;
}

const SMALLEST_SIDE = 3;

/**
 * Reads the directories of a GeoTIFF and nothing of its cells: some 16 kB of a cloud-optimised file.
 * A missing or refused coordinate system is the header's `crs`, so that it can be asked for; what
 * cannot be read at all is a problem. Never throws but for programmer errors.
 * @param beside placement from a world file, for a file that does not place its own cells
 */
export function readRasterHeader(
  source: ByteSource,
  beside: { readonly affine: Affine | null } = { affine: null },
): Promise<Result<RasterHeader>> {
  return asResult(source, () => read(source, beside.affine));
}

async function read(source: ByteSource, worldFile: Affine | null): Promise<Result<RasterHeader>> {
  const file = await openTiff(source);
  const first = file.directories[0];
  const image = await readImage(file, first);
  if (image.width < SMALLEST_SIDE || image.height < SMALLEST_SIDE) {
    return problem(
      'raster-too-small',
      `The raster has ${image.width} × ${image.height} cells; slope and water need at least 3 × 3.`,
      'Open the whole survey, not a single cell of it.',
      source.name,
    );
  }
  if (image.bits === 1) {
    return problem(
      'sample-type-unsupported',
      'The cells of this file are single bits, black or white.',
      'Open the survey itself, saved with 32-bit floating point cells.',
      source.name,
    );
  }
  const keys = await readGeoKeys(file, first);
  const pixelIsPoint = keys.get(RASTER_TYPE_KEY) === PIXEL_IS_POINT;
  const affine = (await readAffine(file, first, pixelIsPoint)) ?? worldFile;
  if (!affine) {
    return problem(
      'placement-missing',
      'The file does not say where on the earth its cells lie.',
      'Export it again as a GeoTIFF with its coordinates inside; a plain picture cannot be placed.',
      source.name,
    );
  }
  const metadata = bandMetadata(await tagText(file, first, TAG.GdalMetadata), 0);
  const fromKeys = verticalFromGeoKeys(keys);
  const vertical = fromKeys.unit === null ? { ...fromKeys, unit: metadata.unit } : fromKeys;
  const crs = placedCrs(crsFromGeoKeys(keys), affine, image);
  return ok({
    name: source.name,
    width: image.width,
    height: image.height,
    bands: image.bands,
    sample: `${image.kind}${image.bits}`,
    purpose: isPhoto(image, vertical) ? 'photo' : 'elevation',
    crs,
    vertical,
    affine,
    pixelIsPoint,
    noData: parseNoData(await tagText(file, first, TAG.GdalNoData)),
    scale: metadata.scale,
    offset: metadata.offset,
    levels: await readLevels(file, image),
    dateTag: readDate(await tagText(file, first, TAG.DateTime)),
    cellMeters: crs.ok ? groundCellMeters(crs.value, affine, image.width, image.height) : null,
    file,
  });
}

function placedCrs(
  crs: Result<HorizontalCrs>,
  affine: Affine,
  image: TiffImage,
): Result<HorizontalCrs> {
  if (!crs.ok) return crs;
  const misplaced = extentProblem(crs.value, affineBounds(affine, image.width, image.height));
  return misplaced ? { ok: false, problem: misplaced } : crs;
}

/** Overviews and masks that belong to the first image; what cannot be read of them is left out. */
async function readLevels(file: TiffFile, full: TiffImage): Promise<RasterLevel[]> {
  const images: TiffImage[] = [full];
  const masks: TiffImage[] = [];
  for (const directory of file.directories.slice(1)) {
    let image: TiffImage;
    try {
      image = await readImage(file, directory);
    } catch (error) {
      if (error instanceof TiffError) continue;
      throw error;
    }
    if (image.isMask) masks.push(image);
    else if (image.isOverview && isReduced(image, full)) images.push(image);
  }
  images.sort((a, b) => b.width * b.height - a.width * a.height);
  return images.map((image) => {
    const { width, height } = image;
    const mask = masks.find((m) => m.width === width && m.height === height) ?? null;
    return { width, height, image, mask };
  });
}

function isReduced(image: TiffImage, full: TiffImage): boolean {
  const across = full.width / image.width;
  const down = full.height / image.height;
  const sameShape = Math.abs(across / down - 1) < 0.5 || Math.min(image.width, image.height) < 16;
  const sameCells = image.bits === full.bits && image.bands === full.bands;
  return image.width < full.width && image.height <= full.height && sameShape && sameCells;
}

function isPhoto(image: TiffImage, vertical: VerticalReference): boolean {
  const { photometric, bits, kind, bands } = image;
  const colour: number[] = [
    PHOTOMETRIC.Rgb,
    PHOTOMETRIC.Palette,
    PHOTOMETRIC.YCbCr,
    PHOTOMETRIC.Separated,
  ];
  if (kind !== 'uint' || bits > 16) return false;
  if (colour.includes(photometric) || (bands >= 3 && bits === 8)) return true;
  return bits <= 8 && vertical.unit === null && vertical.epsg === null;
}

function readDate(text: string | undefined): string | null {
  const found = /^(\d{4}):(\d\d):(\d\d)/.exec(text ?? '');
  return found && found[1] !== '0000' ? `${found[1]}-${found[2]}-${found[3]}` : null;
}
