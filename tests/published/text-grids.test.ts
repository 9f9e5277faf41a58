import { beforeAll, expect, test } from 'vitest';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { frameFor, openCrs, openFrame } from '../../geo/frame/open-frame.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import type { GroundChoices } from '../../geo/formats/opening.ts';
import { prjText } from '../../geo/formats/prj-text.ts';
import { asciiGridPieces, joinPieces, xyzPieces } from '../../geo/formats/write-text-grid.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { rasterDifference } from '../raster-difference.ts';
import { seeded } from '../seeded.ts';

// Reference: GDAL's AAIGrid and XYZ drivers, both ways: what we write it reads, what it writes we read.

let gdal: Gdal;
beforeAll(async () => {
  gdal = await openGdal();
});

const METRES = { unit: 'metre', datum: 'NAVD88', epsg: 5703 } as const;

function groundAt(epsg: number, lng: number, lat: number, holes = true): Grid {
  const crs = crsFromEpsg(epsg);
  if (!crs.ok) throw new Error(crs.problem.what);
  const frame = openFrame(frameFor(crs.value, lng, lat));
  const [x, y] = frame.fromLngLat(lng, lat);
  const random = seeded(epsg);
  const data = Float32Array.from({ length: 23 * 17 }, () =>
    holes && random() < 0.1 ? NaN : 250 + 30 * random(),
  );
  const shape = {
    width: 23,
    height: 17,
    west: Math.round(x),
    north: Math.round(y),
    cellWidth: 2.5,
    cellHeight: 2.5,
  };
  return makeGrid(shape, data, frame);
}

async function open(names: Readonly<Record<string, Uint8Array>>, choices: GroundChoices = {}) {
  const sources = Object.entries(names).map(([name, bytes]) => memorySource(name, bytes));
  const opening = await openGround(sources, choices);
  if (opening.kind !== 'opened') throw new Error(JSON.stringify(opening));
  return opening;
}

const text = (value: string) => new TextEncoder().encode(value);

function expectSameGround(found: Grid, expected: Grid) {
  const place = (g: Grid) => [g.width, g.height, g.cellWidth, g.cellHeight];
  expect(place(found)).toEqual(place(expected));
  expect(found.west).toBeCloseTo(expected.west, 6);
  expect(found.north).toBeCloseTo(expected.north, 6);
  expect(rasterDifference(found.data, expected.data)).toMatchObject({
    largest: 0,
    dataMismatches: 0,
  });
}

// UTM, Lambert and transverse Mercator state plane in feet of both kinds, oblique Mercator (Alaska 1).
const SYSTEMS: readonly [number, number, number][] = [
  [26915, -93, 36],
  [6340, -105, 40],
  [32616, -85, 36],
  [2264, -80, 35.5],
  [2223, -111.9, 34],
  [26931, -133, 57],
  [5070, -96, 38],
];

test.each(SYSTEMS)(
  'EPSG %i: our ASCII grid and .prj are read by GDAL and by us',
  async (epsg, lng, lat) => {
    const ground = groundAt(epsg, lng, lat);
    const asc = joinPieces(asciiGridPieces(ground));
    const prj = text(prjText(ground.frame, METRES));
    const path = gdal.write(`ours${epsg}.asc`, asc);
    gdal.write(`ours${epsg}.prj`, prj);
    const band = await gdal.band(path);
    const theirs = band.data.map((z) => (z === -9999 ? NaN : z));
    expect(rasterDifference(Float32Array.from(theirs), ground.data)).toMatchObject({
      largest: 0,
      dataMismatches: 0,
    });
    // The system as GDAL understood it puts a point where ours does.
    const info = (await gdal.info(path)) as {
      coordinateSystem: { wkt: string };
      geoTransform: number[];
    };
    expect(info.geoTransform[0]).toBe(ground.west);
    expect(info.geoTransform[3]).toBeCloseTo(ground.north, 6);
    const at: [number, number] = [ground.west, ground.north];
    const [theirPlace] = await gdal.transform([at], info.coordinateSystem.wkt, geographicOf(epsg));
    const [ourLng, ourLat] = openCrs(ground.frame).toLngLat(...at);
    expect(theirPlace![0]).toBeCloseTo(ourLng, 8);
    expect(theirPlace![1]).toBeCloseTo(ourLat, 8);

    const again = await open({ 'ours.asc': asc, 'ours.prj': prj });
    expectSameGround(again.grid, ground);
    expect(again.draft.vertical).toMatchObject({ unit: 'metre', datum: 'NAVD88' });
  },
);

