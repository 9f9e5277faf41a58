import { describe, expect, test } from 'vitest';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { frameFor, openFrame } from '../../geo/frame/open-frame.ts';
import { isOnEarth } from '../../geo/raster/is-on-earth.ts';
import { valueOf } from '../geotiff-samples.ts';

// A file may claim any place. What is on the earth is what each system is published for; what is not
// is arithmetic: the earth is 40,000 km round.

const grid = (west: string, south: string, cell: string) =>
  `ncols 4\nnrows 4\nxllcorner ${west}\nyllcorner ${south}\ncellsize ${cell}\n` +
  '1 2 3 4\n'.repeat(4);

async function open(epsg: number, ...texts: string[]): Promise<string> {
  const sources = texts.map((text, i) =>
    memorySource(text.startsWith('x') ? `${i}.csv` : `${i}.asc`, new TextEncoder().encode(text)),
  );
  const opening = await openGround(sources, { epsg, verticalUnit: 'metre' });
  return opening.kind === 'refused' ? opening.problem.code : opening.kind;
}

describe('a place where a system is used', () => {
  // Code, longitude, latitude: both edges of UTM zones and a zone beyond; the areas of use of EPSG.
  test.each([
    [26918, -78, 25],
    [26918, -72, 49],
    [26918, -84, 45],
    [6344, -93, 45],
    [32612, -111, 70],
    [5070, -124, 48],
    [5070, -67, 45],
    [2264, -84.3, 35],
    [2264, -75.4, 36.5],
    [2227, -122, 38],
    [4269, -90, 30],
    [3857, -150, 65],
  ])('EPSG:%s at %s, %s is on the earth', (epsg, lng, lat) => {
    const frame = openFrame(frameFor(valueOf(crsFromEpsg(epsg)), lng, lat));
    const [x, y] = frame.fromLngLat(lng, lat);
    const shape = { width: 4000, height: 4000, west: x - 2000, north: y + 2000 };
    for (const cell of [0.05, 1, 10])
      expect(isOnEarth({ ...shape, cellWidth: cell, cellHeight: cell }, frame)).toBe(true);
  });
});

describe('a place that is none', () => {
  test.each([
    ['cells of 10,000 km', 26918, '500000', '4000000', '1e7'],
    ['cells of no size', 26918, '500000', '4000000', '1e-300'],
    ['cells finer than their coordinates', 26918, '500000', '4000000', '1e-12'],
    ['a corner beyond all numbers', 26918, '1e300', '4000000', '1'],
    ['a corner a million times round the earth', 5070, '4e13', '1000000', '1'],
    ['cells that overflow', 2264, '2000000', '600000', '1e200'],
  ])('%s is refused alone and among tiles', async (_, epsg, west, south, cell) => {
    const bad = grid(west, south, cell);
    expect(await open(epsg, bad)).toBe('placement-impossible');
    expect(await open(epsg, bad, bad)).toMatch(/^(tile-nowhere|placement-impossible)$/);
  });

  test('so is a tile whose neighbour lies beyond all numbers', async () => {
    const good = grid('500000', '4000000', '1');
    expect(await open(26918, good, grid('1e300', '4000000', '1'))).toBe('tile-nowhere');
    expect(await open(26918, good, grid('500004', '4000000', '1'))).toBe('opened');
  });

  test('so are points', async () => {
    const points = (scale: number) =>
      `x,y,z\n${[0, 1, 2, 3, 4].map((i) => `${500_000 + scale * i},${4_000_000 + scale * ((i * i) % 3)},${i}`).join('\n')}`;
    expect(await open(26918, points(1.3))).toBe('opened');
    expect(await open(26918, points(3e7))).toBe('points-nowhere');
  });
});
