import { describe, expect, test } from 'vitest';
import { isPersonalColumn } from '../../geo/formats/vector/personal-columns.ts';
import { toPlanFeatures } from '../../geo/formats/vector/plan-from-vectors.ts';
import { plainText } from '../../geo/formats/vector/plain-text.ts';
import { openVectors } from '../../geo/formats/vector/open-vector.ts';
import { looksLikeVectors } from '../../geo/formats/vector/sniff-vector.ts';
import { dbfFields } from '../../geo/formats/vector/dbf-fields.ts';
import { writeDbf } from '../../geo/formats/vector/write-dbf.ts';
import { writeShp } from '../../geo/formats/vector/write-shp.ts';
import type { PlanGeometry } from '../../geo/plan/feature.ts';
import type { VectorChoices } from '../../geo/formats/vector/vector-types.ts';
import { parseUtc } from '../../geo/formats/vector/parse-utc.ts';
import { seeded } from '../seeded.ts';
import { files, opened } from '../vector-rig.ts';

// Hand-written files as people really send them; what must come out is worked out by hand.

type Given = Record<string, Uint8Array | string>;
const ends = async (given: Given, choices: VectorChoices = {}) =>
  openVectors(files(given), choices);

const collection = (...geometries: object[]) =>
  JSON.stringify({
    type: 'FeatureCollection',
    features: geometries.map((geometry, i) => ({
      type: 'Feature',
      properties: { name: `F${i}` },
      geometry,
    })),
  });
const point = (...coordinates: number[]) => ({ type: 'Point', coordinates });
const polygon = (...coordinates: number[][][]) => ({ type: 'Polygon', coordinates });
const SQUARE = [
  [-75, 36],
  [-74.99, 36],
  [-74.99, 36.01],
  [-75, 36.01],
  [-75, 36],
];

const outFeature = (geometry: PlanGeometry, attributes: object) => ({
  name: 'x',
  description: '',
  layer: '',
  geometry,
  attributes: { ...attributes },
  pointData: null,
});

/** Shapefile files of our own making, without a .prj unless given. */
function shapefile(geometries: readonly PlanGeometry[], attributes: object, prj?: string): Given {
  const out = geometries.map((geometry) => outFeature(geometry, attributes));
  const { shp, shx } = writeShp(geometries[0].type, geometries);
  const dbf = writeDbf(dbfFields(out), out.length);
  return {
    'a.shp': shp,
    'a.shx': shx,
    'a.dbf': dbf,
    ...(prj === undefined ? {} : { 'a.prj': prj }),
  };
}

describe('outlines', () => {
  test('an unclosed ring is closed, doubles dropped, both said', async () => {
    const open = [...SQUARE.slice(0, 2), SQUARE[1], ...SQUARE.slice(2, 4)];
    const { features, notes } = await opened({ 'a.geojson': collection(polygon(open)) });
    expect(features[0].geometry.coordinates).toEqual([SQUARE]);
    expect(notes).toEqual([
      'a.geojson: 1 outline was not closed and closed with a straight line.',
      'a.geojson: 1 point was given twice in a row and taken once.',
    ]);
  });

  test('a bow-tie is kept with its crossing named', async () => {
    const bow = [
      [-75, 36],
      [-74.99, 36.01],
      [-74.99, 36],
      [-75, 36.01],
      [-75, 36],
    ];
    const { features, notes } = await opened({ 'a.geojson': collection(polygon(bow)) });
    expect(features[0].fault).toMatchObject({ fault: 'crosses-itself' });
    expect(features[0].fault!.at[0]).toBeCloseTo(-74.995, 9);
    expect(features[0].fault!.at[1]).toBeCloseTo(36.005, 9);
    expect(notes.join()).toMatch(/1 outline was kept although crossing/);
  });

  test('too few corners: the shape goes, the rest stays', async () => {
    const flat = polygon([
      [-75, 36],
      [-74, 36],
      [-75, 36],
    ]);
    const holed = polygon(SQUARE, [
      [-74.995, 36.005],
      [-74.995, 36.005],
    ]);
    const { features, notes } = await opened({ 'a.geojson': collection(flat, holed) });
    expect(features.map(({ geometry }) => geometry.coordinates)).toEqual([[SQUARE]]);
    expect(notes.join(' ')).toMatch(/1 shape was left out: too few.*1 hole was left out/);
  });

  test('coordinates out of range are refused, in part or whole', async () => {
    const some = await opened({
      'a.geojson': collection(point(-75, 36), point(-75, 36), point(-75, 36), point(-200, 36)),
    });
    expect(some.features).toHaveLength(3);
    expect(some.notes).toEqual([
      'a.geojson: 1 shape was left out: coordinates beyond ±180° or ±90°.',
    ]);
    const gpx = '<gpx version="1.1" creator="x"><wpt lat="98" lon="-200"/></gpx>';
    expect(await ends({ 'a.gpx': gpx })).toMatchObject({
      kind: 'refused',
      problem: { code: 'vector-out-of-range' },
    });
  });
});

