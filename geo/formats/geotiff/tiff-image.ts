import { COMPRESSION, PHOTOMETRIC, TAG } from './tiff-tags.ts';
import {
  tagBytes,
  tagNumber,
  tagNumbers,
  type Directory,
  type TiffFile,
} from './tiff-directory.ts';
import { damaged, TiffError } from './tiff-error.ts';

/** How the cells of one directory (the full raster, an overview or a mask) lie in the file. */
export interface TiffImage {
  readonly directory: Directory;
  readonly width: number;
  readonly height: number;
  readonly bands: number;
  readonly bits: number;
  readonly kind: SampleKind;
  readonly compression: number;
  readonly predictor: number;
  readonly photometric: number;
  /** True where each band has blocks of its own (planar configuration 2). */
  readonly banded: boolean;
  readonly tiled: boolean;
  readonly blockWidth: number;
  /** Rows of a block as stored; the last strip may hold fewer. */
  readonly blockHeight: number;
  readonly blocksAcross: number;
  readonly blocksDown: number;
  /** Above 1 where an uncompressed strip is read in parts of `blockHeight` rows. */
  readonly partsPerStrip: number;
  readonly rowsPerStrip: number;
  /** What each band past the colours is: 0 unspecified, 1 and 2 alpha. */
  readonly extraSamples: readonly number[];
  readonly jpegTables: Uint8Array | null;
  readonly isMask: boolean;
  readonly isOverview: boolean;
}

export type SampleKind = 'uint' | 'int' | 'float';

/** No survey is larger on either side; past this the numbers of a file are not to be believed. */
const LARGEST_SIDE = 4_000_000;
/** A block that needs more memory than this when opened is refused before any is taken. */
const LARGEST_BLOCK_BYTES = 256 * 1024 * 1024;
const PART_BYTES = 1024 * 1024;

/** Reads and checks the layout tags; nothing is allocated by what the file claims. */
export async function readImage(file: TiffFile, directory: Directory): Promise<TiffImage> {
  const one = async (tag: number, otherwise: number) =>
    (await tagNumber(file, directory, tag)) ?? otherwise;
  const width = await one(TAG.ImageWidth, 0);
  const height = await one(TAG.ImageLength, 0);
  if (!(width >= 1) || !(height >= 1)) {
    throw damaged(`The file claims a raster of ${width} × ${height} cells.`);
  }
  if (width > LARGEST_SIDE || height > LARGEST_SIDE) {
    throw new TiffError(
      'raster-size-impossible',
      `The file claims ${width} × ${height} cells, more than any real survey has.`,
      'The file is damaged or not a survey; download it again or save a part of it as a new file.',
    );
  }
  const bands = await one(TAG.SamplesPerPixel, 1);
  if (!(bands >= 1 && bands <= 4096)) throw damaged(`The file claims ${bands} bands.`);
  const bits = await sameForAll(file, directory, TAG.BitsPerSample, bands, 1);
  const kind = sampleKind(await sameForAll(file, directory, TAG.SampleFormat, bands, 1), bits);
  const compression = await one(TAG.Compression, COMPRESSION.None);
  checkCompression(compression);
  const banded = (await one(TAG.PlanarConfiguration, 1)) === 2 && bands > 1;
  const bytesPerCell = (bits / 8) * (banded ? 1 : bands);

  const tiled = directory.entries.has(TAG.TileWidth) || directory.entries.has(TAG.TileOffsets);
  let blockWidth: number;
  let blockHeight: number;
  let rowsPerStrip = 0;
  let partsPerStrip = 1;
  if (tiled) {
    blockWidth = await one(TAG.TileWidth, 0);
    blockHeight = await one(TAG.TileLength, 0);
    if (!(blockWidth >= 1) || !(blockHeight >= 1)) {
      throw damaged(`The file claims tiles of ${blockWidth} × ${blockHeight} cells.`);
    }
  } else {
    blockWidth = width;
    rowsPerStrip = Math.min(height, await one(TAG.RowsPerStrip, height));
    if (!(rowsPerStrip >= 1)) throw damaged(`The file claims strips of ${rowsPerStrip} rows.`);
    blockHeight = rowsPerStrip;
    if (compression === COMPRESSION.None && bits >= 8) {
      const rows = Math.max(1, Math.floor(PART_BYTES / (width * bytesPerCell)));
      blockHeight = Math.min(rowsPerStrip, rows);
      partsPerStrip = Math.ceil(rowsPerStrip / blockHeight);
    }
  }
  if (blockWidth * blockHeight * bytesPerCell > LARGEST_BLOCK_BYTES) {
    throw new TiffError(
      'block-too-large',
      `The file is packed in blocks of ${blockWidth} × ${blockHeight} cells, too large to open.`,
      'Save it again as a tiled GeoTIFF (in GDAL: -co TILED=YES).',
    );
  }
  const subfile = await one(TAG.NewSubfileType, 0);
  const photometric = await one(TAG.Photometric, PHOTOMETRIC.BlackIsZero);
  const extra = await tagNumbers(file, directory, TAG.ExtraSamples);
  const jpegTables =
    compression === COMPRESSION.Jpeg ? await tagBytes(file, directory, TAG.JpegTables) : undefined;
  return {
    directory,
    width,
    height,
    bands,
    bits,
    kind,
    compression,
    predictor: PREDICTED.includes(compression) ? await one(TAG.Predictor, 1) : 1,
    photometric,
    banded,
    tiled,
    blockWidth,
    blockHeight,
    blocksAcross: Math.ceil(width / blockWidth),
    blocksDown: tiled
      ? Math.ceil(height / blockHeight)
      : Math.ceil(height / rowsPerStrip) * partsPerStrip,
    partsPerStrip,
    rowsPerStrip,
    extraSamples: extra ? [...extra] : [],
    jpegTables: jpegTables ?? null,
    isMask: photometric === PHOTOMETRIC.Mask || (subfile & 4) !== 0,
    isOverview: (subfile & 1) !== 0,
  };
}

