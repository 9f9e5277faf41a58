import { zipSync } from 'fflate';
import { beforeAll, expect, test } from 'vitest';
import { defaultCleanChoices } from '../../geo/formats/vector/clean-choices.ts';
import { cleanTrack } from '../../geo/formats/vector/clean-track.ts';
import { openVectors } from '../../geo/formats/vector/open-vector.ts';
import { outFromVectors } from '../../geo/formats/vector/out-feature.ts';
import { toPlanFeatures } from '../../geo/formats/vector/plan-from-vectors.ts';
import type { VectorFeature } from '../../geo/formats/vector/vector-types.ts';
import { writeGeoJson } from '../../geo/formats/vector/write-geojson.ts';
import { writeGpx } from '../../geo/formats/vector/write-gpx.ts';
import { writeKmz } from '../../geo/formats/vector/write-kml.ts';
import { writeShapefileZip } from '../../geo/formats/vector/write-shapefile.ts';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { frameFor, openFrame } from '../../geo/frame/open-frame.ts';
import { finish } from '../../geo/work.ts';
import { openGdal } from '../gdal.ts';
import { fuzzCount } from '../fuzz-count.ts';
import { fuzzTally, refusal } from '../fuzz-tally.ts';
import { seeded } from '../seeded.ts';
import { sampleGeoJson } from '../vector-samples.ts';
import { files, utf8 } from '../vector-rig.ts';

// Damaged drawings of every format: bytes changed, cut, doubled, swapped, and scraps that mean
// something put in. Each ends as features, a question or a refusal with a code; nothing is thrown,
// nothing takes 5 s, and what opens can go into a plan and be written again. The seed names the
// case.

const COUNT = fuzzCount(1200, 0.4);

type Files = Record<string, Uint8Array>;
interface Sample {
  readonly files: Files;
  /** Which of them are hurt. */
  readonly hurt: readonly string[];
  /** Zipped after the damage, so that it passes the checksum and reaches the reader inside. */
  readonly zipAs?: string;
}
const samples: Sample[] = [];

const POINTS = Array.from({ length: 12 }, (_, i) => {
  const time = `2024-03-19T10:00:${String(i * 4).padStart(2, '0')}Z`;
  return `<trkpt lat="${36 + i * 1e-4}" lon="${-75 + i * 1e-4}"><ele>${i}</ele><time>${time}</time><hdop>1.${i}</hdop></trkpt>`;
}).join('');
const GPX = `<?xml version="1.0" encoding="UTF-8"?><gpx version="1.1" creator="x"><wpt lat="36" lon="-75"><name>Gate &amp; post</name><sym>Flag</sym></wpt><rte><name>R</name><rtept lat="36" lon="-75"/><rtept lat="36.1" lon="-75"/></rte><trk><name>T</name><trkseg>${POINTS}</trkseg></trk></gpx>`;
const KML = `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Schema id="s"><SimpleField type="int" name="n"/></Schema><Folder><name>F</name><Placemark><name><![CDATA[<b>P</b>]]></name><description>Owner: x<br/>y</description><ExtendedData><SchemaData schemaUrl="#s"><SimpleData name="n">4</SimpleData></SchemaData></ExtendedData><MultiGeometry><Polygon><outerBoundaryIs><LinearRing><coordinates>-75,36 -74.9,36 -74.9,36.1 -75,36.1 -75,36</coordinates></LinearRing></outerBoundaryIs><innerBoundaryIs><LinearRing><coordinates>-74.98,36.02 -74.92,36.02 -74.95,36.08 -74.98,36.02</coordinates></LinearRing></innerBoundaryIs></Polygon><Point><coordinates>-75,36,3</coordinates></Point></MultiGeometry></Placemark></Folder><Placemark><gx:Track xmlns:gx="g"><when>2024-03-19T10:00:00Z</when><when>2024-03-19T10:00:09Z</when><gx:coord>-75 36 1</gx:coord><gx:coord>-75.1 36 2</gx:coord></gx:Track></Placemark><NetworkLink/></Document></kml>`;
const SCRAPS = (
  '& < > " \' , ; { } [ ] : 0 -1 1e999 NaN null true <!-- --> <![CDATA[ ]]> <!DOCTYPE &x; &#0; &#x110000; ' +
  '</Folder> <Placemark> <coordinates> </trkseg> <trkpt> lat= 999 -180.0001 91 "coordinates" "type" "crs" \ufeff \u{1f600} \0'
).split(' ');