describe('latitude and longitude exchanged', () => {
  // Western longitudes beyond 90° cannot be latitudes; nearer ones lie in the far south.
  test.each([
    ['beyond 90°', [44.1, -110.5], [-110.5, 44.1], undefined],
    ['far south', [36.1, -75.2], [-75.2, 36.1], undefined],
    ['far from the ground', [50.1, 8.2], [8.2, 50.1], [8, 50]],
  ] as const)('%s: asked, exchanged on yes, left on no', async (_, wrong, right, near) => {
    const given = { 'a.geojson': collection(point(...wrong), point(...wrong)) };
    const choices = near ? { near } : {};
    expect(await ends(given, choices)).toMatchObject({ kind: 'ask', question: 'swapped' });
    const { features, notes } = await opened(given, { ...choices, swapped: true });
    expect(features[0].geometry.coordinates).toEqual(right);
    expect(notes.join()).toMatch(/exchanged, as you said/);
    const left = await ends(given, { ...choices, swapped: false });
    if (Math.abs(wrong[1]) > 90) {
      expect(left).toMatchObject({ kind: 'refused', problem: { code: 'vector-out-of-range' } });
    } else expect(left).toMatchObject({ kind: 'opened' });
  });

  test('a file that lies where it should is not asked about', async () => {
    const given = { 'a.geojson': collection(point(-75, 36)) };
    expect(await ends(given, { near: [-75.1, 36.1] })).toMatchObject({ kind: 'opened' });
    expect(await ends(given, { near: [10, 50] })).toMatchObject({ kind: 'opened' });
  });
});

describe('coordinate systems', () => {
  const feet: PlanGeometry = { type: 'Point', coordinates: [2_000_000, 600_000] };

  test('no .prj: asked; the answer places it', async () => {
    const given = shapefile([feet], {});
    expect(await ends(given)).toMatchObject({ kind: 'ask', question: 'crs', file: 'a.shp' });
    const { features, crsName } = await opened(given, { epsg: 2264 });
    // 2264 has its false easting at 2,000,000.002616666 ft on 79° W (EPSG dataset, from memory).
    expect((features[0].geometry.coordinates as number[])[0]).toBeCloseTo(-79, 7);
    expect(crsName).toMatch(/North Carolina/);
    // A wrong answer is not taken: feet are no degrees.
    expect(await ends(given, { epsg: 4326 })).toMatchObject({
      kind: 'refused',
      problem: { code: 'metres-taken-for-degrees' },
    });
  });

  test('a .prj of NAD27 is refused, whatever is named', async () => {
    const nad27 =
      'GEOGCS["GCS_North_American_1927",DATUM["D_North_American_1927",SPHEROID["Clarke_1866",6378206.4,294.9786982]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';
    const given = shapefile([{ type: 'Point', coordinates: [-75, 36] }], {}, nad27);
    const refusal = { kind: 'refused', problem: { code: 'crs-nad27' } };
    expect(await ends(given)).toMatchObject(refusal);
    expect(await ends(given, { epsg: 4326 })).toMatchObject(refusal);
  });

  test('GeoJSON without the old member but in feet: asked', async () => {
    const given = { 'a.geojson': collection(point(...(feet.coordinates as number[]))) };
    expect(await ends(given)).toMatchObject({ kind: 'ask', question: 'crs' });
    expect(await ends(given, { epsg: 2264 })).toMatchObject({ kind: 'opened' });
  });

  test.each([
    ['null', null],
    ['a link', { type: 'link', properties: { href: 'http://127.0.0.1:9/crs' } }],
    ['an unknown code', { type: 'name', properties: { name: 'EPSG:1' } }],
  ])('an old crs member of %s: asked', async (_, crs) => {
    const given = { 'a.json': JSON.stringify({ ...JSON.parse(collection(point(-75, 36))), crs }) };
    expect(await ends(given)).toMatchObject({ kind: 'ask', question: 'crs' });
  });

  test('one shapefile with and one without a .prj: the answer is for the silent one', async () => {
    const said =
      'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';
    const silent = shapefile([feet], {});
    const other = shapefile([{ type: 'Point', coordinates: [-75, 36] }], {}, said);
    const given = {
      ...silent,
      ...Object.fromEntries(
        Object.entries(other).map(([name, bytes]) => [`b${name.slice(1)}`, bytes]),
      ),
    };
    const { features } = await opened(given, { epsg: 2264 });
    expect((features[0].geometry.coordinates as number[])[0]).toBeCloseTo(-79, 7);
    expect(features[1].geometry.coordinates).toEqual([-75, 36]);
  });
});

