import { beforeAll, describe, expect, test } from 'vitest';
import { openGdal, type Gdal } from '../gdal.ts';
import { rasterDifference } from '../raster-difference.ts';
import { creation, readBack, toTiff, UTM_PLACE, writeGround } from '../geotiff-samples.ts';

// Reference throughout: GDAL 3 in WebAssembly writes each file, and its own reading of that file
// (translated to raw float64) and its own geotransform are what ours must equal, bit for bit in
// float32.

let gdal: Gdal;
let ground: string;
let threeBands: string;
beforeAll(async () => {
  gdal = await openGdal();
  ground = writeGround(gdal, 'ground', -9999);
  threeBands = writeGround(gdal, 'three', -9999, { bands: 3 });
});

interface Encoding {
  readonly co: string;
  readonly args?: readonly string[];
  readonly bands?: 3;
  readonly noData?: number | null;
}

const NODATA = ['-a_nodata', '-9999'];
const ENCODINGS: Record<string, Encoding> = {
  'float32 strips, not packed': { co: '' },
  'float32 tiles, not packed': { co: 'TILED=YES BLOCKXSIZE=64 BLOCKYSIZE=48' },
  'float32 one strip': { co: 'BLOCKYSIZE=91' },
  'float32 strips of 7 rows, deflate': { co: 'COMPRESS=DEFLATE BLOCKYSIZE=7' },
  'float32 tiles, deflate': { co: 'COMPRESS=DEFLATE TILED=YES BLOCKXSIZE=64 BLOCKYSIZE=64' },
  'float32 deflate at level 1': { co: 'COMPRESS=DEFLATE ZLEVEL=1' },
  'float32 deflate predictor 2': { co: 'COMPRESS=DEFLATE PREDICTOR=2 TILED=YES' },
  'float32 deflate predictor 3': { co: 'COMPRESS=DEFLATE PREDICTOR=3 TILED=YES' },
  'float32 deflate predictor 3, strips of odd width': { co: 'COMPRESS=DEFLATE PREDICTOR=3' },
  'float32 LZW': { co: 'COMPRESS=LZW' },
  'float32 LZW predictor 2': { co: 'COMPRESS=LZW PREDICTOR=2' },
  'float32 LZW predictor 3, tiles': {
    co: 'COMPRESS=LZW PREDICTOR=3 TILED=YES BLOCKXSIZE=32 BLOCKYSIZE=16',
  },
  'float32 PackBits': { co: 'COMPRESS=PACKBITS' },
  'float64 not packed': { co: '', args: ['-ot', 'Float64'] },
  'float64 deflate predictor 3': { co: 'COMPRESS=DEFLATE PREDICTOR=3', args: ['-ot', 'Float64'] },
  'float64 LZW tiles': { co: 'COMPRESS=LZW TILED=YES', args: ['-ot', 'Float64'] },
  float16: { co: 'NBITS=16 COMPRESS=DEFLATE' },
  'float16 predictor 3': { co: 'NBITS=16 COMPRESS=DEFLATE PREDICTOR=3' },
  'int16 deflate predictor 2': { co: 'COMPRESS=DEFLATE PREDICTOR=2', args: ['-ot', 'Int16'] },
  'int16 LZW predictor 2 tiles': {
    co: 'COMPRESS=LZW PREDICTOR=2 TILED=YES',
    args: ['-ot', 'Int16'],
  },
  'uint16 with a no-data value that does not fit': { co: 'COMPRESS=LZW', args: ['-ot', 'UInt16'] },
  'int32 deflate predictor 2': { co: 'COMPRESS=DEFLATE PREDICTOR=2', args: ['-ot', 'Int32'] },
  'uint32 not packed': { co: '', args: ['-ot', 'UInt32'] },
  'uint8 PackBits': { co: 'COMPRESS=PACKBITS', args: ['-ot', 'Byte'] },
  'uint8 deflate predictor 2': { co: 'COMPRESS=DEFLATE PREDICTOR=2', args: ['-ot', 'Byte'] },
  'BigTIFF deflate predictor 3 tiles': { co: 'BIGTIFF=YES COMPRESS=DEFLATE PREDICTOR=3 TILED=YES' },
  'BigTIFF LZW strips of one row': { co: 'BIGTIFF=YES COMPRESS=LZW BLOCKYSIZE=1' },
  'big-endian float32': { co: 'ENDIANNESS=BIG' },
  // Not big-endian with predictor 3: GDAL 3.6 does not read back its own numbers there.
  'big-endian deflate predictor 2 tiles': {
    co: 'ENDIANNESS=BIG COMPRESS=DEFLATE PREDICTOR=2 TILED=YES',
  },
  'big-endian int16 predictor 2': {
    co: 'ENDIANNESS=BIG COMPRESS=LZW PREDICTOR=2',
    args: ['-ot', 'Int16'],
  },
  'big-endian float64': { co: 'ENDIANNESS=BIG COMPRESS=DEFLATE', args: ['-ot', 'Float64'] },
  'big-endian BigTIFF, a strip a row': { co: 'ENDIANNESS=BIG BIGTIFF=YES BLOCKYSIZE=1' },
  'three bands side by side, deflate predictor 3': {
    co: 'COMPRESS=DEFLATE PREDICTOR=3 INTERLEAVE=PIXEL PHOTOMETRIC=MINISBLACK',
    bands: 3,
  },
  'three bands apart, LZW tiles': {
    co: 'COMPRESS=LZW INTERLEAVE=BAND TILED=YES BLOCKXSIZE=64 BLOCKYSIZE=64',
    bands: 3,
  },
  'three bands apart, not packed': { co: 'INTERLEAVE=BAND', bands: 3 },
};