beforeAll(async () => {
  const gdal = await openGdal();
  const text = (type: 'Point' | 'LineString' | 'MultiPolygon', seed: number) =>
    sampleGeoJson({ type, count: 4, seed, withHeights: true, letters: 'any' });
  const crs = '"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::4269"}},';
  samples.push(
    { files: { 'a.geojson': utf8(text('MultiPolygon', 1)) }, hurt: ['a.geojson'] },
    {
      files: { 'a.geojson': utf8(text('LineString', 2).replace('{', `{${crs}`)) },
      hurt: ['a.geojson'],
    },
    { files: { 'a.gpx': utf8(GPX) }, hurt: ['a.gpx'] },
    { files: { 'a.kml': utf8(KML) }, hurt: ['a.kml'] },
    { files: { 'a.kmz': zipSync({ 'doc.kml': utf8(KML) }) }, hurt: ['a.kmz'] },
    { files: { 'doc.kml': utf8(KML) }, hurt: ['doc.kml'], zipAs: 'a.kmz' },
  );
  for (const [type, dim] of [
    ['MultiPolygon', 'XYZ'],
    ['LineString', 'XYM'],
    ['Point', 'XYZM'],
  ] as const) {
    const stem = `f${type}`;
    const input = gdal.write(`${stem}.geojson`, utf8(text(type, 3)));
    const args = ['-f', 'ESRI Shapefile', '-nln', stem, '-dim', dim, '-lco', 'ENCODING=UTF-8'];
    const reprojected = ['-s_srs', 'EPSG:4269', '-t_srs', 'EPSG:2264'];
    const folder = await gdal.run('ogr2ogr', input, [...args, ...reprojected], stem);
    const set: Files = {};
    for (const ending of ['shp', 'shx', 'dbf', 'prj', 'cpg']) {
      set[`${stem}.${ending}`] = gdal.read(`${folder}/${stem}.${ending}`).slice();
    }
    const hurt = ['shp', 'dbf', 'prj', 'cpg'].map((ending) => `${stem}.${ending}`);
    samples.push({ files: set, hurt }, { files: set, hurt, zipAs: `${stem}.zip` });
    if (type === 'Point') samples.push({ files: { 'p.zip': zipSync(set) }, hurt: ['p.zip'] });
  }
});

function mutate(bytes: Uint8Array, random: () => number): Uint8Array {
  const whole = (n: number) => Math.floor(random() * n);
  let out: Uint8Array = bytes.slice();
  for (let turns = 1 + whole(4); turns > 0; turns--) {
    // A third of the changes go near the beginning, where headers are.
    const at = whole(random() < 0.33 ? Math.min(200, out.length) : out.length);
    const piece = out.slice(at, at + 1 + whole(40));
    switch (whole(10)) {
      case 0:
        out = splice(out, at, piece.length, utf8(SCRAPS[whole(SCRAPS.length)]));
        break;
      case 1:
        out = splice(out, at, piece.length, new Uint8Array());
        break;
      case 2:
        out = splice(out, whole(out.length), 0, piece);
        break;
      case 3:
        if (random() < 0.3) out = out.slice(0, at);
        break;
      case 4: {
        // Four bytes at once: counts, lengths and offsets.
        const value = [0, 1, -1, 0x7fffffff, 0xffff, whole(1000)][whole(6)];
        if (at + 4 <= out.length) new DataView(out.buffer).setInt32(at, value, random() < 0.5);
        break;
      }
      case 5:
      case 6:
      case 7: {
        // A number in a text becomes another.
        const digit = out.findIndex((byte, i) => i >= at && byte >= 48 && byte <= 57);
        if (digit >= 0) out[digit] = 48 + whole(10);
        break;
      }
      default:
        if (out.length > 0) out[at] = random() < 0.3 ? 255 : whole(256);
    }
  }
  return out;
}