describe('shapefiles', () => {
  const ringOf = (x: number, y: number, size: number): [number, number][] => [
    [x, y],
    [x, y + size],
    [x + size, y + size],
    [x + size, y],
    [x, y],
  ];

  // ESRI Shapefile Technical Description, p. 8: outlines clockwise, holes counter-clockwise, in any order.
  test('rings in any order find their outlines', async () => {
    const outer = ringOf(0, 0, 10);
    const hole = ringOf(2, 2, 6).toReversed();
    const island = ringOf(4, 4, 2);
    const pond = ringOf(4.5, 4.5, 0.5).toReversed();
    // writeShp turns rings, so the record is written with parts of our own order.
    const shp = shpOfRings([pond, hole, island, outer]);
    const { features } = await opened({ 'a.shp': shp }, { epsg: 4326 });
    expect(features.map(({ geometry }) => geometry.coordinates)).toEqual([
      [island, pond],
      [outer, hole],
    ]);
    expect(features.map(({ part }) => part)).toEqual([
      { index: 0, of: 2 },
      { index: 1, of: 2 },
    ]);
  });

  test('null shapes, deleted rows, a missing table and a cut one', async () => {
    const points = [0, 1, 2].map((i): PlanGeometry => ({
      type: 'Point',
      coordinates: [-75, 36 + i],
    }));
    const given = shapefile(points, { n: 1 });
    const shp = (given['a.shp'] as Uint8Array).slice();
    new DataView(shp.buffer).setInt32(100 + 8, 0, true);
    const dbf = (given['a.dbf'] as Uint8Array).slice();
    const view = new DataView(dbf.buffer);
    const [head, width] = [view.getUint16(8, true), view.getUint16(10, true)];
    dbf[head + width] = 0x2a;
    const { features, notes } = await opened({ 'a.shp': shp, 'a.dbf': dbf }, { epsg: 4326 });
    expect(features.map(({ geometry }) => geometry.coordinates)).toEqual([[-75, 38]]);
    expect(notes).toEqual([
      'a.shp: 1 record was without a shape and left out.',
      'a.shp: 1 deleted record was left out.',
    ]);
    const bare = await opened({ 'a.shp': given['a.shp'] }, { epsg: 4326 });
    expect(bare.features[0].attributes).toEqual({});
    expect(bare.notes.join()).toMatch(/no table/);
    const cut = { ...given, 'a.dbf': dbf.slice(0, head + width + 1) };
    const some = await opened(cut, { epsg: 4326 });
    expect(some.features.map(({ attributes }) => attributes.n)).toEqual([1, undefined, undefined]);
    expect(some.notes.join()).toMatch(/2 of its 3 rows are missing/);
  });

  test('only parts of one: what is missing is named', async () => {
    const { 'a.dbf': dbf } = shapefile([{ type: 'Point', coordinates: [1, 1] }], {});
    expect(await ends({ 'a.dbf': dbf })).toMatchObject({
      kind: 'refused',
      problem: { code: 'shp-missing' },
    });
  });
});

