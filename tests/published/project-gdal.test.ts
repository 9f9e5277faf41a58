import { zipSync } from 'fflate';
import { beforeAll, expect, test } from 'vitest';
import { writePlanGeoJson } from '../../geo/formats/project/write-plan-geojson.ts';
import { writeSettingsJson } from '../../geo/formats/project/settings-json.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import type { PhotoRecord } from '../../geo/raster/photo-record.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { projectOf, testProject, unzipped, zipOf } from '../project-rig.ts';
import { asGdalReads } from '../vector-rig.ts';

// Reference: GDAL reads every part of an unzipped project, with the numbers that went in.

let gdal: Gdal;
const project = testProject();
let zip: Uint8Array;
let parts: Record<string, Uint8Array>;

beforeAll(async () => {
  gdal = await openGdal();
  zip = await zipOf(project);
  // Unzipped by fflate, which the writer does not use for its directory.
  parts = unzipped(zip);
});

test('the project has the parts that it promises', () => {
  expect(
    Object.keys(parts)
      .filter((path) => !path.startsWith('rasters/'))
      .sort(),
  ).toEqual(['plan.geojson', 'read-me.txt', 'settings.json', 'tables/features.csv']);
  expect(Object.keys(parts).filter((path) => path.startsWith('rasters/'))).toHaveLength(4);
});

test('GDAL reads plan.geojson: every feature, name and property', async () => {
  const read = await asGdalReads(gdal, { 'plan.geojson': parts['plan.geojson'] }, 'plan.geojson');
  expect(read.map((feature) => feature.properties.id)).toEqual([
    'berm-1',
    'nogo-1',
    'plot-1',
    'stand-1',
  ]);
  const [berm, nogo, plot, stand] = read;
  expect(berm.geometry).toEqual((project.plan.features['berm-1'] as { geometry: object }).geometry);
  expect(berm.properties).toMatchObject({
    kind: 'berm',
    name: '=HYPERLINK("x")',
    baseWidthMeters: 7.3152,
  });
  expect(nogo.properties).toMatchObject({
    name: 'Seep\nwith a second line',
    reason: 'wetland',
    locked: true,
  });
  expect(plot.properties).toMatchObject({
    name: 'Plot <b>one</b> & "two"',
    weapon: 'bow',
    surveyCrew: 'two people',
  });
  expect(stand.geometry).toEqual({ type: 'Point', coordinates: [-74.9991, 36.1447] });
  // RFC 7946 section 3.1.6: the outline runs counter-clockwise.
  const ring = (plot.geometry as unknown as { coordinates: number[][][] }).coordinates[0];
  expect(ring).toEqual([
    [-75, 36.145],
    [-74.998, 36.145],
    [-74.998, 36.146],
    [-75, 36.146],
    [-75, 36.145],
  ]);
});

test('GDAL reads tables/features.csv, and its own acres are the same', async () => {
  const rows = await asGdalReads(
    gdal,
    { 'features.csv': parts['tables/features.csv'] },
    'features.csv',
  );
  expect(rows.map((row) => row.properties.name)).toEqual([
    // What a spreadsheet would run is text.
    '\'=HYPERLINK("x")',
    'Seep\nwith a second line',
    'Plot <b>one</b> & "two"',
    'Stand, by the creek',
  ]);
  // GDAL's transformer into an equal-area plane, and the shoelace there.
  const corners: [number, number][] = [
    [-75, 36.145],
    [-74.998, 36.145],
    [-74.998, 36.146],
    [-75, 36.146],
  ];
  const plane = await gdal.transform(
    corners,
    'OGC:CRS84',
    '+proj=laea +lat_0=36.1455 +lon_0=-74.999 +ellps=GRS80',
  );
  const twice = plane.reduce((sum, [x, y], i) => {
    const [nx, ny] = plane[(i + 1) % 4];
    return sum + x * ny - nx * y;
  }, 0);
  // 4046.8564224 m² is the international acre (handbook section 1).
  expect(Math.abs(Number(rows[2].properties.acres) - twice / 2 / 4046.8564224)).toBeLessThan(6e-5);
});

