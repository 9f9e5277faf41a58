import { beforeAll, expect, test } from 'vitest';
import { memorySource, type ByteSource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import type { OpenedGround } from '../../geo/formats/opening.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { rasterDifference } from '../raster-difference.ts';

// Reference: GDAL. Each tile is cut and, where wanted, warped by GDAL; gdalwarp joins them, ours too.

let gdal: Gdal;
beforeAll(async () => {
  gdal = await openGdal();
});

type Opened = Extract<OpenedGround, { kind: 'opened' }>;

async function opened(sources: readonly ByteSource[]): Promise<Opened> {
  const opening = await openGround(sources, { verticalUnit: 'metre' });
  if (opening.kind !== 'opened') throw new Error(JSON.stringify(opening));
  return opening;
}

const hill = (x: number, y: number) =>
  300 + 8 * Math.sin((x - 500_000) / 23) * Math.cos((y - 4_000_000) / 17) + (x - 500_000) * 0.02;

/** An ASCII grid of the hill with a hole in it, turned into a GeoTIFF by GDAL. */
async function tile(
  name: string,
  west: number,
  north: number,
  width: number,
  height: number,
  hole?: [number, number, number, number],
): Promise<string> {
  const rows: string[] = [];
  for (let r = 0; r < height; r++) {
    const row: string[] = [];
    for (let c = 0; c < width; c++) {
      const empty = hole && c >= hole[0] && c < hole[2] && r >= hole[1] && r < hole[3];
      row.push(empty ? '-9999' : hill(west + c + 0.5, north - r - 0.5).toFixed(4));
    }
    rows.push(row.join(' '));
  }
  const text = `ncols ${width}\nnrows ${height}\nxllcorner ${west}\nyllcorner ${north - height}\ncellsize 1\nNODATA_value -9999\n${rows.join('\n')}\n`;
  const path = gdal.write(`${name}.asc`, new TextEncoder().encode(text));
  return gdal.run(
    'gdal_translate',
    path,
    ['-of', 'GTiff', '-a_srs', 'EPSG:26915', '-ot', 'Float32'],
    `${name}.tif`,
  );
}

const warp = (path: string, args: readonly string[], name: string) =>
  gdal.run('gdalwarp', path, ['-of', 'GTiff', ...args], name);

const source = (path: string, name: string) => memorySource(name, gdal.read(path));

test('overlapping tiles with holes and a gap equal gdalwarp, earlier name on top', async () => {
  const a = await tile('a', 500_000, 4_000_100, 70, 60, [20, 10, 40, 30]);
  const b = await tile('b', 500_050, 4_000_090, 60, 80, [0, 20, 15, 40]);
  const c = await tile('c', 500_000, 4_000_030, 40, 30);
  const ours = await opened([source(b, 'b.tif'), source(c, 'c.tif'), source(a, 'a.tif')]);

  // gdalwarp paints each file over the one before, so the first by name goes last.
  const extent = ['-te', '500000', '4000000', '500110', '4000100', '-tr', '1', '1'];
  const canvas = await warp(c, [...extent, '-dstnodata', '-9999'], 'c-wide.tif');
  const theirs = await gdal.band(canvas);
  for (const path of [b, a]) {
    const wide = await gdal.band(
      await warp(path, [...extent, '-dstnodata', '-9999'], `${path.replace(/\W/g, '')}-wide.tif`),
    );
    for (let i = 0; i < wide.data.length; i++) {
      if (wide.data[i] !== -9999) theirs.data[i] = wide.data[i]!;
    }
  }
  const { grid, draft } = ours;
  expect([grid.width, grid.height, grid.west, grid.north]).toEqual([110, 100, 500_000, 4_000_100]);
  const found = rasterDifference(
    grid.data,
    theirs.data.map((z) => (z === -9999 ? NaN : z)),
  );
  expect(found.dataMismatches).toBe(0);
  expect(found.compared).toBeGreaterThan(7000);
  expect(found.largest).toBe(0);
  expect(draft.notes.join(' ')).toMatch(/3 tiles joined.*lies in no tile/);
  expect(draft.name).toBe('a and 2 more');
});

test('a tile between the cells is resampled as gdalwarp -r bilinear does', async () => {
  const a = await tile('d', 500_000, 4_000_100, 60, 60);
  const b = await tile('e', 500_060.3, 4_000_100.4, 60, 60);
  const ours = await opened([source(a, 'd.tif'), source(b, 'e.tif')]);
  const { grid } = ours;
  const east = 500_000 + grid.width;
  const south = grid.north - grid.height;
  const wide = await warp(
    b,
    [
      '-te',
      '500000',
      `${south}`,
      `${east}`,
      `${grid.north}`,
      '-tr',
      '1',
      '1',
      '-r',
      'bilinear',
      '-dstnodata',
      '-9999',
    ],
    'e-wide.tif',
  );
  const theirs = (await gdal.band(wide)).data;
  let largest = 0;
  let compared = 0;
  for (let i = 0; i < theirs.length; i++) {
    const column = i % grid.width;
    const row = Math.floor(i / grid.width);
    // Inside tile e, a cell from its edges (edge cells have no neighbours on one side).
    if (column < 62 || column > 118 || row < 2 || row > 58) continue;
    largest = Math.max(largest, Math.abs(theirs[i]! - grid.data[i]!));
    compared++;
  }
  expect(compared).toBeGreaterThan(3000);
  // Float32 at 300 m: one unit in the last place is 3.1e-5 m.
  expect(largest).toBeLessThan(7e-5);
  expect(ours.draft.notes.join(' ')).toMatch(/e\.tif lies between the cells/);
});

test('a tile in the neighbour zone lands on the hill as gdalwarp puts it', async () => {
  // On the edge between zones 15 and 16, where a survey is published in both.
  const [[x, y]] = (await gdal.transform([[-90, 36]], 'OGC:CRS84', 'EPSG:26915')) as [
    [number, number],
  ];
  const west = Math.round(x) - 60;
  const north = Math.round(y) + 60;
  const a = await tile('f', west, north, 80, 120);
  const b15 = await tile('g15', west + 60, north, 80, 120);
  const b16 = await warp(
    b15,
    ['-t_srs', 'EPSG:26916', '-tr', '1', '1', '-r', 'bilinear', '-dstnodata', '-9999'],
    'g16.tif',
  );
  const ours = await opened([source(a, 'f.tif'), source(b16, 'g.tif')]);
  const { grid } = ours;
  expect(grid.frame.epsg).toBe(26915);
  const back = await warp(
    b16,
    [
      '-t_srs',
      'EPSG:26915',
      '-te',
      `${grid.west}`,
      `${grid.north - grid.height}`,
      `${grid.west + grid.width}`,
      `${grid.north}`,
      '-tr',
      '1',
      '1',
      '-r',
      'bilinear',
      '-et',
      '0',
      '-dstnodata',
      '-9999',
    ],
    'g-back.tif',
  );
  const theirs = (await gdal.band(back)).data;
  let largest = 0;
  let compared = 0;
  const left = west - grid.west;
  for (let i = 0; i < theirs.length; i++) {
    const column = (i % grid.width) - left;
    const row = Math.floor(i / grid.width) - (grid.north - north);
    if (column < 82 || column > 137 || row < 3 || row > 116) continue;
    largest = Math.max(largest, Math.abs(theirs[i]! - grid.data[i]!));
    compared++;
  }
  expect(compared).toBeGreaterThan(6000);
  // The control grid may be 0.04 cells off; the hill is at most 0.5 steep: 0.02 m.
  expect(largest).toBeLessThan(0.02);
  expect(ours.draft.notes.join(' ')).toMatch(
    /g\.tif is in NAD83 \/ UTM zone 16N and was resampled/,
  );
});

test('tiles that do not belong together are told apart', async () => {
  const a = await tile('h', 500_000, 4_000_100, 20, 20);
  const coarse = await warp(a, ['-tr', '2', '2'], 'h2.tif');
  const feet = await warp(a, ['-t_srs', 'EPSG:2264', '-tr', '3', '3'], 'h-feet.tif');
  const code = async (path: string) => {
    const opening = await openGround([source(a, 'h.tif'), source(path, 'i.tif')], {
      verticalUnit: 'metre',
    });
    return opening.kind === 'refused' ? opening.problem.code : opening.kind;
  };
  expect(await code(coarse)).toBe('tiles-differ-in-cell');
  expect(await code(feet)).toBe('tiles-differ-in-system');
});