/** A shapefile of one polygon whose parts stand in the order given. */
function shpOfRings(rings: readonly (readonly [number, number][])[]): Uint8Array {
  const count = rings.reduce((sum, ring) => sum + ring.length, 0);
  const length = 44 + 4 * rings.length + 16 * count;
  const bytes = new Uint8Array(108 + length);
  const view = new DataView(bytes.buffer);
  view.setInt32(0, 9994);
  view.setInt32(24, bytes.length / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, 5, true);
  view.setInt32(100, 1);
  view.setInt32(104, length / 2);
  view.setInt32(108, 5, true);
  view.setInt32(144, rings.length, true);
  view.setInt32(148, count, true);
  let index = 0;
  rings.forEach((ring, part) => {
    view.setInt32(152 + 4 * part, index, true);
    for (const [x, y] of ring) {
      view.setFloat64(152 + 4 * rings.length + 16 * index, x, true);
      view.setFloat64(160 + 4 * rings.length + 16 * index, y, true);
      index++;
    }
  });
  return bytes;
}

describe('KML', () => {
  const kml = (inside: string) =>
    `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2"><Document>${inside}</Document></kml>`;

  test('gx:Track with times and heights, gx:MultiTrack in parts', async () => {
    const track = (day: string) =>
      `<gx:Track><when>${day}T10:00:00Z</when><when>${day}T10:00:05-05:00</when><gx:coord>-75 36 12.5</gx:coord><gx:coord>-75.001 36.001 13</gx:coord></gx:Track>`;
    const { features } = await opened({
      'a.kml': kml(
        `<Placemark><name>T</name><gx:MultiTrack>${track('2024-03-19')}${track('2024-03-20')}</gx:MultiTrack></Placemark>`,
      ),
    });
    expect(features).toHaveLength(2);
    const { geometry, sort, pointData } = features[0];
    expect([sort, geometry]).toEqual([
      'track',
      {
        type: 'LineString',
        coordinates: [
          [-75, 36],
          [-75.001, 36.001],
        ],
      },
    ]);
    expect([...pointData!.heights!]).toEqual([12.5, 13]);
    expect([...pointData!.timesMs!]).toEqual([
      Date.UTC(2024, 2, 19, 10),
      Date.UTC(2024, 2, 19, 15, 0, 5),
    ]);
  });

  test('extended data, types of a schema that stands later, folders in folders', async () => {
    const { features } = await opened({
      'a.kml': kml(
        '<Folder><name>Farm</name><Folder><Placemark><name> Two\n lines </name><ExtendedData><SchemaData schemaUrl="#s"><SimpleData name="ac">3.5</SimpleData><SimpleData name="id">007</SimpleData></SchemaData><Data name="crop"><displayName>Crop</displayName><value>clover</value></Data></ExtendedData><Point><coordinates> -75 , 36 , 5 </coordinates></Point></Placemark><name>North</name></Folder></Folder>' +
          '<Schema id="s" name="s"><SimpleField type="double" name="ac"/><SimpleField type="string" name="id"/></Schema>',
      ),
    });
    expect(features[0]).toMatchObject({
      name: 'Two lines',
      layer: 'Farm / North',
      attributes: { ac: 3.5, id: '007', crop: 'clover' },
      geometry: { type: 'Point', coordinates: [-75, 36] },
    });
  });

  test('a balloon of HTML becomes lines, its owner goes', async () => {
    const html =
      '<![CDATA[<html><style>td{color:red}</style><table><tr><td>Parcel</td><td>12-3</td></tr><tr><td>Owner Name</td><td>Someone Invented</td></tr></table><script>steal()</script>A &amp; B]]>';
    const one = kml(
      `<Placemark><description>${html}</description><Point><coordinates>-75,36</coordinates></Point></Placemark>`,
    );
    const { features, personalColumns } = await opened({ 'a.kml': one });
    expect(features[0].description).toBe('Parcel: 12-3\nA & B');
    expect(personalColumns).toEqual([{ file: 'a.kml', column: 'Owner Name', values: 1 }]);
    const kept = await opened({ 'a.kml': one }, { keepPersonal: true });
    expect(kept.features[0].description).toContain('Someone Invented');
  });

  test('markup in names stays letters', async () => {
    const name = '<![CDATA[<img src=x onerror=alert(1)> & <b>north</b>]]>';
    const { features } = await opened({
      'a.kml': kml(
        `<Placemark><name>${name}</name><Point><coordinates>-75,36</coordinates></Point></Placemark>`,
      ),
    });
    expect(features[0].name).toBe('<img src=x onerror=alert(1)> & <b>north</b>');
  });
});

