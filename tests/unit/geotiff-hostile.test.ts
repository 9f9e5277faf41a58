import { beforeAll, describe, expect, test } from 'vitest';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { readElevation } from '../../geo/formats/geotiff/read-elevation.ts';
import { readOverviewPicture } from '../../geo/formats/geotiff/overview-picture.ts';
import { readRasterHeader } from '../../geo/formats/geotiff/raster-header.ts';
import { layOutTiff, type WriteTag } from '../../geo/formats/geotiff/tiff-writer.ts';
import { toGrid } from '../../geo/formats/geotiff/to-grid.ts';
import type { Problem, Result } from '../../geo/result.ts';
import { finish } from '../../geo/work.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { creation, toTiff, UTM_PLACE, valueOf, writeGround } from '../geotiff-samples.ts';

// Bad input of issue 2: each ends as one problem with one plain sentence and a way out.

let gdal: Gdal;
let good: Uint8Array;
beforeAll(async () => {
  gdal = await openGdal();
  const ground = writeGround(gdal, 'ground', -9999);
  const options = creation('COMPRESS=DEFLATE TILED=YES BLOCKXSIZE=64 BLOCKYSIZE=64');
  good = await toTiff(gdal, ground, [...UTM_PLACE, '-a_nodata', '-9999', ...options], 'good.tif');
});

/** Opens as far as it goes; heights taken as metres. */
async function problemOf(bytes: Uint8Array): Promise<Problem> {
  const source = memorySource('bad.tif', bytes);
  const header = await readRasterHeader(source);
  if (!header.ok) return sound(header.problem);
  const raw = await readElevation(source, header.value);
  if (!raw.ok) return sound(raw.problem);
  const grid = finish(toGrid(header.value, raw.value, { verticalUnit: 'metre' }));
  if (!grid.ok) return sound(grid.problem);
  throw new Error('it opened');
}

function sound(problem: Problem): Problem {
  expect(problem.what).toMatch(/^[A-Z].*\.$/s);
  expect(problem.wayOut).toMatch(/^[A-Z].*\.$/s);
  return problem;
}

/** A 4 × 4 TIFF of our own making, tags changed at will. */
function tiny(changes: readonly WriteTag[], blocks = [new Uint8Array(16 * 16 * 4)]): Uint8Array {
  const tags = new Map<number, WriteTag>();
  const short = (tag: number, ...values: number[]) => tags.set(tag, { tag, type: 'short', values });
  short(256, 4);
  short(257, 4);
  short(258, 32);
  short(259, 1);
  short(262, 1);
  short(277, 1);
  short(322, 16);
  short(323, 16);
  short(339, 3);
  tags.set(33550, { tag: 33550, type: 'double', values: [1, 1, 0] });
  tags.set(33922, { tag: 33922, type: 'double', values: [0, 0, 0, 500000, 4900000, 0] });
  short(34735, 1, 1, 0, 2, 1024, 0, 1, 1, 3072, 0, 1, 26916);
  for (const change of changes) tags.set(change.tag, change);
  return layOutTiff([...tags.values()], blocks);
}
const long = (tag: number, ...values: number[]): WriteTag => ({ tag, type: 'long', values });

describe('what is not a survey', () => {
  test.each([
    ['nothing', new Uint8Array(0)],
    ['text', new TextEncoder().encode('ncols 4 nrows 4 and so on')],
    ['a JPEG', Uint8Array.of(0xff, 0xd8, 0xff, 0xe0, 0, 16, 74, 70, 73, 70)],
    ['another version', Uint8Array.of(0x49, 0x49, 44, 0, 8, 0, 0, 0, 0, 0)],
  ])('%s is not a TIFF', async (_, bytes) => {
    expect((await problemOf(bytes)).code).toBe('not-a-tiff');
  });

  test('a file without a place', async () => {
    const none = tiny([{ tag: 33550, type: 'double', values: [] }]);
    expect((await problemOf(none)).code).toBe('placement-missing');
  });

  test('RGB given as elevation is known as a photo', async () => {
    const ground = writeGround(gdal, 'rgb', 90, { bands: 3 });
    const args = [...UTM_PLACE, '-ot', 'Byte', ...creation('PHOTOMETRIC=RGB')];
    const bytes = await toTiff(gdal, ground, args, 'rgb.tif');
    const header = valueOf(await readRasterHeader(memorySource('rgb.tif', bytes)));
    expect(header.purpose).toBe('photo');
    expect((await problemOf(bytes)).code).toBe('raster-is-photo');
  });

  test('a single cell, and a strip of two', async () => {
    for (const size of [1, 2]) {
      const problem = await problemOf(tiny([long(256, size), long(257, 4)]));
      expect(problem.code).toBe('raster-too-small');
      expect(problem.what).toContain(`${size} × 4`);
    }
  });

  test('every cell no data', async () => {
    const ground = writeGround(gdal, 'empty', -9999);
    const args = [...UTM_PLACE, '-srcwin', '65', '25', '20', '20', '-a_nodata', '-9999'];
    expect((await problemOf(await toTiff(gdal, ground, args, 'empty.tif'))).code).toBe(
      'raster-all-nodata',
    );
  });
});

