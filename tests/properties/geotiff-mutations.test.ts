import { beforeAll, expect, test } from 'vitest';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { readElevation } from '../../geo/formats/geotiff/read-elevation.ts';
import { readOverviewPicture } from '../../geo/formats/geotiff/overview-picture.ts';
import { readPhoto } from '../../geo/formats/geotiff/read-photo.ts';
import { readRasterHeader } from '../../geo/formats/geotiff/raster-header.ts';
import { toGrid } from '../../geo/formats/geotiff/to-grid.ts';
import { finish } from '../../geo/work.ts';
import { openGdal } from '../gdal.ts';
import { creation, toTiff, UTM_PLACE, writeGround } from '../geotiff-samples.ts';
import { fuzzCount } from '../fuzz-count.ts';
import { seeded } from '../seeded.ts';

// Small files with bytes changed, cut and doubled: whatever comes, the answer is a value or a problem
// with a code; nothing is thrown, nothing hangs. The seed names the case.

const MUTATIONS = fuzzCount(2000, 0.2);
let samples: Uint8Array[];
beforeAll(async () => {
  const gdal = await openGdal();
  const ground = writeGround(gdal, 'g', -9999, { width: 40, height: 30 });
  const bands = writeGround(gdal, 'b', 100, { width: 40, height: 30, bands: 3 });
  const place = UTM_PLACE;
  const make = (input: string, co: string, ...args: string[]) =>
    toTiff(gdal, input, [...place, ...args, ...creation(co)], `m${co.length}${args.length}.tif`);
  samples = [
    await make(ground, 'COMPRESS=DEFLATE PREDICTOR=3 TILED=YES BLOCKXSIZE=16 BLOCKYSIZE=16'),
    await make(ground, 'COMPRESS=LZW PREDICTOR=2', '-ot', 'Int16'),
    await make(ground, 'COMPRESS=PACKBITS BIGTIFF=YES', '-a_nodata', '-9999'),
    await make(ground, 'ENDIANNESS=BIG', '-ot', 'Float64'),
    await make(bands, 'PHOTOMETRIC=RGB COMPRESS=LZW INTERLEAVE=BAND', '-ot', 'Byte'),
  ];
});

async function openAll(bytes: Uint8Array): Promise<string> {
  const source = memorySource('mutated.tif', bytes);
  const header = await readRasterHeader(source);
  if (!header.ok) return header.problem.code;
  const window = {
    column: 0,
    row: 0,
    width: Math.min(64, header.value.width),
    height: Math.min(64, header.value.height),
  };
  await readPhoto(source, header.value, { window, mostPixels: 10_000 });
  const raw = await readElevation(source, header.value, { window });
  if (!raw.ok) return raw.problem.code;
  const small = header.value.width * header.value.height < 1e6;
  if (small) await readOverviewPicture(source, header.value, { longestSide: 16 });
  const grid = finish(toGrid(header.value, raw.value, { verticalUnit: 'metre' }));
  if (!grid.ok) return grid.problem.code;
  return 'opened';
}

test(
  `${MUTATIONS} mutations end as a value or a problem`,
  { timeout: 60_000 + MUTATIONS * 40 },
  async () => {
    const endings = new Map<string, number>();
    for (let seed = 1; seed <= MUTATIONS; seed++) {
      const random = seeded(seed);
      const whole = (n: number) => Math.floor(random() * n);
      let bytes = samples[seed % samples.length]!.slice();
      const changes = 1 + whole(4);
      for (let i = 0; i < changes; i++) {
        // Half of the changes go into the directory, where they hurt most.
        const at = random() < 0.5 ? whole(Math.min(400, bytes.length)) : whole(bytes.length);
        bytes[at] = random() < 0.3 ? 255 : random() < 0.3 ? 0 : whole(256);
      }
      if (random() < 0.1) bytes = bytes.subarray(0, whole(bytes.length));
      let ending: string;
      try {
        ending = await openAll(bytes);
      } catch (error) {
        throw new Error(`seed ${seed}: ${error instanceof Error ? error.stack : String(error)}`);
      }
      endings.set(ending, (endings.get(ending) ?? 0) + 1);
    }
    // The mutations must reach deep: many open, and many kinds of trouble are seen.
    expect(endings.get('opened')).toBeGreaterThan(200);
    expect(endings.size).toBeGreaterThan(8);
  },
);