describe('what GDAL writes, we read as GDAL reads it', () => {
  test.each(Object.entries(ENCODINGS))('%s', async (name, { co, args = [], bands }) => {
    const all = [...UTM_PLACE, ...NODATA, ...args, ...creation(co)];
    const file = `${name.replace(/\W+/g, '-')}.tif`;
    const bytes = await toTiff(gdal, bands ? threeBands : ground, all, file);
    await expectAsGdal(bytes, file);
  });

  test('a strip larger than a read is taken in parts', async () => {
    const big = writeGround(gdal, 'large', -9999, { width: 1500, height: 900 });
    const args = [...UTM_PLACE, ...NODATA, '-ot', 'Float64', ...creation('BLOCKYSIZE=900')];
    const bytes = await toTiff(gdal, big, args, 'large.tif');
    expect(bytes.byteLength).toBeGreaterThan(10_000_000);
    await expectAsGdal(bytes, 'large.tif');
  });
});

describe('no data', () => {
  test.each([-9999, -999999, -3.4028234663852886e38, 1e38])('declared as %s', async (hole) => {
    const input = writeGround(gdal, 'hole', hole);
    const args = [...UTM_PLACE, '-a_nodata', String(hole), ...creation('COMPRESS=DEFLATE')];
    const bytes = await toTiff(gdal, input, args, 'hole.tif');
    const { header, raw } = await expectAsGdal(bytes, 'hole.tif');
    expect(Math.fround(header.noData!)).toBe(Math.fround(hole));
    expect(raw.missing).toBe(29 * 29);
    expect(raw.notes).toEqual([]);
  });

  test('declared as nan, or NaN cells without a word', async () => {
    const input = writeGround(gdal, 'hole-nan', NaN);
    for (const declared of [['-a_nodata', 'nan'], []]) {
      const args = [...UTM_PLACE, ...declared, ...creation('COMPRESS=DEFLATE PREDICTOR=3')];
      const bytes = await toTiff(gdal, input, args, 'hole-nan.tif');
      const { header, raw } = await readBack(bytes);
      expect(header.noData).toBe(declared.length > 0 ? NaN : null);
      expect(raw.missing).toBe(29 * 29);
    }
  });

  test.each([1e38, -1e38, -9999, -32767])(
    '%s in cells without a word of it is taken, and said',
    async (hole) => {
      const input = writeGround(gdal, 'silent', hole);
      const bytes = await toTiff(gdal, input, UTM_PLACE, 'silent.tif');
      const { raw } = await readBack(bytes);
      expect(raw.missing).toBe(29 * 29);
      expect(raw.notes).toHaveLength(1);
      expect(raw.notes[0]).toContain('841 cells');
    },
  );

  test('left-out tiles are no data even where no data is NaN or not declared, never 0', async () => {
    for (const declared of [['-a_nodata', 'nan'], ['-a_nodata', '-9999'], []]) {
      // Twice the size in file cells: GDAL leaves out the tiles that lie wholly outside the source.
      const window = ['-srcwin', '-100', '-100', '400', '400'];
      const options = creation(
        'SPARSE_OK=TRUE TILED=YES BLOCKXSIZE=32 BLOCKYSIZE=32 COMPRESS=DEFLATE',
      );
      const args = [...UTM_PLACE, ...declared, ...window, ...options];
      const bytes = await toTiff(gdal, ground, args, 'sparse.tif');
      const { raw } = await readBack(bytes);
      expect(raw.data[0]).toBeNaN();
      expect(raw.data[raw.data.length - 1]).toBeNaN();
      expect(raw.data[150 * 400 + 150]).toBeGreaterThan(170);
      // Where nothing is declared GDAL itself fills the rest of half-covered tiles with 0.
      if (declared.length > 0) expect(raw.data.some((v) => v === 0)).toBe(false);
    }
  });
});

const fround = (v: number | null) => (v === null ? null : Math.fround(v));

async function expectAsGdal(bytes: Uint8Array, file: string) {
  const path = gdal.write(`check-${file}`, bytes);
  const theirs = await gdal.band(path);
  const info = (await gdal.info(path)) as {
    geoTransform: number[];
    bands: { noDataValue?: number }[];
  };
  const noData = info.bands[0]!.noDataValue ?? null;
  const read = await readBack(bytes);
  const { header, raw } = read;
  expect([header.width, header.height]).toEqual([theirs.width, theirs.height]);
  expect(fround(header.noData)).toBe(fround(noData));
  const { a, b, c, d, e, f } = raw.affine;
  // GDAL prints its geotransform to 16 digits.
  [c, a, b, f, d, e].forEach((ours, i) => {
    const theirs = info.geoTransform[i]!;
    expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(1e-15 * Math.abs(theirs));
  });
  const expected = Float32Array.from(theirs.data, (v) =>
    fround(v) === fround(noData) || !(Math.abs(v) < 1e30) ? NaN : v,
  );
  const difference = rasterDifference(raw.data, expected);
  expect(difference).toMatchObject({ largest: 0, dataMismatches: 0 });
  expect(difference.compared).toBeGreaterThan(0);
  return read;
}