describe('damage', () => {
  test('cut anywhere it is a problem, and mostly says that it ends too early', async () => {
    const codes = new Map<string, number>();
    for (let length = 8; length < good.length - 1; length += 97) {
      const { code } = await problemOf(good.subarray(0, length));
      codes.set(code, (codes.get(code) ?? 0) + 1);
    }
    expect([...codes.keys()]).toEqual(['tiff-truncated']);
  });

  test('a flipped bit in packed cells is found, or was padding and changes nothing', async () => {
    const read = async (bytes: Uint8Array) => {
      const source = memorySource('good.tif', bytes);
      return readElevation(source, valueOf(await readRasterHeader(source)));
    };
    const sum = (data: Float32Array) => data.reduce((a, v) => (Number.isNaN(v) ? a : a + v), 0);
    const right = sum(valueOf(await read(good)).data);
    let found = 0;
    for (let at = good.length - 6000; at < good.length; at += 83) {
      const bytes = good.slice();
      bytes[at] = bytes[at]! ^ 4;
      const raw = await read(bytes);
      if (raw.ok) expect(sum(raw.value.data)).toBe(right);
      else {
        expect(sound(raw.problem).code).toBe('block-damaged');
        found++;
      }
    }
    expect(found).toBeGreaterThan(65);
  });

  test('blocks beyond the end of the file', async () => {
    const bytes = tiny([]);
    const at = tagAt(bytes, 324);
    new DataView(bytes.buffer).setUint32(at + 8, 0x7fffffff, true);
    expect((await problemOf(bytes)).code).toBe('tiff-truncated');
  });

  test('directories that point back at themselves', async () => {
    const bytes = tiny([]);
    const view = new DataView(bytes.buffer);
    view.setUint32(8 + 2 + 12 * view.getUint16(8, true), 8, true);
    const problem = await problemOf(bytes);
    expect(problem.code).toBe('tiff-damaged');
    expect(problem.what).toContain('back at themselves');
  });

  test('a tag that claims four thousand million values', async () => {
    const bytes = tiny([]);
    for (const tag of [258, 324, 33550, 34735]) {
      const copy = bytes.slice();
      new DataView(copy.buffer).setUint32(tagAt(bytes, tag) + 4, 0xffffffff, true);
      const { code } = await problemOf(copy);
      // The few values that are needed are now looked for elsewhere in the file: what stands there
      // is no sample size, and a block address of 0 means a left-out block.
      const allowed: Record<number, string> = {
        258: 'sample-type-unsupported',
        324: 'raster-all-nodata',
        33550: 'tiff-truncated',
        34735: 'tiff-truncated',
      };
      expect(code, String(tag)).toBe(allowed[tag]);
    }
  });
});

describe('sizes', () => {
  test('2^31 × 2^31 is refused before anything is taken', async () => {
    const problem = await problemOf(tiny([long(256, 2 ** 31), long(257, 2 ** 31)]));
    expect(problem.code).toBe('raster-size-impossible');
  });

  test('100,000 × 100,000 with one tile in the file asks for a window, and then finds the tiles missing', async () => {
    const bytes = tiny([long(256, 100_000), long(257, 100_000)]);
    expect((await problemOf(bytes)).code).toBe('window-needed');
    const source = memorySource('huge.tif', bytes);
    const header = valueOf(await readRasterHeader(source));
    const window = { column: 5000, row: 5000, width: 100, height: 100 };
    expect(await readElevation(source, header, { window })).toMatchObject({
      ok: false,
      problem: { code: 'tiff-damaged' },
    });
    expect((await readOverviewPicture(source, header)).ok).toBe(false);
  });

  test('one block of 40,000 × 40,000 is refused', async () => {
    const bytes = tiny([
      long(256, 40_000),
      long(257, 40_000),
      long(322, 40_000),
      long(323, 40_000),
    ]);
    expect((await problemOf(bytes)).code).toBe('block-too-large');
  });

  test('a packing or a number that cannot be read is named', async () => {
    const lerc = await problemOf(tiny([{ tag: 259, type: 'short', values: [34887] }]));
    expect(lerc).toMatchObject({ code: 'compression-unsupported' });
    expect(lerc.what).toContain('LERC');
    const complex = await problemOf(tiny([{ tag: 339, type: 'short', values: [6] }]));
    expect(complex.code).toBe('sample-type-unsupported');
    const twelve = await problemOf(
      tiny([
        { tag: 258, type: 'short', values: [12] },
        { tag: 339, type: 'short', values: [1] },
      ]),
    );
    expect(twelve.code).toBe('sample-type-unsupported');
  });
});

