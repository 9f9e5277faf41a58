/**
 * Tag numbers of TIFF 6.0 (1992), its Technical Note 2, GeoTIFF 1.1 (OGC 19-008r4) and GDAL's two
 * private tags, as far as this reader looks at them.
 */
export const TAG = {
  NewSubfileType: 254,
  ImageWidth: 256,
  ImageLength: 257,
  BitsPerSample: 258,
  Compression: 259,
  Photometric: 262,
  StripOffsets: 273,
  SamplesPerPixel: 277,
  RowsPerStrip: 278,
  StripByteCounts: 279,
  PlanarConfiguration: 284,
  DateTime: 306,
  Predictor: 317,
  ColorMap: 320,
  TileWidth: 322,
  TileLength: 323,
  TileOffsets: 324,
  TileByteCounts: 325,
  ExtraSamples: 338,
  SampleFormat: 339,
  JpegTables: 347,
  ModelPixelScale: 33550,
  ModelTiepoint: 33922,
  ModelTransformation: 34264,
  GeoKeyDirectory: 34735,
  GeoDoubleParams: 34736,
  GeoAsciiParams: 34737,
  GdalMetadata: 42112,
  GdalNoData: 42113,
} as const;

export const PHOTOMETRIC = {
  WhiteIsZero: 0,
  BlackIsZero: 1,
  Rgb: 2,
  Palette: 3,
  Mask: 4,
  Separated: 5,
  YCbCr: 6,
} as const;

export const COMPRESSION = {
  None: 1,
  Lzw: 5,
  Jpeg: 7,
  Deflate: 8,
  DeflateOld: 32946,
  PackBits: 32773,
  Zstd: 50000,
} as const;
