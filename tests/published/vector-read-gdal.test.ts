import { zipSync } from 'fflate';
import { beforeAll, describe, expect, test } from 'vitest';
import type { VectorFeature } from '../../geo/formats/vector/vector-types.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { sampleGeoJson, type SampleOptions } from '../vector-samples.ts';
import {
  asGdalReads,
  farthestDegrees,
  flatPositions,
  opened,
  singleParts,
  utf8,
  type GdalFeature,
} from '../vector-rig.ts';

// Reference: GDAL (3.x in WebAssembly) reading the very same file. Its own GeoJSON writer prints 15
// digits; nothing is compared looser than that but projected systems, where our projections are held
// to GDAL's within 3e-11 degree = 3e-6 m (published/frame-table-gdal).

let gdal: Gdal;
beforeAll(async () => {
  gdal = await openGdal();
});

type Files = Record<string, Uint8Array>;

/** Shapefile made by GDAL of seeded features. */
async function shapefile(
  stem: string,
  sample: SampleOptions,
  args: readonly string[],
): Promise<Files> {
  const input = gdal.write(`${stem}.src.geojson`, utf8(sampleGeoJson(sample)));
  const all = ['-f', 'ESRI Shapefile', '-nln', stem, ...args];
  // Only a named encoding gives a .cpg.
  if (!args.some((one) => one.startsWith('ENCODING='))) all.push('-lco', 'ENCODING=UTF-8');
  // GDAL makes a folder, because the name it is given does not end in .shp.
  const folder = await gdal.run('ogr2ogr', input, all, stem);
  const files: Files = {};
  for (const ending of ['shp', 'shx', 'dbf', 'prj', 'cpg']) {
    files[`${stem}.${ending}`] = gdal.read(`${folder}/${stem}.${ending}`).slice();
  }
  return files;
}

function expectSame(
  ours: readonly VectorFeature[],
  theirs: readonly GdalFeature[],
  degrees: number,
) {
  const parts = singleParts(theirs);
  expect(ours.map(({ geometry }) => geometry.type)).toEqual(parts.map(({ type }) => type));
  let worst = 0;
  ours.forEach(({ geometry }, i) => {
    const off = farthestDegrees(
      flatPositions(geometry.coordinates),
      flatPositions(parts[i].coordinates),
    );
    worst = Math.max(worst, off);
    // Same rings, not only the same corners in one row.
    if (geometry.type === 'Polygon') {
      const lengths = (rings: unknown) => (rings as unknown[][]).map((ring) => ring.length);
      expect(lengths(geometry.coordinates)).toEqual(lengths(parts[i].coordinates));
    }
  });
  expect(worst).toBeLessThanOrEqual(degrees);
}

/** Attributes by GDAL's names; GDAL prints dates with slashes and gives null where we give none. */
function expectSameAttributes(ours: readonly VectorFeature[], theirs: readonly GdalFeature[]) {
  const parts = singleParts(theirs);
  ours.forEach(({ attributes }, i) => {
    const known = Object.entries(parts[i].properties)
      .filter(([, value]) => value !== null)
      .map(([key, value]) => [
        key,
        key === 'surveyed' ? String(value).replaceAll('/', '-') : value,
      ]);
    expect({ i, ...attributes }).toEqual({ i, ...Object.fromEntries(known) });
  });
}

const TYPES = [
  'Point',
  'LineString',
  'Polygon',
  'MultiPolygon',
  'MultiLineString',
  'MultiPoint',
] as const;