/** Longitude and latitude on the system's own datum, so that GDAL shifts nothing. */
const geographicOf = (epsg: number) =>
  epsg === 32616 ? 'OGC:CRS84' : epsg === 6340 ? 'EPSG:6318' : 'OGC:CRS83';

test('our XYZ is read by GDAL and by us', async () => {
  const ground = groundAt(26915, -93, 36, false);
  const xyz = joinPieces(xyzPieces(ground));
  const path = gdal.write('ours.xyz', xyz);
  const band = await gdal.band(path);
  expect(rasterDifference(Float32Array.from(band.data), ground.data).largest).toBe(0);
  const info = (await gdal.info(path)) as { geoTransform: number[] };
  expect([info.geoTransform[0], info.geoTransform[3]]).toEqual([ground.west, ground.north]);
  const again = await open({ 'ours.xyz': xyz }, { epsg: 26915, verticalUnit: 'metre' });
  expectSameGround(again.grid, ground);
});

test('an XYZ with holes comes back to us with its holes', async () => {
  const ground = groundAt(26915, -93, 36);
  const again = await open(
    { 'ours.xyz': joinPieces(xyzPieces(ground)) },
    {
      epsg: 26915,
      verticalUnit: 'metre',
    },
  );
  expectSameGround(again.grid, ground);
});

test("GDAL's own ASCII grids and XYZ are read with the same numbers and coordinates", async () => {
  const ground = groundAt(26915, -93, 36);
  const from = gdal.write('start.asc', joinPieces(asciiGridPieces(ground)));
  gdal.write('start.prj', text(prjText(ground.frame, METRES)));
  for (const [name, args] of [
    ['center.asc', ['-of', 'AAIGrid', '-co', 'FORCE_CELLSIZE=TRUE']],
    ['digits.asc', ['-of', 'AAIGrid', '-co', 'SIGNIFICANT_DIGITS=9']],
    ['comma.xyz', ['-of', 'XYZ', '-co', 'COLUMN_SEPARATOR=,', '-co', 'ADD_HEADER_LINE=YES']],
    ['blank.xyz', ['-of', 'XYZ']],
  ] as const) {
    const made = await gdal.run('gdal_translate', from, args, name);
    const opened = await open({ [name]: gdal.read(made) }, { epsg: 26915, verticalUnit: 'metre' });
    const { grid } = opened;
    const theirs = (await gdal.band(made)).data;
    // XYZ has no word for no data: GDAL writes the number itself.
    const ours = name.endsWith('xyz')
      ? grid.data.map((z) => (Number.isNaN(z) ? -9999 : z))
      : grid.data;
    const expected = name.endsWith('xyz') ? theirs : theirs.map((z) => (z === -9999 ? NaN : z));
    expect(rasterDifference(ours, Float32Array.from(expected)), name).toMatchObject({
      largest: 0,
      dataMismatches: 0,
    });
    expect([grid.west, grid.north], name).toEqual([ground.west, ground.north]);
  }
});

test('a plain TIFF with the world file and .prj that GDAL puts beside it', async () => {
  const ground = groundAt(26915, -93, 36);
  const from = gdal.write('world.asc', joinPieces(asciiGridPieces(ground)));
  gdal.write('world.prj', text(prjText(ground.frame, METRES)));
  const made = await gdal.run(
    'gdal_translate',
    from,
    ['-of', 'GTiff', '-co', 'PROFILE=BASELINE', '-co', 'TFW=YES'],
    'plain.tif',
  );
  const world = gdal.read(made.replace(/\.\w+$/, '.tfw'));
  const tif = gdal.read(made);
  const alone = await openGround([memorySource('plain.tif', tif)], {});
  expect(alone).toMatchObject({ kind: 'refused', problem: { code: 'placement-missing' } });
  const beside = {
    'plain.tif': tif,
    'plain.tfw': world,
    'plain.prj': text(prjText(ground.frame, METRES)),
  };
  expectSameGround((await open(beside)).grid, ground);
});