function splice(bytes: Uint8Array, at: number, remove: number, put: Uint8Array): Uint8Array {
  const out = new Uint8Array(bytes.length - Math.min(remove, bytes.length - at) + put.length);
  out.set(bytes.subarray(0, at));
  out.set(put, at);
  out.set(bytes.subarray(Math.min(bytes.length, at + remove)), at + put.length);
  return out;
}

/** Everything that can be done with what opened. */
function useAll(features: readonly VectorFeature[]): void {
  let id = 0;
  const made = toPlanFeatures(
    features,
    (feature) => feature.suggested.kind,
    () => `id${id++}`,
  );
  const couldBe = made.leftOut.filter(({ problem }) => problem.code !== 'feature-invalid');
  if (couldBe.length > 0)
    throw new Error(`suggested what cannot be: ${JSON.stringify(couldBe[0])}`);
  const out = outFromVectors(features);
  JSON.parse(writeGeoJson(out));
  writeKmz(out, 'x');
  writeGpx(out, { mostNameLetters: 10, mostRoutePoints: 200 });
  writeShapefileZip(out, 'x');
  for (const { geometry, pointData } of features) {
    if (geometry.type !== 'LineString') continue;
    const [lng, lat] = geometry.coordinates[0];
    const wgs84 = crsFromEpsg(4326);
    if (!wgs84.ok) throw new Error('no WGS 84');
    const isNear = geometry.coordinates.every(
      ([x, y]) => Math.abs(x - lng) < 1 && Math.abs(y) < 84 && Math.abs(y - lat) < 1,
    );
    // A frame holds a site, not a continent.
    if (isNear)
      finish(
        cleanTrack(
          geometry.coordinates,
          pointData,
          openFrame(frameFor(wgs84.value, lng, lat)),
          defaultCleanChoices,
        ),
      );
  }
}

test(
  `${COUNT} damaged drawings end as features, a question or a refusal`,
  { timeout: 60_000 + COUNT * 40 },
  async () => {
    const tally = fuzzTally();
    for (let seed = 1; seed <= COUNT; seed++) {
      const random = seeded(seed);
      const sample = samples[seed % samples.length];
      const hurt = sample.hurt[Math.floor(random() * sample.hurt.length)];
      const damaged: Files = {
        ...sample.files,
        [hurt]: mutate(sample.files[hurt], random),
      };
      if (random() < 0.05) delete damaged[hurt];
      const given = sample.zipAs ? { [sample.zipAs]: zipSync(damaged, { level: 1 }) } : damaged;
      const choices = random() < 0.7 ? { epsg: 2264, swapped: random() < 0.5 } : {};
      await tally.take(`${hurt}, seed ${seed}`, async () => {
        const opening = await openVectors(files(given), choices);
        if (opening.kind === 'refused') return refusal(opening.problem);
        if (opening.kind === 'opened') useAll(opening.features);
        return { end: opening.kind };
      });
    }
    tally.close();
    // The mutations must reach all ends and many kinds of trouble, else this test proves little.
    const all = JSON.stringify([...tally.ends]);
    expect(tally.count('opened'), all).toBeGreaterThan(COUNT / 10);
    expect(tally.count('refused'), all).toBeGreaterThan(COUNT / 10);
    expect(tally.count('ask'), all).toBeGreaterThan(COUNT / 200);
    expect(tally.ends.size, all).toBeGreaterThan(12);
  },
);