describe('GPX', () => {
  test('version 1.0, local times, points without a place', async () => {
    const gpx =
      '<gpx version="1.0" creator="x" xmlns="http://www.topografix.com/GPX/1/0"><trk><name>Old</name><trkseg><trkpt lat="36" lon="-75"><time>2024-03-19T10:00:00</time></trkpt><trkpt lat="" lon="-75"><time>2024-03-19T10:00:01Z</time></trkpt><trkpt lat="36.1" lon="-75"><time>nonsense</time></trkpt></trkseg></trk></gpx>';
    const { features, notes } = await opened({ 'a.gpx': gpx });
    expect(features[0].geometry.coordinates).toEqual([
      [-75, 36],
      [-75, 36.1],
    ]);
    expect([...features[0].pointData!.timesMs!]).toEqual([Date.UTC(2024, 2, 19, 10), Number.NaN]);
    expect(notes).toEqual(['a.gpx: 1 track point was off the earth and left out.']);
  });

  test('a recorder that died leaves what it had', async () => {
    const gpx =
      '<gpx version="1.1" creator="x"><trk><name>Edge</name><trkseg><trkpt lat="36" lon="-75"/><trkpt lat="36.1" lon="-75"/><trkpt lat="36.2" lon="-7';
    const { features, notes } = await opened({ 'a.gpx': gpx });
    expect(features[0].geometry.coordinates).toEqual([
      [-75, 36],
      [-75, 36.1],
    ]);
    expect(notes.join()).toMatch(/breaks off before its end/);
  });
});

describe('personal columns', () => {
  test.each([
    ...[
      'OWNER',
      'OWNERNME1',
      'OwnerName',
      'OWN1',
      'LANDOWNER',
      'PSTLADRESS',
      'SITEADRESS',
      'MAIL_CITY',
    ],
    ...['Mailing Zip', 'TAXPAYER', 'PhoneNumber', 'e_mail', 'email'.replace('e', 'e-'), 'lastName'],
    ...['ADDR1', 'CAREOF', 'contact_person'],
  ])('%s is one', (column) => {
    expect(isPersonalColumn(column)).toBe(true);
  });
  test.each([
    'TOWN',
    'FIELDNAME',
    'CROWN_HT',
    'ACRES',
    'SITE_NAME',
    'known',
    'telemetry',
    'LANDUSE',
    'APN',
  ])('%s is none', (column) => {
    expect(isPersonalColumn(column)).toBe(false);
  });

  test('dropped by default and listed, kept on demand, never the name', async () => {
    const properties = { OWNER_NAME: 'Someone Invented', APN: '12-3', ACRES: 4 };
    const text = JSON.stringify({ type: 'Feature', properties, geometry: polygon(SQUARE) });
    const { features, personalColumns } = await opened({ 'a.geojson': text });
    expect(features[0]).toMatchObject({ name: '12-3', suggested: { kind: 'property-line' } });
    expect(features[0].attributes).toEqual({ APN: '12-3', ACRES: 4 });
    expect(personalColumns).toEqual([{ file: 'a.geojson', column: 'OWNER_NAME', values: 1 }]);
    const kept = await opened({ 'a.geojson': text }, { keepPersonal: true });
    expect(kept.features[0].attributes).toEqual(properties);
    expect(kept.features[0].name).toBe('12-3');
  });
});

describe('what a feature is offered as', () => {
  const loop = Array.from({ length: 40 }, (_, i) => {
    const angle = (i / 40) * 2 * Math.PI;
    return `<trkpt lat="${36 + 0.001 * Math.sin(angle)}" lon="${-75 + 0.001 * Math.cos(angle)}"/>`;
  }).join('');
  const track = (name: string, points: string) =>
    `<gpx version="1.1" creator="x"><trk><name>${name}</name><trkseg>${points}</trkseg></trk></gpx>`;

  test('a walked loop is a plot edge, a walk is a lane', async () => {
    const round = await opened({ 'a.gpx': track('Tue 4', loop) });
    expect(round.features[0].suggested.kind).toBe('plot');
    const out = await opened({
      'a.gpx': track('Tue 4', loop.slice(0, loop.length / 2 - 20).replace(/<[^>]*$/, '')),
    });
    expect(out.features[0].suggested.kind).toBe('lane');
  });

  test.each([
    ['North gate', 'Point', 'access-point'],
    ['Ladder stand 2', 'Point', 'stand'],
    ['Oak stand', 'Polygon', 'timber-block'],
    ['Wetland_B', 'Polygon', 'no-go'],
    ['ClearingEast', 'Polygon', 'clearing'],
    ['brush pile', 'Point', 'heap'],
    ['Power line', 'LineString', 'power-line'],
    ['Ditch', 'LineString', 'ditch'],
    ['7', 'Point', 'note'],
  ])('%s, a %s: %s', async (name, type, kind) => {
    const coordinates = { Point: [-75, 36], LineString: SQUARE.slice(0, 2), Polygon: [SQUARE] }[
      type
    ];
    const text = JSON.stringify({
      type: 'Feature',
      properties: { name },
      geometry: { type, coordinates },
    });
    const { features } = await opened({ 'a.geojson': text });
    expect(features[0].suggested.kind).toBe(kind);
  });
});

