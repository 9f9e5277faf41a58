import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { water } from '../../app/cli/water.ts';
import { openGdal, type Gdal } from '../gdal.ts';

/** `assart water`, run in this process; what it writes is read back by GDAL. */

interface Printed {
  readonly used: Record<string, number>;
  readonly lowSpots: readonly { readonly id: string; readonly volumeCubicMeters: number }[];
  readonly filledVolumeCubicMeters: number;
  readonly storm: Record<
    'rainCubicMeters' | 'runoffMeters' | 'standingCubicMeters' | 'leftSiteCubicMeters' | 'soakedCubicMeters', // prettier-ignore
    number
  > & {
    readonly standing: readonly { readonly maxDepthMeters: number; readonly hoursToDry: number }[];
  };
}

async function run(...args: string[]): Promise<Printed> {
  let text = '';
  const spy = vi.spyOn(process.stdout, 'write').mockImplementation((piece) => {
    text += String(piece);
    return true;
  });
  try {
    await water.run(args);
  } finally {
    spy.mockRestore();
  }
  return JSON.parse(text) as Printed;
}

let folder: string;
let bowl: string;
let gdal: Gdal;
beforeAll(async () => {
  gdal = await openGdal();
  folder = mkdtempSync(join(tmpdir(), 'assart-'));
  // Nine cells at 5 within a shelf at 8, which a notch at 7 in a rim of 10 lets go: by hand, 3 m deep.
  const rows = Array.from({ length: 7 }, (_, y) =>
    Array.from({ length: 7 }, (_, x) => {
      if (x === 0 || y === 0 || x === 6 || y === 6) return x === 3 && y === 0 ? 7 : 10;
      return x === 3 && y === 3 ? 5 : Math.abs(x - 3) < 2 && Math.abs(y - 3) < 2 ? 5 : 8;
    }),
  );
  bowl = join(folder, 'bowl.asc');
  const head = 'ncols 7\nnrows 7\nxllcorner 500000\nyllcorner 4000000\ncellsize 1\n';
  writeFileSync(bowl, head + rows.map((row) => row.join(' ')).join('\n'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const place = ['--crs', '26918', '--vertical-unit', 'metre'];

describe('assart water', () => {
  test('balance, and depth that GDAL reads as it was said', async () => {
    const out = join(folder, 'out');
    const of = await run(bowl, '--rain', '8in', '--cn', '98', '--min-area', '1m2', ...place, '--out', out); // prettier-ignore
    const { storm } = of;
    const sum = storm.standingCubicMeters + storm.leftSiteCubicMeters + storm.soakedCubicMeters;
    expect(sum / storm.rainCubicMeters).toBeCloseTo(1, 12);
    // TR-55 table 2-1: 8 in on 98 sheds 7.76 in.
    expect(storm.runoffMeters / 0.0254).toBeCloseTo(7.76, 2);
    const path = gdal.write('depth.tif', new Uint8Array(readFileSync(join(out, 'depth.tif'))));
    const depth = await gdal.band(path);
    let cubic = 0;
    for (const metres of depth.data) cubic += metres;
    // One-metre cells; the tract's zone is short by 0.9996 twice.
    expect(cubic / 0.9996 ** 2 / storm.standingCubicMeters).toBeCloseTo(1, 4);
    const shapes = JSON.parse(readFileSync(join(out, 'low-spots.geojson'), 'utf8')) as { features: unknown[] }; // prettier-ignore
    expect(shapes.features).toHaveLength(storm.standing.filter((s) => s.maxDepthMeters > 0).length);
  });

  test('a flood fills it to its spill and no deeper', async () => {
    const of = await run(bowl, '--rain', '100in', '--cn', '98', '--min-area', '1m2', ...place);
    expect(of.storm.standingCubicMeters).toBeCloseTo(of.filledVolumeCubicMeters, 6);
    expect(of.storm.standing[0]!.maxDepthMeters).toBeCloseTo(3, 6);
    expect((of.filledVolumeCubicMeters * 0.9996 ** 2) / 27).toBeCloseTo(1, 4);
  });

  test('no rain: nothing stands, and the low spots are the same', async () => {
    const of = await run(bowl, '--rain', '0', '--min-area', '1m2', ...place);
    expect(of.storm.standingCubicMeters).toBe(0);
    expect(of.lowSpots[0]!.volumeCubicMeters).toBeCloseTo(of.filledVolumeCubicMeters, 9);
  });

  test.each([
    [['--rain', 'much'], /--rain cannot be "much"/],
    [['--rain', '1000in'], /--rain cannot be/],
    [['--rain', '1in', '--cn', '20'], /--cn cannot be "20"/],
    [['--rain', '1in', '--cn', ''], /--cn cannot be ""/],
    [['--rain', '1in', '--ksat', '-1'], /--ksat/],
    [['--rain', '1in', '--min-area', 'big'], /--min-area cannot be "big"/],
    [[], /Say the rain/],
  ])('%j is refused in one line', async (args, says) => {
    await expect(run(bowl, ...args, ...place)).rejects.toThrow(says);
  });

  test('a ground that does not say its vertical unit is refused with the way out', async () => {
    await expect(run(bowl, '--rain', '1in', '--crs', '26918')).rejects.toThrow(/--vertical-unit/);
  });
});