describe('shapefile', () => {
  const toSystem = (epsg: number) => ['-s_srs', 'EPSG:4269', '-t_srs', `EPSG:${epsg}`];
  // North Carolina in survey feet, Michigan South in international feet, Albers, UTM, degrees.
  test.each([2264, 2253, 5070, 26918, 4269])('all types in EPSG:%i', async (epsg) => {
    for (const [k, type] of TYPES.entries()) {
      const sample = { type, count: 12, seed: 100 * epsg + k };
      const files = await shapefile(`s${epsg}${type}`, sample, toSystem(epsg));
      const main = Object.keys(files)[0];
      const ours = await opened(files);
      const theirs = await asGdalReads(gdal, files, main, ['-t_srs', 'EPSG:4269']);
      expectSame(ours.features, theirs, epsg === 4269 ? 1e-14 : 3e-11);
      expectSameAttributes(ours.features, theirs);
      expect(ours.personalColumns).toEqual([]);
    }
  });

  test.each(['XYZ', 'XYM', 'XYZM'])('variants with %s', async (dim) => {
    for (const [k, type] of TYPES.entries()) {
      const sample = { type, count: 8, seed: 900 + k, withHeights: true };
      const files = await shapefile(`v${dim}${type}`, sample, ['-dim', dim, '-a_srs', 'EPSG:4269']);
      const ours = await opened(files);
      const theirs = await asGdalReads(gdal, files, Object.keys(files)[0]);
      expectSame(ours.features, theirs, 1e-14);
      if (dim === 'XYM' || type.includes('Polygon')) continue;
      // Heights come along with points and lines.
      const heights = singleParts(theirs).map(({ coordinates }) =>
        (typeof (coordinates as number[])[0] === 'number'
          ? [coordinates]
          : (coordinates as number[][])
        ).map((p) => (p as number[])[2]),
      );
      expect(ours.features.map(({ pointData }) => [...pointData!.heights!])).toEqual(heights);
    }
  });

  test.each([
    ['latin', 'ISO-8859-1', true],
    ['latin', 'ISO-8859-1', false],
    ['any', 'UTF-8', true],
    ['any', 'UTF-8', false],
  ] as const)('letters %s in %s, .cpg beside it: %s', async (letters, encoding, hasCpg) => {
    const sample = { type: 'Point', count: 6, seed: 77, letters } as const;
    const made = await shapefile(`e${letters}${hasCpg}`, sample, [
      ...['-a_srs', 'EPSG:4326', '-lco', `ENCODING=${encoding}`],
    ]);
    const cpg = Object.keys(made).find((name) => name.endsWith('.cpg'))!;
    expect(cpg).toBeDefined();
    const theirs = await asGdalReads(gdal, made, Object.keys(made)[0]);
    const { [cpg]: _, ...without } = made;
    expectSameAttributes((await opened(hasCpg ? made : without)).features, theirs);
  });

  test('zipped, in a folder, with paperwork beside it', async () => {
    const files = await shapefile('zipped', { type: 'MultiPolygon', count: 5, seed: 5 }, [
      ...toSystem(2264),
    ]);
    const inFolder = Object.fromEntries(
      Object.entries(files).map(([name, bytes]) => [`county data/${name.toUpperCase()}`, bytes]),
    );
    const zip = zipSync({
      ...inFolder,
      'county data/about.json': utf8('{"a":1}'),
      'x.txt': utf8('?'),
    });
    const ours = await opened({ 'parcels.zip': zip });
    const theirs = await asGdalReads(gdal, files, 'zipped.shp', ['-t_srs', 'EPSG:4269']);
    expectSame(ours.features, theirs, 3e-11);
    expectSameAttributes(ours.features, theirs);
    expect(ours.crsName).toBe('NAD83 / North Carolina (ftUS)');
  });
});

describe('GeoJSON', () => {
  test.each(TYPES)('%s, plain and with heights', async (type) => {
    for (const withHeights of [false, true]) {
      const text = sampleGeoJson({ type, count: 20, seed: 31, withHeights, letters: 'any' });
      const ours = await opened({ 'a.geojson': text });
      const theirs = await asGdalReads(gdal, { 'a.geojson': text }, 'a.geojson');
      expectSame(ours.features, theirs, 1e-14);
      expectSameAttributes(ours.features, theirs);
    }
  });

  // GeoJSON 2008, section 3: the member that RFC 7946 dropped and GIS programs still write.
  test.each([2264, 26918])('old crs member, EPSG:%i', async (epsg) => {
    const source = gdal.write(
      'old.src.geojson',
      utf8(sampleGeoJson({ type: 'Polygon', count: 9, seed: 8 })),
    );
    const made = await gdal.run(
      'ogr2ogr',
      source,
      ['-f', 'GeoJSON', '-s_srs', 'EPSG:4269', '-t_srs', `EPSG:${epsg}`],
      `old${epsg}.geojson`,
    );
    const files = { 'old.geojson': gdal.read(made).slice() };
    expect(new TextDecoder().decode(files['old.geojson'])).toContain(`EPSG::${epsg}`);
    const ours = await opened(files);
    const theirs = await asGdalReads(gdal, files, 'old.geojson', ['-t_srs', 'EPSG:4269']);
    expectSame(ours.features, theirs, 3e-11);
    expectSameAttributes(ours.features, theirs);
  });

  test('geometry collections and bare geometries', async () => {
    const geometry = {
      type: 'GeometryCollection',
      geometries: [
        { type: 'Point', coordinates: [-75, 36] },
        {
          type: 'GeometryCollection',
          geometries: [
            {
              type: 'LineString',
              coordinates: [
                [-75, 36],
                [-75.1, 36.1],
              ],
            },
          ],
        },
      ],
    };
    const files = { 'bare.geojson': JSON.stringify(geometry) };
    const theirs = await asGdalReads(gdal, files, 'bare.geojson');
    expectSame((await opened(files)).features, theirs, 0);
  });
});

