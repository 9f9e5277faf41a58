import { zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { openVectors } from '../../geo/formats/vector/open-vector.ts';
import { files, opened, utf8 } from '../vector-rig.ts';

// Files made to hurt: each must end as a refusal with a code or open with a note, at once. Limits of
// time are those of the issue (no hang over 5 s), as the tests' own time-out; nothing is fetched,
// because nothing in geo/ can.

const LIMIT_MS = 5000;
type Given = Record<string, Uint8Array | string>;
async function codeOf(given: Given): Promise<string> {
  const opening = await openVectors(files(given), { epsg: 4326, swapped: false });
  return opening.kind === 'refused' ? opening.problem.code : opening.kind;
}

const kml = (inside: string, before = '') =>
  `<?xml version="1.0"?>${before}<kml xmlns="http://www.opengis.net/kml/2.2"><Document>${inside}</Document></kml>`;
const PLACEMARK =
  '<Placemark><name>P</name><Point><coordinates>-75,36</coordinates></Point></Placemark>';

describe('zips', () => {
  test(
    'a promise of 10 GB is refused before anything is unpacked',
    { timeout: LIMIT_MS },
    async () => {
      const zip = zipSync({ 'a.shp': new Uint8Array(1000) });
      const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
      const directory = zip.findLastIndex(
        (_, i) => view.byteLength - i > 46 && view.getUint32(i, true) === 0x02014b50,
      );
      // Three entries of 3.9 GB each.
      const entry = zip.slice(directory, zip.length - 22);
      new DataView(entry.buffer).setUint32(24, 0xf000_0000, true);
      const end = zip.slice(zip.length - 22);
      const endView = new DataView(end.buffer);
      endView.setUint16(8, 3, true);
      endView.setUint16(10, 3, true);
      endView.setUint32(12, 3 * entry.length, true);
      const bomb = new Uint8Array([
        ...zip.slice(0, directory),
        ...entry,
        ...entry,
        ...entry,
        ...end,
      ]);
      const opening = await openVectors(files({ 'bomb.zip': bomb }));
      expect(opening).toMatchObject({ kind: 'refused', problem: { code: 'zip-too-large' } });
      // Three entries of 0xf0000000 bytes: 12,080 MB.
      expect((opening as { problem: { what: string } }).problem.what).toContain('12,080 MB');
    },
  );

  test('more than was promised stops the unpacking', { timeout: LIMIT_MS }, async () => {
    // 20 MB of zeros deflate to 20 kB; the directory says 1,000 bytes.
    const zip = zipSync({ 'a.geojson': new Uint8Array(20_000_000) });
    const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
    const directory = view.getUint32(zip.length - 6, true);
    view.setUint32(directory + 24, 1000, true);
    expect(await codeOf({ 'bomb.zip': zip })).toBe('zip-damaged');
  });

  test('paths that lead out are left out and told', async () => {
    const text = utf8('{"type":"Point","coordinates":[-75,36]}');
    const zip = zipSync({
      '../../etc/a.geojson': text,
      '/abs.geojson': text,
      'C:\\b.geojson': text,
      'c\\..\\..\\d.geojson': text,
      'fine/e.geojson': text,
    });
    const { files: read, notes } = await opened({ 'z.zip': zip });
    expect(read).toEqual(['e.geojson']);
    expect(notes).toEqual(['z.zip: 4 paths were leading out of the zip and left out.']);
  });

  test.each([
    [
      'a zip in a zip',
      zipSync({ 'in.zip': zipSync({ 'a.kml': utf8(kml(PLACEMARK)) }) }),
      'zip-in-zip',
    ],
    ['nothing of use', zipSync({ 'readme.txt': utf8('x') }), 'zip-nothing'],
    ['a cut end', zipSync({ 'a.kml': utf8(kml(PLACEMARK)) }).slice(0, -30), 'zip-damaged'],
    ['only an end', zipSync({}), 'zip-nothing'],
  ])('%s', async (_, zip, code) => {
    expect(await codeOf({ 'z.zip': zip })).toBe(code);
  });

  test('a locked one', async () => {
    const zip = zipSync({ 'a.kml': utf8(kml(PLACEMARK)) });
    const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
    const directory = view.getUint32(zip.length - 6, true);
    view.setUint16(directory + 8, view.getUint16(directory + 8, true) | 1, true);
    expect(await codeOf({ 'z.zip': zip })).toBe('zip-encrypted');
  });
});

describe('XML', () => {
  const laughs = Array.from(
    { length: 30 },
    (_, i) => `<!ENTITY l${i + 1} "${`&l${i};`.repeat(10)}">`,
  ).join('');

  test('entities that unfold a billion times stay letters', { timeout: LIMIT_MS }, async () => {
    const doctype = `<!DOCTYPE kml [<!ENTITY l0 "ha">${laughs}]>`;
    const text = kml(PLACEMARK.replace('>P<', '>&l30;<'), doctype);
    const { features, notes } = await opened({ 'a.kml': text });
    expect(features[0].name).toBe('&l30;');
    expect(notes.join()).toMatch(/1 entity was not expanded/);
  });

  test('entities that name a file stay letters', async () => {
    const doctype =
      '<!DOCTYPE kml [<!ENTITY f SYSTEM "file:///etc/passwd"><!ENTITY % p SYSTEM "http://127.0.0.1:9/x.dtd"> %p;]>';
    const { features } = await opened({ 'a.kml': kml(PLACEMARK.replace('>P<', '>&f;<'), doctype) });
    expect(features[0].name).toBe('&f;');
  });

  test('links, overlays, models and scripts are not followed', async () => {
    const text = kml(
      '<NetworkLink><name>N</name><Link><href>http://127.0.0.1:9/more.kml</href></Link></NetworkLink>' +
        '<GroundOverlay><Icon><href>http://127.0.0.1:9/a.png</href></Icon></GroundOverlay>' +
        '<Placemark><Model><Link><href>x.dae</href></Link></Model></Placemark>' +
        `<script>alert(1)</script>${PLACEMARK}`,
    );
    const { features, notes } = await opened({ 'a.kml': text });
    expect(features.map(({ name }) => name)).toEqual(['P']);
    expect(notes).toEqual([
      'a.kml: 1 link to another file or server was not followed or shown.',
      'a.kml: 1 picture laid over the ground was not followed or shown.',
      'a.kml: 1 three-dimensional model was not followed or shown.',
    ]);
  });

  test.each([
    ['a web page', '<!DOCTYPE html><html><body>404</body></html>', 'file-markup'],
    ['other XML', '<?xml version="1.0"?><osm><node/></osm>', 'xml-other'],
    ['a cut KML', kml(PLACEMARK).slice(0, -30), 'kml-cut'],
    ['tags that cross', kml('<Folder><Placemark></Folder></Placemark>'), 'xml-damaged'],
    ['nothing drawn', kml(''), 'vector-none'],
    ['a hundred thousand folders deep', kml('<Folder>'.repeat(100_000)), 'xml-too-deep'],
    [
      'ten million blanks',
      kml(`<Placemark><Point><coordinates>${' '.repeat(1e7)}</coordinates></Point></Placemark>`),
      'vector-none',
    ],
    ['an attribute without end', `<kml a="${'x'.repeat(3e6)}`, 'kml-cut'],
  ])('%s', { timeout: LIMIT_MS }, async (_, text, code) => {
    expect(await codeOf({ 'a.kml': text })).toBe(code);
  });
});

describe('GeoJSON', () => {
  const deep = 200_000;
  test.each([
    ['brackets without end', '{"type":"Point","coordinates":' + '['.repeat(deep), 'json-damaged'],
    [
      'brackets by the hundred thousand',
      `{"type":"Point","coordinates":${'['.repeat(deep)}${']'.repeat(deep)}}`,
      'vector-out-of-range',
    ],
    [
      'collections in collections',
      `${'{"type":"GeometryCollection","geometries":['.repeat(5000)}${']}'.repeat(5000)}`,
      'vector-none',
    ],
    [
      'features that are none',
      '{"type":"FeatureCollection","features":[null,1,"x",[]]}',
      'vector-none',
    ],
    ['coordinates that are text', '{"type":"Polygon","coordinates":"x"}', 'vector-none'],
    ['other JSON', '{"a":1}', 'json-other'],
    ['a bare list', '[1,2]', 'vector-unknown'],
    [
      'numbers beyond numbers',
      '{"type":"Point","coordinates":[1e999,-1e999]}',
      'vector-out-of-range',
    ],
  ])('%s', { timeout: LIMIT_MS }, async (_, text, code) => {
    expect(await codeOf({ 'a.geojson': text })).toBe(code);
  });

  test('attributes named after the machinery stay attributes', async () => {
    const text =
      '{"type":"Feature","properties":{"__proto__":"x","constructor":"y","deep":' +
      `${'['.repeat(50_000)}${']'.repeat(50_000)}},"geometry":{"type":"Point","coordinates":[-75,36]}}`;
    const { features } = await opened({ 'a.geojson': text });
    expect(Object.entries(features[0].attributes).slice(0, 2)).toEqual([
      ['__proto__', 'x'],
      ['constructor', 'y'],
    ]);
    expect(({} as { x?: unknown }).x).toBeUndefined();
  });

  test(
    'an outline of 60,000 corners is opened at once, its crossings not looked for',
    { timeout: LIMIT_MS },
    async () => {
      const ring = Array.from({ length: 60_000 }, (_, i) => {
        const angle = (i / 60_000) * 2 * Math.PI;
        return [-75 + 0.01 * Math.cos(angle), 36 + 0.01 * Math.sin(angle)];
      });
      const text = JSON.stringify({ type: 'Polygon', coordinates: [[...ring, ring[0]]] });
      const { features, notes } = await opened({ 'a.geojson': text });
      expect(features[0].geometry.coordinates[0]).toHaveLength(60_001);
      expect(notes.join()).toMatch(/too long to be looked over/);
    },
  );
});

describe('shapefiles', () => {
  /** Header and one record of the given content. */
  function shp(type: number, content: Uint8Array, length = content.length): Uint8Array {
    const bytes = new Uint8Array(108 + content.length);
    const view = new DataView(bytes.buffer);
    view.setInt32(0, 9994);
    view.setInt32(32, type, true);
    view.setInt32(104, length / 2);
    bytes.set(content, 108);
    return bytes;
  }
  function polygonRecord(parts: number, points: number, size: number): Uint8Array {
    const bytes = new Uint8Array(size);
    const view = new DataView(bytes.buffer);
    view.setInt32(0, 5, true);
    view.setInt32(36, parts, true);
    view.setInt32(40, points, true);
    return bytes;
  }

  test.each([
    ['a negative length', shp(1, new Uint8Array(20), -8), 'vector-none'],
    ['a length beyond the file', shp(1, new Uint8Array(20), 2_000_000_000), 'vector-none'],
    ['two billion points', shp(5, polygonRecord(1, 2 ** 31 - 1, 200)), 'shp-damaged'],
    ['two billion parts', shp(5, polygonRecord(2 ** 31 - 1, 1, 200)), 'shp-damaged'],
    ['negative counts', shp(5, polygonRecord(-5, -5, 200)), 'shp-damaged'],
    ['surfaces', shp(31, new Uint8Array(100)), 'shp-multipatch'],
    ['an unknown type', shp(99, new Uint8Array(100).fill(99)), 'shp-damaged'],
    ['half a header', shp(1, new Uint8Array(20)).slice(0, 60), 'shp-damaged'],
  ])('%s', async (_, bytes, code) => {
    expect(await codeOf({ 'a.shp': bytes })).toBe(code);
  });

  test(
    '20,000 holes and 20,000 outlines nested in each other or beside each other end at once',
    { timeout: 4 * LIMIT_MS },
    async () => {
      // Five seconds of this process, however busy the machine is.
      const start = process.cpuUsage();
      // Squares of four corners; every second one turned like a hole.
      const record = (square: (r: number) => readonly [number, number, number]) => {
        const rings = 40_000;
        const start = 44 + 4 * rings;
        const bytes = polygonRecord(rings, 4 * rings, start + 64 * rings);
        const view = new DataView(bytes.buffer);
        for (let r = 0; r < rings; r++) {
          view.setInt32(44 + 4 * r, 4 * r, true);
          const [x, y, half] = square(r);
          const corners = [
            [x - half, y - half],
            [x - half, y + half],
            [x + half, y + half],
            [x + half, y - half],
          ];
          if (r % 2 === 1) corners.reverse();
          corners.forEach(([cx, cy], k) => {
            view.setFloat64(start + 16 * (4 * r + k), cx, true);
            view.setFloat64(start + 16 * (4 * r + k) + 8, cy, true);
          });
        }
        return shp(5, bytes);
      };
      const nested = record((r) => [0, 0, 1 + r * 1e-5]);
      const { features } = await opened({ 'a.shp': nested }, { epsg: 4326 });
      expect(features).toHaveLength(20_001);
      // Holes far from 20,000 outlines that are all larger: looked for until the budget is spent.
      const apart = record((r) => (r % 2 === 1 ? [-50, 0, 1e-6] : [(r / 4e4) * 50, 0, 1e-3]));
      expect(await codeOf({ 'a.shp': apart })).toBe('shp-too-many-rings');
      const { user, system } = process.cpuUsage(start);
      expect((user + system) / 1000).toBeLessThan(LIMIT_MS);
    },
  );

  test.each([
    ['no bytes', new Uint8Array(1)],
    ['records without a width', new Uint8Array(200).fill(0xff, 4, 8)],
    ['four billion rows', new Uint8Array(200).fill(0xff, 4, 12)],
    ['noise', Uint8Array.from({ length: 500 }, (_, i) => (i * 97) % 251)],
  ])('a table of %s gives shapes without attributes', async (_, dbf) => {
    const content = new Uint8Array(20);
    new DataView(content.buffer).setInt32(0, 1, true);
    const { features, notes } = await opened(
      { 'a.shp': shp(1, content), 'a.dbf': dbf },
      { epsg: 4326 },
    );
    expect(features[0].attributes).toEqual({});
    expect(notes.join()).toMatch(/without their attributes/);
  });
});

test('empty files and files that are something else', async () => {
  expect(await codeOf({ 'a.gpx': '' })).toBe('file-empty');
  expect(await codeOf({ 'a.gpx': 'just text' })).toBe('vector-unknown');
  expect(await codeOf({})).toBe('vector-none');
});

test('a reading that is stopped ends as one', async () => {
  const opening = await openVectors(
    files({ 'a.kml': kml(PLACEMARK) }),
    {},
    { shouldStop: () => true },
  );
  expect(opening).toMatchObject({ kind: 'refused', problem: { code: 'stopped' } });
});
