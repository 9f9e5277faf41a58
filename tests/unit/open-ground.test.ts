import { expect, test } from 'vitest';
import { memorySource, type ByteSource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import type { GroundChoices } from '../../geo/formats/opening.ts';
import { seeded } from '../seeded.ts';

const open = (files: Readonly<Record<string, string | Uint8Array>>, choices: GroundChoices = {}) =>
  openGround(
    Object.entries(files).map(([name, body]) =>
      memorySource(name, typeof body === 'string' ? new TextEncoder().encode(body) : body),
    ),
    choices,
  );

async function opened(...args: Parameters<typeof open>) {
  const opening = await open(...args);
  if (opening.kind !== 'opened') throw new Error(JSON.stringify(opening));
  return opening;
}

async function codeOf(...args: Parameters<typeof open>): Promise<string> {
  const opening = await open(...args);
  if (opening.kind === 'refused') {
    // Every refusal says what and the way out in whole sentences.
    expect(opening.problem.what).toMatch(/^["“A-Z0-9].*\.$/);
    expect(opening.problem.wayOut).toMatch(/^[A-Z].*\.$/);
    return opening.problem.code;
  }
  return opening.kind === 'ask' ? `ask ${opening.question}` : opening.kind;
}

const ASC =
  'ncols 4\nnrows 3\nxllcorner 500000\nyllcorner 4000000\ncellsize 2\n1 2 3 4\n5 6 7 8\n9 10 11 12\n';
const UTM15 = { epsg: 26915, verticalUnit: 'metre' } as const;

test('asks for the system, then for the height unit, then opens', async () => {
  expect(await codeOf({ 'a.asc': ASC })).toBe('ask crs');
  expect(await codeOf({ 'a.asc': ASC }, { epsg: 26915 })).toBe('ask vertical-unit');
  const { grid, draft } = await opened(
    { 'a.asc': ASC },
    { epsg: 26915, verticalUnit: 'us-survey-foot' },
  );
  expect([grid.width, grid.height, grid.west, grid.north]).toEqual([4, 3, 500_000, 4_000_006]);
  // US survey foot: 1200/3937 m (handbook §9).
  expect(grid.data[11]).toBeCloseTo((12 * 1200) / 3937, 6);
  expect(draft).toMatchObject({
    name: 'a',
    surveyedOn: null,
    clearing: 'unknown',
    verticalErrorMeters: null,
    vertical: { unit: 'us-survey-foot' },
    sourceCrsName: 'NAD83 / UTM zone 15N',
    sourceFiles: ['a.asc (ASCII grid)'],
  });
  expect(draft.sourceCellMeters).toBeCloseTo(2, 2);
});

test('state-plane feet become metres of the same plane', async () => {
  // North Carolina in US survey feet: 2,000,000 ft are 609601.2192 m (trade notes §3.1).
  const text = ASC.replace('500000', '2000000').replace('4000000', '600000');
  const { grid } = await opened({ 'a.asc': text }, { epsg: 2264, verticalUnit: 'metre' });
  expect(grid.west).toBeCloseTo(609_601.2192, 4);
  expect(grid.cellWidth).toBeCloseTo(0.6096012192, 9);
});

test('what the user says goes into the record', async () => {
  const said = {
    ...UTM15,
    surveyedOn: '2019-03-18',
    clearing: 'before-clearing',
    verticalErrorMeters: 0.1,
  } as const;
  const { draft } = await opened({ 'a.asc': ASC }, said);
  expect(draft).toMatchObject({
    surveyedOn: '2019-03-18',
    clearing: 'before-clearing',
    verticalErrorMeters: 0.1,
  });
});

test('GNSS shots as P,N,E,Z,D: northing first, description left alone', async () => {
  const random = seeded(21);
  const rows = Array.from({ length: 200 }, (_, i) => {
    const [e, n] = [500_000 + 100 * random(), 4_000_000 + 60 * random()];
    return `${i + 1},${n.toFixed(3)},${e.toFixed(3)},${(250 + (e - 500_000) * 0.1).toFixed(3)},"GND, ""soft"""`;
  });
  const { grid, draft } = await opened({ 'shots.csv': rows.join('\r\n') }, UTM15);
  expect(grid.west).toBeGreaterThan(499_990);
  expect(grid.west).toBeLessThan(500_010);
  const middle = (grid.height >> 1) * grid.width + (grid.width >> 1);
  const x = grid.west + ((grid.width >> 1) + 0.5) * grid.cellWidth;
  // Shots are rounded to a millimetre.
  expect(Math.abs(grid.data[middle]! - (250 + (x - 500_000) * 0.1))).toBeLessThan(0.001);
  expect(draft.notes.join(' ')).toMatch(/northing is taken to come before easting.*200 points/);
});

test('a table asks with its guess, and the user may correct it', async () => {
  const random = seeded(22);
  const rows = Array.from(
    { length: 30 },
    () => `${(400 + random()).toFixed(2)}\t${4e6 + 90 * random()}\t${5e5 + 90 * random()}`,
  );
  const asked = await open({ 'odd.txt': rows.join('\n') });
  expect(asked).toMatchObject({
    kind: 'ask',
    question: 'crs',
    points: { names: null, guess: { x: 0, y: 1, z: 2, degrees: false } },
  });
  const columns = { x: 2, y: 1, z: 0, degrees: false };
  const { grid } = await opened({ 'odd.txt': rows.join('\n') }, { ...UTM15, columns });
  expect(Math.round(grid.west / 1000)).toBe(500);
});

test('named columns in any order; the height unit from its name', async () => {
  const random = seeded(23);
  const rows = Array.from(
    { length: 40 },
    (_, i) =>
      `${i};${(300 + random()).toFixed(2)};${500_000 + 50 * random()};${4e6 + 50 * random()}`,
  );
  const text = ['Point;Elevation [m];Easting;Northing', ...rows].join('\n');
  const { draft } = await opened({ 'named.csv': text }, { epsg: 26915 });
  expect(draft.vertical.unit).toBe('metre');
  expect(await codeOf({ 'named.csv': text.replace('[m]', '(ft)') }, { epsg: 26915 })).toBe(
    'ask vertical-unit',
  );
});

test('latitude and longitude, also the wrong way round, land in the same UTM place', async () => {
  const random = seeded(24);
  const spots = Array.from({ length: 50 }, () => [
    36 + 0.001 * random(),
    -92.6 - 0.001 * random(),
    300,
  ]);
  const right = ['lat,lon,elev_m', ...spots.map((s) => s.join(','))].join('\n');
  const wrong = ['lon,lat,elev_m', ...spots.map((s) => s.join(','))].join('\n');
  const a = await opened({ 'a.csv': right });
  const b = await opened({ 'a.csv': wrong });
  expect(a.grid.frame.epsg).toBe(32615);
  expect([b.grid.west, b.grid.north, b.grid.width]).toEqual([
    a.grid.west,
    a.grid.north,
    a.grid.width,
  ]);
  expect(a.draft.notes.join(' ')).toMatch(/taken as WGS84/);
});

test('bare northing-easting columns are turned when only so they lie in North America', async () => {
  const random = seeded(25);
  const rows = Array.from(
    { length: 60 },
    () => `${(4e6 + 50 * random()).toFixed(2)} ${(5e5 + 50 * random()).toFixed(2)} 300`,
  );
  const { grid, draft } = await opened({ 'n.txt': rows.join('\n') }, UTM15);
  expect(Math.round(grid.west / 1000)).toBe(500);
  expect(draft.notes.join(' ')).toMatch(/Easting and northing were exchanged/);
});

test('sidecars: .prj for one, a lone .prj for several, .aux.xml', async () => {
  const wkt =
    'PROJCS["NAD_1983_UTM_Zone_15N",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-93.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]';
  const metre = { verticalUnit: 'metre' } as const;
  const one = await opened({ 'T1.ASC': ASC, 't1.prj': wkt }, metre);
  expect(one.grid.frame.epsg).toBe(26915);
  expect(one.draft.sourceFiles).toEqual(['T1.ASC (ASCII grid)', 't1.prj']);
  const east = ASC.replace('500000', '500008');
  const two = await opened({ 'a.asc': ASC, 'b.asc': east, 'all.prj': wkt }, metre);
  expect([two.grid.width, two.grid.height]).toEqual([8, 3]);
  const xml = `<PAMDataset><SRS dataAxisToSRSAxisMapping="1,2">${wkt.replace(/"/g, '&quot;')}</SRS></PAMDataset>`;
  expect((await opened({ 'a.asc': ASC, 'a.asc.aux.xml': xml }, metre)).grid.frame.epsg).toBe(26915);
  expect(await codeOf({ 'a.asc': ASC, 'b.prj': wkt }, metre)).toBe('ask crs');
});

test('a NAD27 sidecar is refused, whatever the user names', async () => {
  const nad27 =
    'GEOGCS["NAD27",DATUM["North_American_Datum_1927",SPHEROID["Clarke 1866",6378206.4,294.978698213898]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]';
  expect(await codeOf({ 'a.asc': ASC, 'a.prj': nad27 }, UTM15)).toBe('crs-nad27');
});

test('a photo with a world file keeps its bytes and its corners', async () => {
  const png = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 0);
  const world = '0.5\n0\n0\n-0.5\n500000.25\n4000099.75\n';
  const photo = await open({ 'p.png': png, 'p.pgw': world }, { epsg: 26915 });
  expect(photo).toMatchObject({
    kind: 'photo',
    photo: {
      stored: 'encoded',
      photo: { mime: 'image/png', affine: { a: 0.5, c: 500_000, e: -0.5, f: 4_000_100 } },
    },
  });
  expect(await codeOf({ 'p.png': png })).toBe('photo-no-world-file');
  expect(await codeOf({ 'p.png': png, 'p.pgw': world })).toBe('ask crs');
});

test('hostile and hopeless files, each by its code', async () => {
  const line = Array.from({ length: 40 }, (_, i) => `${5e5 + i} ${4e6 + 3 * i} ${i}`).join('\n');
  const cases: [Readonly<Record<string, string | Uint8Array>>, string][] = [
    [{ 'a.tif': '' }, 'file-empty'],
    [{ 'a.bin': Uint8Array.from({ length: 4000 }, (_, i) => (i * 37) % 256) }, 'file-unknown'],
    [{ 'a.zip': 'PK\x03\x04aaaa' }, 'file-zip'],
    [{ 'a.laz': 'LASF\0\0' }, 'file-point-cloud'],
    [{ 'a.tif': '<!DOCTYPE html><html>404</html>' }, 'file-markup'],
    [{ 'a.txt': Uint8Array.of(0xff, 0xfe, 0x31, 0) }, 'file-utf16'],
    [{ 'a.tif': 'II*\0' }, 'not-a-tiff'],
    [{ 'a.tif': 'II*\0\x10\0\0\0' }, 'tiff-truncated'],
    [
      { 'a.asc': 'ncols 1 nrows 1 xllcorner 500000 yllcorner 4000000 cellsize 1 5' },
      'raster-too-small',
    ],
    [{ 'a.prj': 'GEOGCS[]' }, 'files-none'],
    [{ 'a.asc': ASC, 'b.csv': line }, 'files-mixed'],
    [{ 'a.asc': 'ncols 4\nnrows 3\n' }, 'ascii-grid-head-incomplete'],
    [{ 'a.txt': 'hello there\nthis is a letter' }, 'table-no-columns'],
    [{ 'a.txt': '500001 4000002 3' }, 'points-no-surface'],
    [{ 'a.txt': '1 2 3' }, 'degrees-taken-for-metres'],
    [{ 'a.txt': line }, 'points-no-surface'],
    [{ 'a.txt': `${line}\n1,2;3 4` }, 'table-row'],
    [{ 'a.txt': `${line}\n5 6 high` }, 'table-row'],
    [{ 'a.txt': '1,5;2,5;3,5\n2,5;3,5;4,5\n' }, 'comma-decimals'],
    [
      { 'a.asc': ASC.replace('500000', '-93.5').replace('4000000', '36.1') },
      'degrees-taken-for-metres',
    ],
    [{ 'a.asc': ASC.replace(/\n1 2[^]*/, `\n${'-9999 '.repeat(12)}`) }, 'raster-all-nodata'],
  ];
  for (const [files, code] of cases) {
    const found = await codeOf(files, UTM15);
    expect(found, JSON.stringify(files).slice(0, 80)).toBe(code);
  }
});

test('a source that fails is a problem, not an exception', async () => {
  const broken: ByteSource = {
    name: 'a.asc',
    size: 100,
    read: () => Promise.reject(new Error('disk gone')),
  };
  const opening = await openGround([broken]);
  expect(opening).toMatchObject({
    kind: 'refused',
    problem: { code: 'source-read-failed', where: 'a.asc' },
  });
});

test('stops when asked', async () => {
  const opening = await openGround([memorySource('a.asc', new TextEncoder().encode(ASC))], UTM15, {
    shouldStop: () => true,
  });
  expect(opening).toMatchObject({ kind: 'refused', problem: { code: 'stopped' } });
});

test('too many cells: a picture of all tiles, then the chosen window across two of them', async () => {
  const cells = (first: number) =>
    Array.from({ length: 400 }, (_, i) => first + (i % 20) + Math.floor(i / 20) / 10).join(' ');
  const tile = (west: number, south: number, first: number) =>
    `ncols 20\nnrows 20\nxllcorner ${west}\nyllcorner ${south}\ncellsize 1\n${cells(first)}`;
  const files = {
    'a.asc': tile(500_000, 4_009_980, 100),
    'b.asc': tile(500_020, 4_009_980, 200),
    'c.asc': tile(519_980, 4_000_000, 300),
  };
  const asked = await open(files, UTM15);
  if (asked.kind !== 'ask' || !asked.overview) throw new Error(JSON.stringify(asked).slice(0, 300));
  expect(asked).toMatchObject({ question: 'window', maxCells: 64 * 1024 * 1024 });
  const { width, height, fullWidth, fullHeight, pixels, cellMeters } = asked.overview;
  expect([fullWidth, fullHeight]).toEqual([20_000, 10_000]);
  expect(cellMeters).toBeCloseTo(1, 2);
  const seen = Array.from({ length: width * height }, (_, i) => pixels[4 * i + 3]! > 0);
  // Corners north-west and south-east hold tiles, the middle holds none.
  expect([seen[0], seen[(height >> 1) * width + (width >> 1)], seen[width * height - 1]]).toEqual([
    true,
    false,
    true,
  ]);
  const window = { column: 10, row: 5, width: 20, height: 10 };
  const { grid, draft } = await opened(files, { ...UTM15, window });
  expect([grid.west, grid.north, grid.width, grid.height]).toEqual([500_010, 4_009_995, 20, 10]);
  expect(grid.data[0]).toBeCloseTo(110.5, 4);
  expect(grid.data[10]).toBeCloseTo(200.5, 4);
  expect(draft.notes).toContain('Cut out of a larger survey.');
  expect(await codeOf(files, { ...UTM15, window: { ...window, column: 20_000 } })).toBe(
    'window-outside',
  );
  expect(await codeOf(files, { ...UTM15, window: { ...window, row: 5000 } })).toBe(
    'raster-all-nodata',
  );
});
