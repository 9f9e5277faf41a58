import { expect, test } from 'vitest';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { fuzzCount } from '../fuzz-count.ts';
import { fuzzTally, refusal } from '../fuzz-tally.ts';
import { seeded } from '../seeded.ts';

// Whatever stands in a file: a ground, a question or a refusal, never an exception, a hang or a
// ground that was half read. Seeds are fixed; a failing case prints its own.

const ASC =
  'ncols 6\nnrows 5\nxllcorner 500000\nyllcorner 4000000\ncellsize 2\nNODATA_value -9999\n' +
  '300.1 301 302 303 304 305\n306 307 -9999 309 310 311\n312 313 314 315 316 317\n318 319 320 321 322 323\n1 2 3 4 5 6\n';
const CSV =
  'P,N,E,Z,D\n1,4000001.5,500002.25,300.5,GND\n2,4000011.5,500003.25,301.5,"EP, wet"\n' +
  '3,4000007,500022.1,302,TOP\n4,4000021.5,500012.25,303.5,\n5,4000015,500001,300,GND\n';
const XYZ = Array.from(
  { length: 25 },
  (_, i) => `${500000 + (i % 5)} ${4000000 + Math.floor(i / 5)} ${i}`,
).join('\n');
const PRJ =
  'GEOGCS["NAD83",DATUM["North_American_Datum_1983",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]';
const SCRAPS = [
  'nan',
  '-',
  '1e999',
  '99999999999',
  ',',
  '\t',
  '"',
  '\n',
  '\r\n',
  '\0',
  '-9999',
  '1e-300',
  'ncols',
  'é',
  ' ',
  '#',
  '.',
  '0',
];

function mutated(text: string, random: () => number): Uint8Array {
  let result = text;
  const pick = (limit: number) => Math.floor(random() * limit);
  for (let turns = 1 + pick(4); turns > 0; turns--) {
    const at = pick(result.length + 1);
    const to = at + pick(12);
    switch (pick(5)) {
      case 0:
        result = result.slice(0, at) + SCRAPS[pick(SCRAPS.length)]! + result.slice(to);
        break;
      case 1:
        result = result.slice(0, at);
        break;
      case 2:
        result = result.slice(0, at) + result.slice(to);
        break;
      case 3:
        result += result.slice(at, at + 200);
        break;
      default: {
        const digit = result.slice(at).search(/\d/);
        if (digit >= 0)
          result = result.slice(0, at + digit) + pick(10) + result.slice(at + digit + 1);
      }
    }
  }
  const bytes = new TextEncoder().encode(result);
  if (random() < 0.2 && bytes.length > 0) bytes[pick(bytes.length)] = pick(256);
  return bytes;
}

/** A ground that opened is whole. */
function checkGround(grid: Grid): void {
  expect(grid.data.length).toBe(grid.width * grid.height);
  expect(Number.isFinite(grid.west + grid.north + grid.cellGroundAreaSquareMeters)).toBe(true);
  // A point thrown far away makes tens of millions of cells: one loop, no calls.
  let heights = 0;
  let wild = 0;
  for (const z of grid.data) {
    if (z === z) heights++;
    if (Math.abs(z) > 1e30) wild++;
  }
  expect(heights).toBeGreaterThan(0);
  expect(wild).toBe(0);
}

const COUNT = fuzzCount(2000, 0.2);

test(
  `${COUNT} damaged files end as ground, question or refusal`,
  { timeout: 60_000 + COUNT * 40 },
  async () => {
    const tally = fuzzTally();
    for (let seed = 1; seed <= COUNT; seed++) {
      const random = seeded(seed);
      const [name, text] = (
        [
          ['a.asc', ASC],
          ['b.csv', CSV],
          ['c.xyz', XYZ],
        ] as const
      )[seed % 3]!;
      const files = [memorySource(name, mutated(text, random))];
      if (random() < 0.3)
        files.push(memorySource(name.replace(/\..*/, '.prj'), mutated(PRJ, random)));
      const choices = random() < 0.8 ? ({ epsg: 26915, verticalUnit: 'metre' } as const) : {};
      await tally.take(`${name}, seed ${seed}`, async () => {
        const opening = await openGround(files, choices);
        if (opening.kind === 'refused') return refusal(opening.problem);
        if (opening.kind === 'opened') checkGround(opening.grid);
        return { end: opening.kind };
      });
    }
    tally.close();
    // The mutations must reach all ends, else this test proves little.
    const all = JSON.stringify([...tally.ends]);
    for (const end of ['opened', 'ask', 'refused'])
      expect(tally.count(end), all).toBeGreaterThan(COUNT / 20);
    expect(tally.ends.size, all).toBeGreaterThan(12);
  },
);
