import { beforeAll, expect, test } from 'vitest';
import { openPhoto } from '../../app/workers/open-photo.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { decodeHere } from '../../geo/formats/geotiff/decode-block.ts';
import { readElevation } from '../../geo/formats/geotiff/read-elevation.ts';
import { readOverviewPicture } from '../../geo/formats/geotiff/overview-picture.ts';
import { readPhoto } from '../../geo/formats/geotiff/read-photo.ts';
import { readRasterHeader } from '../../geo/formats/geotiff/raster-header.ts';
import { toGrid } from '../../geo/formats/geotiff/to-grid.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import type { Problem, Result } from '../../geo/result.ts';
import { finish } from '../../geo/work.ts';
import { openGdal } from '../gdal.ts';
import { creation, toTiff, UTM_PLACE, writeGround } from '../geotiff-samples.ts';
import { fuzzCount } from '../fuzz-count.ts';
import { fuzzTally, refusal, type FuzzEnd } from '../fuzz-tally.ts';
import { seeded } from '../seeded.ts';

// Small files with bytes changed, cut and doubled: whatever comes, the answer is a value or a problem
// with a code; nothing is thrown, nothing hangs. The seed names the case.

const MUTATIONS = fuzzCount(1500, 0.2);
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

/** Each reader by itself, then the door that asks what the file does not say. */
async function openAll(bytes: Uint8Array): Promise<FuzzEnd> {
  const source = memorySource('mutated.tif', bytes);
  const header = await readRasterHeader(source);
  if (!header.ok) return refusal(header.problem);
  const { width, height } = header.value;
  const window = { column: 0, row: 0, width: Math.min(64, width), height: Math.min(64, height) };
  const problems: Problem[] = [];
  const keep = <T>(result: Result<T>) => {
    if (!result.ok) problems.push(result.problem);
    return result;
  };
  keep(await readPhoto(source, header.value, { window, mostPixels: 10_000 }));
  const isSmall = width * height < 1e6;
  if (isSmall) await readOverviewPicture(source, header.value, { longestSide: 16 });
  const raw = keep(await readElevation(source, header.value, { window }));
  if (raw.ok) keep(finish(toGrid(header.value, raw.value, { verticalUnit: 'metre' })));
  const opening = await openGround([source], { epsg: 26918, verticalUnit: 'metre' });
  let end: FuzzEnd = { end: opening.kind };
  if (opening.kind === 'refused') end = refusal(opening.problem);
  if (opening.kind === 'photo') {
    const photo = await openPhoto(opening.photo, { decoder: decodeHere });
    if (!photo.ok) end = refusal(photo.problem);
  }
  return { ...end, problems: [...problems, ...(end.problems ?? [])] };
}

test(
  `${MUTATIONS} mutations end as a value or a problem`,
  { timeout: 60_000 + MUTATIONS * 40 },
  async () => {
    const tally = fuzzTally();
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
      await tally.take(`seed ${seed}`, () => openAll(bytes));
    }
    tally.close();
    // The mutations must reach deep: many open, and many kinds of trouble are seen.
    const all = JSON.stringify([...tally.ends]);
    expect(tally.count('opened'), all).toBeGreaterThan(MUTATIONS / 10);
    expect(tally.count('photo'), all).toBeGreaterThan(MUTATIONS / 100);
    expect(tally.ends.size, all).toBeGreaterThan(10);
  },
);