describe('KML', () => {
  test.each(TYPES)('%s as GDAL writes it', async (type) => {
    const source = gdal.write(
      'kml.src.geojson',
      utf8(sampleGeoJson({ type, count: 15, seed: 41, letters: 'any' })),
    );
    const args = ['-f', 'KML', '-nln', 'Fields', '-dsco', 'NameField=name'];
    const made = await gdal.run('ogr2ogr', source, args, `made${type}.kml`);
    const files = { 'made.kml': gdal.read(made).slice() };
    const ours = await opened(files);
    const theirs = await asGdalReads(gdal, files, 'made.kml');
    expectSame(ours.features, theirs, 1e-14);
    expect(ours.features.map(({ name }) => name)).toEqual(
      singleParts(theirs).map(({ properties }) => properties.Name),
    );
    expect(new Set(ours.features.map(({ layer }) => layer))).toEqual(new Set(['Fields']));
    // GDAL's plain KML reader gives name and description only; the seeds say what else it wrote.
    const { features } = JSON.parse(
      sampleGeoJson({ type, count: 15, seed: 41, letters: 'any' }),
    ) as {
      features: GdalFeature[];
    };
    const wrote = new Map(features.map(({ properties }) => [properties.name, properties]));
    for (const { name, attributes } of ours.features) {
      const { acres, count, remark } = wrote.get(name)!;
      expect(attributes).toMatchObject({ acres, count, ...(remark === null ? {} : { remark }) });
    }
    // Zipped as KMZ it is the same.
    const kmz = await opened({ 'made.kmz': zipSync({ 'doc.kml': files['made.kml'] }) });
    expect(kmz.features.map(({ geometry }) => geometry)).toEqual(
      ours.features.map(({ geometry }) => geometry),
    );
  });
});

describe('GPX', () => {
  test('waypoints, routes and tracks as GDAL writes them', async () => {
    for (const [type, layer] of [
      ['Point', 'waypoints'],
      ['LineString', 'routes'],
      ['MultiLineString', 'tracks'],
    ] as const) {
      const text = sampleGeoJson({ type, count: 10, seed: 51, withHeights: true, letters: 'any' });
      const source = gdal.write('gpx.src.geojson', utf8(text));
      const args = ['-f', 'GPX', '-nln', layer, '-select', 'name'];
      const made = await gdal.run('ogr2ogr', source, args, `made-${layer}.gpx`);
      const files = { 'made.gpx': gdal.read(made).slice() };
      const ours = await opened(files);
      const theirs = await asGdalReads(gdal, files, 'made.gpx', [layer]);
      expectSame(ours.features, theirs, 1e-14);
      const names = singleParts(theirs).map(({ properties }) => properties.name);
      expect(ours.features.map(({ name }) => name)).toEqual(names);
      expect(ours.features.every((feature) => feature.layer === layer)).toBe(true);
    }
  });

  test('height, time and hdop of every track point', async () => {
    const points = Array.from({ length: 50 }, (_, i) => {
      const at = `lat="${36 + i * 1e-5}" lon="${-75 - i * 1.7e-5}"`;
      const time = `2024-03-19T15:${String(4 + Math.floor(i / 60)).padStart(2, '0')}:${String(i % 60).padStart(2, '0')}.250Z`;
      return `<trkpt ${at}><ele>${100 + i / 8}</ele><time>${time}</time><hdop>${(1 + i / 100).toFixed(2)}</hdop></trkpt>`;
    });
    const gpx = `<?xml version="1.0"?><gpx version="1.1" creator="made up" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>Edge</name><trkseg>${points.join('')}</trkseg></trk></gpx>`;
    const { features } = await opened({ 't.gpx': gpx });
    const theirs = await asGdalReads(gdal, { 't.gpx': gpx }, 't.gpx', ['track_points']);
    expect(theirs).toHaveLength(50);
    const { heights, timesMs, hdop } = features[0].pointData!;
    theirs.forEach(({ properties }, i) => {
      const {
        ele,
        time,
        hdop: dilution,
      } = properties as { ele: number; time: string; hdop: number };
      expect([heights![i], timesMs![i], hdop![i]]).toEqual([
        ele,
        Date.parse(time.replaceAll('/', '-').replace(' ', 'T').replace(/\+00$/, 'Z')),
        dilution,
      ]);
    });
  });
});