test('GDAL reads the ground: numbers bit for bit, place, system', async () => {
  const [ground] = Object.values(project.plan.grounds) as GroundRecord[];
  const path = Object.keys(parts).find((name) => name.startsWith('rasters/ground-bench-lidar-'))!;
  const band = await gdal.band(gdal.write('ground.tif', parts[path]));
  const data = project.rasters.get(ground.id)!;
  let different = 0;
  for (let i = 0; i < data.length; i++) if (!Object.is(band.data[i], data[i])) different++;
  expect([band.data.length, different]).toEqual([data.length, 0]);
  const info = (await gdal.info('/input/ground.tif')) as { geoTransform: number[] };
  expect(info.geoTransform).toEqual([500_000, 1.5, 0, 4_000_500, 0, -1.5]);
});

test('GDAL reads the photos: red, green, blue and alpha, in their own systems', async () => {
  const systems = new Map<string, number>();
  for (const photo of Object.values(project.plan.photos) as PhotoRecord[]) {
    const path = Object.keys(parts).find((name) => name.includes(photo.id.slice(0, 8)))!;
    const name = `photo-${photo.id.slice(0, 8)}`;
    const put = gdal.write(`${name}.tif`, parts[path]);
    const raw = await gdal.run(
      'gdal_translate',
      put,
      ['-of', 'ENVI', '-co', 'INTERLEAVE=BIP'],
      `${name}.bin`,
    );
    const pixels = new Uint8Array(project.rasters.get(photo.id)!.buffer);
    expect(Buffer.compare(gdal.read(raw), pixels)).toBe(0);
    const info = (await gdal.info(put)) as {
      geoTransform: number[];
      bands: { colorInterpretation: string }[];
      stac: { 'proj:epsg': number };
    };
    expect(info.bands.map((band) => band.colorInterpretation)).toEqual([
      'Red',
      'Green',
      'Blue',
      'Alpha',
    ]);
    systems.set(photo.name, info.stac['proj:epsg']);
    const { metersPerUnitEast, metersPerUnitNorth } = photo.plane;
    const [x, width, , y, , height] = info.geoTransform;
    expect(x / (photo.west / metersPerUnitEast)).toBeCloseTo(1, 12);
    expect(y / (photo.north / metersPerUnitNorth)).toBeCloseTo(1, 12);
    expect(width * metersPerUnitEast).toBeCloseTo(photo.cellWidth, 9);
    expect(-height * metersPerUnitNorth).toBeCloseTo(photo.cellHeight, 9);
  }
  expect([...systems]).toEqual([
    ['Photo 26918.tif', 26918],
    ['Photo 2264.tif', 2264],
    ['Photo 4269.tif', 4269],
  ]);
});

test('zip, unzip, zip: the same project and the same bytes', async () => {
  const again = await projectOf(zip);
  expect([again.problems, again.notes]).toEqual([
    [],
    ['One feature came with properties that are kept but not used here.'],
  ]);
  expect(writePlanGeoJson(again.plan)).toBe(writePlanGeoJson(project.plan));
  // Also where RFC 7946 wants a ring the other way round than it was drawn.
  expect(again.plan.features).toEqual(project.plan.features);
  expect(writeSettingsJson(again.plan, {})).toBe(writeSettingsJson(project.plan, {}));
  expect([...again.rasters.keys()].sort()).toEqual([...project.rasters.keys()].sort());
  expect(Buffer.compare(await zipOf({ plan: again.plan, rasters: again.rasters }), zip)).toBe(0);

  // As a person does it: unzipped into a folder, zipped again by another program.
  const folder = Object.fromEntries(
    Object.entries(parts).map(([path, bytes]) => [`bench/${path}`, bytes]),
  );
  const rezipped = await projectOf(zipSync(folder));
  expect(rezipped.problems).toEqual([]);
  expect(Buffer.compare(await zipOf({ plan: rezipped.plan, rasters: rezipped.rasters }), zip)).toBe(
    0,
  );
});

test('a plan that GDAL has written again is the same plan', async () => {
  const put = gdal.write('plan-in.geojson', parts['plan.geojson']);
  const out = await gdal.run(
    'ogr2ogr',
    put,
    ['-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=15'],
    'plan-out.geojson',
  );
  const through = await projectOf(zipSync({ ...parts, 'plan.geojson': gdal.read(out).slice() }));
  expect(writePlanGeoJson(through.plan)).toBe(writePlanGeoJson(project.plan));
});
