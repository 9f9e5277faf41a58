import { readFileSync } from 'node:fs';
import { zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { readCapabilities } from '../../geo/formats/imagery/read-capabilities.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import { readRainTable } from '../../geo/formats/rain-table.ts';
import { sortFiles } from '../../geo/formats/sort-files.ts';
import { unzipTiles } from '../../geo/formats/tile-zip.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import type { Result } from '../../geo/result.ts';
import { fuzzCount } from '../fuzz-count.ts';
import { fuzzTally, refusal, type FuzzEnd } from '../fuzz-tally.ts';
import { wms111, wms130, wmts } from '../imagery-samples.ts';
import {
  sha256,
  testProject,
  unzipped,
  wholeProject,
  zipOf,
  type TestProject,
} from '../project-rig.ts';
import { seeded } from '../seeded.ts';

// Damaged rainfall tables, capabilities of imagery, projects, zips of elevation and pictures with a
// world file: each is read, asked about or refused with a code and the way out; nothing is thrown
// and nothing takes 5 s. The seed names the case.

type Files = Record<string, Uint8Array>;

const COUNT = fuzzCount(600, 0.2);
const BASE = 'http://127.0.0.1/x';
const SCRAPS =
  'nan - -1 0 1e999 , " \n \0 < &x; ]]> <!DOCTYPE { [ null "" ../ / .tif \\ 99999999999999999999'.split(
    ' ',
  );
const utf8 = (text: string) => new TextEncoder().encode(text);
const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);

function hurt(bytes: Uint8Array, random: () => number): Uint8Array {
  const whole = (n: number) => Math.floor(random() * n);
  let out = bytes;
  for (let turns = random() < 0.5 ? 1 : 1 + whole(4); turns > 0; turns--) {
    const at = whole(out.length + 1);
    const put = [
      utf8(SCRAPS[whole(SCRAPS.length)]!),
      out.slice(at, at + whole(60)),
      new Uint8Array(),
      Uint8Array.of(whole(256)),
      Uint8Array.of(48 + whole(10)),
    ][whole(5)]!;
    // One byte in the place of one leaves every offset behind it right.
    const taken = put.length === 1 && random() < 0.7 ? 1 : whole(12);
    const rest = random() < 0.05 ? new Uint8Array() : out.subarray(at + taken);
    out = Uint8Array.from([...out.subarray(0, at), ...put, ...rest]);
  }
  return out;
}

/** The project of the tests with a ground of a few cells and no photo: quick to read a thousand times. */
function smallProject(): TestProject {
  const { plan } = testProject();
  const [ground] = Object.values(plan.grounds) as GroundRecord[];
  const place = { ...ground!.place, width: 20, height: 15 };
  const data = Float32Array.from({ length: 300 }, (_, i) => (i === 7 ? NaN : 180 + (i % 20)));
  const id = sha256(data);
  const settings = { ...plan.settings, groundId: id, photoId: null };
  const grounds = { [id]: { ...ground!, id, place } };
  return { plan: { ...plan, settings, grounds, photos: {} }, rasters: new Map([[id, data]]) };
}

const grid = (west: number) =>
  `ncols 3\nnrows 3\nxllcorner ${west}\nyllcorner 4000000\ncellsize 2\nNODATA_value -9999\n300 301 302\n303 304 -9999\n305 306 307\n`;
const PRJ =
  'GEOGCS["NAD83",DATUM["North_American_Datum_1983",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]';
const TILES: Files = {
  'tiles/a.asc': utf8(grid(500_000)),
  'tiles/b.asc': utf8(grid(500_006)),
  'tiles/readme.txt': utf8('Two tiles of one survey.'),
};
const PICTURE: Files = {
  'p.png': Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, ...new Uint8Array(40)),
  'p.pgw': utf8('0.5\n0\n0\n-0.5\n500000.25\n4000000.75\n'),
  'p.prj': utf8(PRJ),
};

/** A drop, as the page takes it: sorted, unzipped, opened. */
async function openDrop(files: Files): Promise<FuzzEnd> {
  const sources = Object.entries(files).map(([name, bytes]) => memorySource(name, bytes));
  await sortFiles(sources);
  const inside = await unzipTiles(sources, {});
  if (!inside.ok) return refusal(inside.problem);
  const opening = await openGround(inside.value, { epsg: 26918, verticalUnit: 'metre' });
  return opening.kind === 'refused' ? refusal(opening.problem) : { end: opening.kind };
}

async function openProject(bytes: Uint8Array): Promise<FuzzEnd> {
  const project = await wholeProject(bytes);
  if (!project.ok) return refusal(project.problem);
  const { problems } = project.value;
  return { end: problems.length > 0 ? `part ${problems[0]!.code}` : 'opened', problems };
}

const endOf = (result: Result<unknown>): FuzzEnd =>
  result.ok ? { end: 'opened' } : refusal(result.problem);

test(
  `${COUNT} damaged tables, capabilities, projects and drops are read, asked or refused`,
  { timeout: 60_000 + COUNT * 40 },
  async () => {
    const rain = new Uint8Array(readFileSync('fixtures/demo/rain.csv'));
    const offers = [wms111, wms130, wmts].map((make) => utf8(make(BASE)));
    const zip = await zipOf(smallProject());
    const tiles = zipSync(TILES);
    const tally = fuzzTally();
    for (let seed = 1; seed <= COUNT; seed++) {
      const random = seeded(seed);
      const hurtOne = (files: Files): Files => {
        const names = Object.keys(files);
        const name = names[Math.floor(random() * names.length)]!;
        return { ...files, [name]: hurt(files[name]!, random) };
      };
      const readers: readonly [string, () => FuzzEnd | Promise<FuzzEnd>][] = [
        ['rain', () => endOf(readRainTable('rain.csv', text(hurt(rain, random))))],
        ['offer', () => endOf(readCapabilities(text(hurt(offers[seed % 3]!, random)), BASE))],
        // The bytes of a zip; then a part of it, that passes its checksum.
        ['zip', () => openProject(hurt(zip, random))],
        ['project', () => openProject(zipSync(hurtOne(unzipped(zip)), { level: 0 }))],
        ['tiles', () => openDrop({ 't.zip': random() < 0.7 ? hurt(tiles, random) : zipSync(hurtOne(TILES)) })], // prettier-ignore
        ['picture', () => openDrop(hurtOne(PICTURE))],
      ];
      const [sort, read] = readers[Math.floor(random() * readers.length)]!;
      await tally.take(`${sort}, seed ${seed}`, async () => {
        const ending = await read();
        return { ...ending, end: `${sort} ${ending.end}` };
      });
    }
    tally.close();
    // The mutations must reach both ends of every reader, else this test proves little.
    const all = JSON.stringify([...tally.ends]);
    for (const sort of ['rain', 'offer', 'zip', 'project', 'tiles']) {
      expect(tally.count(`${sort} opened`), all).toBeGreaterThan(0);
      expect(tally.count(`${sort} refused`), all).toBeGreaterThan(COUNT / 100);
    }
    expect(tally.count('picture photo'), all).toBeGreaterThan(COUNT / 100);
    expect(tally.ends.size, all).toBeGreaterThan(20);
  },
);
