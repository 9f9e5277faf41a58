import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import type { ByteSource } from '../../geo/formats/byte-source.ts';
import { readOverviewPicture } from '../../geo/formats/geotiff/overview-picture.ts';
import { readElevation } from '../../geo/formats/geotiff/read-elevation.ts';
import { readPhoto } from '../../geo/formats/geotiff/read-photo.ts';
import { readRasterHeader } from '../../geo/formats/geotiff/raster-header.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { readBack, toTiff, valueOf } from '../geotiff-samples.ts';
import { rasterDifference } from '../raster-difference.ts';

// Files made by native GDAL (tests/fixtures/geotiff/README.md says how and from which formula), so the
// heights are known without any reader; pictures are compared with GDAL's own decoding.

let gdal: Gdal;
beforeAll(async () => {
  gdal = await openGdal();
});

const fixture = (name: string) =>
  new Uint8Array(readFileSync(`tests/fixtures/geotiff/${name}.tif`));

function heightAt(column: number, row: number): number {
  if ((column - 80) ** 2 + (row - 60) ** 2 < 400) return NaN;
  return Math.round((200 + 20 * Math.sin(column / 30) * Math.cos(row / 25)) * 4) / 4;
}
function surface(left = 0, top = 0, width = 300, height = 200): Float32Array {
  return Float32Array.from({ length: width * height }, (_, i) =>
    heightAt(left + (i % width), top + Math.floor(i / width)),
  );
}
function counted(bytes: Uint8Array): ByteSource & { bytesRead: number; reads: number } {
  const source = {
    name: 'counted.tif',
    size: bytes.byteLength,
    bytesRead: 0,
    reads: 0,
    read: (offset: number, length: number) => {
      const part = bytes.slice(offset, offset + length);
      source.bytesRead += part.byteLength;
      source.reads++;
      return Promise.resolve(part);
    },
  };
  return source;
}

describe('elevation', () => {
  test.each(['zstd-predictor-3', 'cloud-optimised', 'internal-mask'])('%s', async (name) => {
    const { raw } = await readBack(fixture(name));
    expect(rasterDifference(raw.data, surface())).toMatchObject({ largest: 0, dataMismatches: 0 });
  });

  test('a window reads only its own blocks', async () => {
    const bytes = fixture('zstd-predictor-3');
    const source = counted(bytes);
    const header = valueOf(await readRasterHeader(source));
    expect([source.reads, source.bytesRead]).toEqual([1, 16384]);
    const window = { column: 70, row: 5, width: 50, height: 40 };
    const raw = valueOf(await readElevation(source, header, { window }));
    expect(rasterDifference(raw.data, surface(70, 5, 50, 40))).toMatchObject({
      largest: 0,
      dataMismatches: 0,
    });
    expect([raw.affine.c, raw.affine.f]).toEqual([500170, 4900195]);
    // One tile of the 20 is needed: far less than the file.
    expect(source.bytesRead - 16384).toBeLessThan(bytes.byteLength / 10);
  });

  test('a window across blocks and past the last whole tile', async () => {
    const source = counted(fixture('cloud-optimised'));
    const header = valueOf(await readRasterHeader(source));
    const window = { column: 101, row: 99, width: 199, height: 101 };
    const raw = valueOf(await readElevation(source, header, { window }));
    expect(rasterDifference(raw.data, surface(101, 99, 199, 101))).toMatchObject({
      largest: 0,
      dataMismatches: 0,
    });
  });

  test('overviews are levels; nearest sampling makes them known', async () => {
    const source = counted(fixture('cloud-optimised'));
    const header = valueOf(await readRasterHeader(source));
    expect(header.levels.map((l) => [l.width, l.height])).toEqual([
      [300, 200],
      [150, 100],
      [75, 50],
    ]);
    const path = gdal.write('cog.tif', fixture('cloud-optimised'));
    const half = await gdal.run('gdal_translate', path, ['-of', 'GTiff', '-ovr', '0'], 'half.tif');
    const theirs = await gdal.band(half);
    const raw = valueOf(await readElevation(source, header, { level: 1 }));
    const expected = Float32Array.from(theirs.data, (v) => (v === -9999 ? NaN : v));
    expect(rasterDifference(raw.data, expected)).toMatchObject({ largest: 0, dataMismatches: 0 });
    expect(raw.affine).toMatchObject({ a: 2, e: -2, c: 500100, f: 4900200 });
  });

  test('progress rises to 1, and a stop is heard between blocks', async () => {
    const source = counted(fixture('zstd-predictor-3'));
    const header = valueOf(await readRasterHeader(source));
    const shares: number[] = [];
    await readElevation(source, header, { onProgress: ({ share }) => void shares.push(share) });
    expect(shares.at(-1)).toBe(1);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    let asked = 0;
    const stopped = await readElevation(source, header, { shouldStop: () => ++asked > 5 });
    expect(stopped).toMatchObject({ ok: false, problem: { code: 'stopped' } });
  });

  test('a small picture for choosing a window', async () => {
    const source = counted(fixture('cloud-optimised'));
    const header = valueOf(await readRasterHeader(source));
    const picture = valueOf(await readOverviewPicture(source, header, { longestSide: 60 }));
    expect([picture.width, picture.height]).toEqual([38, 25]);
    expect([picture.fullWidth, picture.fullHeight]).toEqual([300, 200]);
    // Every second cell of the quarter overview: the disc's middle at 80/8, 60/8.
    expect(picture.pixels[4 * (7 * 38 + 10) + 3]).toBe(0);
    expect(picture.pixels[4 * (2 * 38 + 2) + 3]).toBe(255);
    // Taken from the smallest overview: header and one block.
    expect(source.reads).toBeLessThanOrEqual(3);
  });
});