describe('coordinates and heights', () => {
  const values = new Uint8Array(Float32Array.from({ length: 256 }, (_, i) => i).buffer);
  const keys = (...rest: number[]): WriteTag => ({
    tag: 34735,
    type: 'short',
    values: [1, 1, 0, rest.length / 4, ...rest],
  });

  test('no coordinate system: the header opens and says so', async () => {
    const bytes = tiny([keys()], [values]);
    const header = valueOf(await readRasterHeader(memorySource('a.tif', bytes)));
    expect(header.crs.ok).toBe(false);
    expect(header.cellMeters).toBeNull();
    expect((await problemOf(bytes)).code).toBe(codeOf(header.crs));
  });

  // EPSG 26716: NAD27 / UTM zone 16N.
  test('NAD27 is refused', async () => {
    const problem = await problemOf(tiny([keys(1024, 0, 1, 1, 3072, 0, 1, 26716)], [values]));
    expect(problem.what).toContain('NAD27');
  });

  test('a vertical unit that nobody says is asked for', async () => {
    const source = memorySource('a.tif', tiny([], [values]));
    const header = valueOf(await readRasterHeader(source));
    const raw = valueOf(await readElevation(source, header));
    expect(codeOf(finish(toGrid(header, raw)))).toBe('vertical-unit-unknown');
  });

  test('degrees taken for metres, and metres for degrees', async () => {
    const degrees = tiny(
      [
        { tag: 33550, type: 'double', values: [0.00001, 0.00001, 0] },
        { tag: 33922, type: 'double', values: [0, 0, 0, -87.5, 44.2, 0] },
      ],
      [values],
    );
    expect((await problemOf(degrees)).code).toBe('degrees-taken-for-metres');
    const metres = tiny([keys(1024, 0, 1, 2, 2048, 0, 1, 4269)], [values]);
    expect((await problemOf(metres)).code).toBe('metres-taken-for-degrees');
  });

  test.each([1e12, 1e300])('coordinates of %s have no place', async (far) => {
    const bytes = tiny([{ tag: 33922, type: 'double', values: [0, 0, 0, far, far, 0] }], [values]);
    expect((await problemOf(bytes)).code).toBe('placement-impossible');
  });

  test('a no-data number that the cells cannot hold counts for nothing', async () => {
    const cells = Uint16Array.from({ length: 256 }, (_, i) => i % 7);
    const bytes = tiny(
      [
        { tag: 258, type: 'short', values: [16] },
        { tag: 339, type: 'short', values: [1] },
        { tag: 42113, type: 'ascii', values: '-9999' },
      ],
      [new Uint8Array(cells.buffer)],
    );
    const source = memorySource('u16.tif', bytes);
    const raw = valueOf(await readElevation(source, valueOf(await readRasterHeader(source))));
    expect([raw.missing, raw.data[0], raw.data[5]]).toEqual([0, 0, 17 % 7]);
  });

  test('a failing source is said in words', async () => {
    const source = {
      name: 'gone.tif',
      size: 100_000,
      read: () => Promise.reject(new Error('the file was moved')),
    };
    const header = await readRasterHeader(source);
    expect(header).toMatchObject({ ok: false, problem: { code: 'source-read-failed' } });
  });
});

function codeOf(result: Result<unknown>): string {
  return result.ok ? 'ok' : result.problem.code;
}

/** Where the entry of a tag stands in a file of `layOutTiff`. */
function tagAt(bytes: Uint8Array, tag: number): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  for (let i = 0; i < view.getUint16(8, true); i++) {
    if (view.getUint16(10 + 12 * i, true) === tag) return 10 + 12 * i;
  }
  throw new RangeError(`no tag ${tag}`);
}