/** A per-band tag whose bands must agree. */
async function sameForAll(
  file: TiffFile,
  directory: Directory,
  tag: number,
  bands: number,
  otherwise: number,
): Promise<number> {
  const count = directory.entries.get(tag)?.count ?? 0;
  const values = await tagNumbers(file, directory, tag, 0, Math.min(count, bands));
  if (!values || values.length === 0) return otherwise;
  if (values.some((v) => v !== values[0])) {
    throw new TiffError(
      'sample-type-unsupported',
      'The bands of this file do not all hold the same kind of number.',
      'Save the elevation band alone as a new file.',
    );
  }
  return values[0];
}

function sampleKind(format: number, bits: number): SampleKind {
  const kind = format === 2 ? 'int' : format === 3 ? 'float' : 'uint';
  const fits = kind === 'float' ? [16, 32, 64] : kind === 'int' ? [8, 16, 32, 64] : UINT_BITS;
  if (format > 4 || format === 0 || !fits.includes(bits)) {
    throw new TiffError(
      'sample-type-unsupported',
      `The cells of this file are ${bits}-bit numbers of a kind (${format}) that cannot be read.`,
      'Save it again with 32-bit floating point cells.',
    );
  }
  return kind;
}
/** Other packings carry no predictor; libtiff passes over the tag there. */
const PREDICTED: readonly number[] = [
  COMPRESSION.Lzw,
  COMPRESSION.Deflate,
  COMPRESSION.DeflateOld,
  COMPRESSION.Zstd,
];
const UINT_BITS = [1, 8, 16, 32, 64];

const COMPRESSION_NAMES: Readonly<Record<number, string>> = {
  2: 'fax',
  3: 'fax',
  4: 'fax',
  6: 'old JPEG',
  34712: 'JPEG 2000',
  34887: 'LERC',
  34925: 'LZMA',
  50001: 'WebP',
  50002: 'JPEG XL',
};

function checkCompression(compression: number): void {
  if ((Object.values(COMPRESSION) as number[]).includes(compression)) return;
  throw new TiffError(
    'compression-unsupported',
    `The file is packed with ${COMPRESSION_NAMES[compression] ?? `method ${compression}`}, which cannot be opened here.`,
    'Save it again with DEFLATE packing (in GDAL: -co COMPRESS=DEFLATE).',
  );
}