describe('photos', () => {
  async function bands(path: string): Promise<Float64Array[]> {
    const all: Float64Array[] = [];
    for (const band of ['1', '2', '3']) {
      const one = await gdal.run(
        'gdal_translate',
        path,
        ['-of', 'GTiff', '-b', band],
        `band-${band}.tif`,
      );
      all.push((await gdal.band(one)).data);
    }
    return all;
  }
  async function photo(bytes: Uint8Array, choices = {}) {
    const source = counted(bytes);
    const header = valueOf(await readRasterHeader(source));
    expect(header.purpose).toBe('photo');
    return valueOf(await readPhoto(source, header, choices));
  }
  function largest(pixels: Uint8ClampedArray, theirs: Float64Array[]): number {
    let worst = 0;
    theirs.forEach((band, k) => {
      band.forEach((value, i) => {
        if (pixels[4 * i + 3] === 255)
          worst = Math.max(worst, Math.abs(pixels[4 * i + k]! - value));
      });
    });
    return worst;
  }

  test('JPEG in YCbCr', async () => {
    const bytes = fixture('photo-jpeg-ycbcr');
    const read = await photo(bytes);
    expect([read.width, read.height, read.reduction]).toEqual([96, 64, 1]);
    const theirs = await bands(gdal.write('ycbcr.tif', fixture('photo-jpeg-ycbcr-decoded')));
    // Brightness is stored at full resolution and must agree; colour is stored at half, and libjpeg
    // smooths between its samples where our decoder repeats them.
    const [red, green, blue] = theirs;
    let worst = 0;
    red!.forEach((value, i) => {
      const ours = [0, 1, 2].map((k) => read.pixels[4 * i + k]!);
      const bright = 0.299 * ours[0]! + 0.587 * ours[1]! + 0.114 * ours[2]!;
      const expected = 0.299 * value + 0.587 * green![i]! + 0.114 * blue![i]!;
      worst = Math.max(worst, Math.abs(bright - expected));
    });
    expect(worst).toBeLessThan(3);
    expect(largest(read.pixels, theirs)).toBeLessThanOrEqual(12);
  });

  test('JPEG as RGB with an internal mask', async () => {
    const bytes = fixture('photo-jpeg-rgb-mask');
    const read = await photo(bytes);
    expect(
      largest(
        read.pixels,
        await bands(gdal.write('rgb.tif', fixture('photo-jpeg-rgb-mask-decoded'))),
      ),
    ).toBeLessThanOrEqual(3);
    for (let i = 0; i < 96 * 64; i++) {
      expect(read.pixels[4 * i + 3]).toBe(i % 96 < 10 ? 0 : 255);
    }
  });

  test('plain, apart, with alpha, palette, 16 bits, reduced', async () => {
    const cells = 40 * 30;
    const raw = Uint8Array.from({ length: 4 * cells }, (_, i) =>
      i >= 3 * cells ? (i % 40 < 5 ? 0 : 255) : (i * 7 + (i >> 5) * 3) % 256,
    );
    const header =
      'ENVI\nsamples = 40\nlines = 30\nbands = 4\nheader offset = 0\ndata type = 1\ninterleave = bsq\n';
    gdal.write('rgba.hdr', new TextEncoder().encode(header));
    const input = gdal.write('rgba.bin', raw);
    const place = ['-a_srs', 'EPSG:26916', '-a_ullr', '500000', '4900030', '500040', '4900000'];
    const rgb = ['-b', '1', '-b', '2', '-b', '3'];
    const expectPixels = (pixels: Uint8ClampedArray, alpha: boolean) => {
      let wrong = 0;
      for (let i = 0; i < cells; i++) {
        for (let k = 0; k < 3; k++) if (pixels[4 * i + k] !== raw[k * cells + i]) wrong++;
        if (pixels[4 * i + 3] !== (alpha ? raw[3 * cells + i] : 255)) wrong++;
      }
      expect(wrong).toBe(0);
    };
    const make = (args: string[], name: string) => toTiff(gdal, input, [...place, ...args], name);

    const plain = await make([...rgb, '-co', 'PHOTOMETRIC=RGB', '-co', 'COMPRESS=LZW'], 'p1.tif');
    expectPixels((await photo(plain)).pixels, false);
    const apart = await make(
      [...rgb, '-co', 'INTERLEAVE=BAND', '-co', 'PHOTOMETRIC=RGB'],
      'p2.tif',
    );
    expectPixels((await photo(apart)).pixels, false);
    const alpha = await make(['-co', 'PHOTOMETRIC=RGB', '-co', 'ALPHA=YES'], 'p3.tif');
    expectPixels((await photo(alpha)).pixels, true);
    const wide = await make(
      [...rgb, '-ot', 'UInt16', '-scale', '0', '255', '0', '4080', '-co', 'PHOTOMETRIC=RGB'],
      'p4.tif',
    );
    const narrowed = await photo(wide);
    // 16-bit values were 16 times the 8-bit ones; the brightest half percent saturates.
    let off = 0;
    for (let i = 0; i < cells; i++) {
      for (let k = 0; k < 3; k++) {
        off = Math.max(off, Math.abs(narrowed.pixels[4 * i + k]! - raw[k * cells + i]!));
      }
    }
    expect(off).toBeLessThanOrEqual(3);
    const reduced = await photo(plain, { mostPixels: 300 });
    expect([reduced.width, reduced.height, reduced.reduction]).toEqual([20, 15, 2]);
    expect(reduced.affine).toMatchObject({ a: 2, e: -2, c: 500000, f: 4900030 });
    expect(reduced.pixels[4 * (3 * 20 + 4)]).toBe(raw[6 * 40 + 8]);
  });
});