describe('into the plan', () => {
  test('a loop becomes an outline, no-go gets its reason, what cannot be is told', async () => {
    const line = { type: 'LineString', coordinates: SQUARE.slice(0, 4) };
    const named = (name: string, geometry: object) => ({
      type: 'Feature',
      properties: { name },
      geometry,
    });
    const text = JSON.stringify({
      type: 'FeatureCollection',
      features: [
        named('Edge', line),
        named('Flood plain', polygon(SQUARE)),
        named('Tree', point(-75, 36)),
        named('Unwanted', point(-75, 36)),
      ],
    });
    const { features } = await opened({ 'a.geojson': text });
    const kinds = ['plot', 'no-go', 'plot', null] as const;
    let id = 0;
    const made = toPlanFeatures(
      features,
      ({ index }) => kinds[index],
      () => `id-${id++}`,
    );
    expect(
      made.features.map(({ kind, name, geometry }) => [kind, name, geometry.coordinates]),
    ).toEqual([
      ['plot', 'Edge', [SQUARE]],
      ['no-go', 'Flood plain', [SQUARE]],
    ]);
    expect(made.features[1].properties).toEqual({ reason: 'flood-zone', detail: '' });
    expect(made.leftOut).toMatchObject([{ problem: { code: 'vector-kind' } }]);
  });
});

test('drawings are told from grounds by what is in them', async () => {
  const told = (given: Given) => looksLikeVectors(files(given));
  expect(await told({ 'x.dat': collection(point(1, 2)) })).toBe(true);
  expect(await told({ 'x.xml': '\ufeff<?xml version="1.0"?>\n<!-- <x> --><gpx/>' })).toBe(true);
  expect(await told({ 'x.asc': 'ncols 3\nnrows 3\n' })).toBe(false);
  expect(await told({ 'x.prj': 'GEOGCS[]', 'x.tif': 'II*\0' })).toBe(false);
});

// Reference: the engine's own Date.parse on the forms that it defines.
test('times as recorders write them', () => {
  const random = seeded(6);
  for (let i = 0; i < 5000; i++) {
    const ms = Math.floor((random() - 0.2) * 5e12);
    const iso = new Date(ms).toISOString();
    expect(parseUtc(iso)).toBe(ms);
    const whole = `${iso.slice(0, 19)}Z`;
    expect(parseUtc(whole)).toBe(Date.parse(whole));
    const zoned = `${iso.slice(0, 23)}${i % 2 ? '-05:30' : '+11:00'}`;
    expect(parseUtc(zoned)).toBe(Date.parse(zoned));
  }
  expect(parseUtc('2024-03-19T10:00:00')).toBe(Date.UTC(2024, 2, 19, 10));
  expect(parseUtc('2024-03-19')).toBe(Date.UTC(2024, 2, 19));
  for (const none of [
    '',
    '2024-13-01T00:00:00Z',
    '2024-03-19T25:00:00Z',
    '19.3.2024',
    '2024-03-1xT00:00:00Z',
  ]) {
    expect(parseUtc(none)).toBeNaN();
  }
});

test('plain text of markup', () => {
  expect(plainText('  3 < 4 & 5 > 2 ')).toBe('3 < 4 & 5 > 2');
  expect(plainText('a<br/>b<!-- c > d -->e<p>f&nbsp;g&#65;&#x42;</p>')).toBe('a\nbe\nf gAB');
  expect(plainText('<script>x<b>y</b></SCRIPT>z')).toBe('z');
  expect(plainText('tail <unfinished')).toBe('tail');
});
