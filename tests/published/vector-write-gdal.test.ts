import { readFileSync } from 'node:fs';
import { unzipSync } from 'fflate';
import { beforeAll, describe, expect, test } from 'vitest';
import { outFromPlan, outFromVectors } from '../../geo/formats/vector/out-feature.ts';
import { toPlanFeatures } from '../../geo/formats/vector/plan-from-vectors.ts';
import { writeGeoJson } from '../../geo/formats/vector/write-geojson.ts';
import { writeGpx } from '../../geo/formats/vector/write-gpx.ts';
import { writeKml, writeKmz } from '../../geo/formats/vector/write-kml.ts';
import { writeShapefileZip } from '../../geo/formats/vector/write-shapefile.ts';
import { parseFeature, type PlanFeature } from '../../geo/plan/feature.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import {
  asGdalReads,
  farthestDegrees,
  flatPositions,
  opened,
  singleParts,
  type GdalFeature,
} from '../vector-rig.ts';

// Reference: GDAL (3.x in WebAssembly) reading what we write, against the plan's own numbers. Digits:
// the plan holds 1e-9 degree; GDAL's GeoJSON prints 15 digits, so nothing but their rounding remains.

let gdal: Gdal;
const plan: PlanFeature[] = [];
beforeAll(async () => {
  gdal = await openGdal();
  const file = readFileSync('fixtures/demo/plan.json', 'utf8');
  const { features } = JSON.parse(file) as { features: unknown[] };
  const hard = [
    {
      id: 'hard-name',
      kind: 'note',
      name: 'A "quoted" <b>name</b> & more, Łąka 草地',
      geometry: { type: 'Point', coordinates: [-75.000000001, 36.123456789] },
      properties: { text: '<script>alert(1)</script> ]]> &amp; tail', about: 'rock' },
    },
    {
      id: 'holed',
      kind: 'plot',
      name: 'Plot with a hole, outline drawn clockwise',
      geometry: {
        type: 'Polygon',
        coordinates: [
          [
            [-75, 36],
            [-75, 36.01],
            [-74.99, 36.01],
            [-74.99, 36],
            [-75, 36],
          ],
          [
            [-74.998, 36.002],
            [-74.992, 36.002],
            [-74.992, 36.008],
            [-74.998, 36.008],
            [-74.998, 36.002],
          ],
        ],
      },
      properties: {},
    },
  ];
  for (const one of [...features, ...hard]) {
    const parsed = parseFeature(one);
    if (!parsed.ok) throw new Error(JSON.stringify(parsed.problem));
    plan.push(parsed.value);
  }
});

/** Corners of each feature as a set, since writers turn rings: sorted, holes and outline apart. */
function expectSameShapes(ours: readonly PlanFeature[], theirs: readonly GdalFeature[]) {
  const parts = singleParts(theirs);
  expect(parts.map(({ type }) => type)).toEqual(ours.map(({ geometry }) => geometry.type));
  ours.forEach(({ geometry }, i) => {
    const ringsOf = (coordinates: unknown) =>
      geometry.type === 'Polygon' ? (coordinates as unknown[]) : [coordinates];
    const [mine, his] = [ringsOf(geometry.coordinates), ringsOf(parts[i].coordinates)];
    expect(his.length).toBe(mine.length);
    mine.forEach((ring, r) => {
      const turned = [...flatPositions(ring)].reverse();
      const off = Math.min(
        farthestDegrees(flatPositions(ring), flatPositions(his[r])),
        farthestDegrees(turned, flatPositions(his[r])),
      );
      expect(off).toBeLessThan(1e-12);
    });
  });
}

function byLayer(features: readonly PlanFeature[]): Map<string, PlanFeature[]> {
  const layers = new Map<string, PlanFeature[]>();
  for (const feature of features) {
    layers.set(feature.kind, [...(layers.get(feature.kind) ?? []), feature]);
  }
  return layers;
}

/** Ten letters of a column cannot tell two long names apart: which of a feature's can be told. */
function clearKeys(properties: object): string[] {
  const keys = Object.keys(properties);
  return keys.filter((key) => keys.filter((k) => k.startsWith(key.slice(0, 10))).length === 1);
}

describe('GeoJSON', () => {
  test('GDAL reads the same shapes, names and properties', async () => {
    const text = writeGeoJson(outFromPlan(plan));
    const theirs = await asGdalReads(gdal, { 'plan.geojson': text }, 'plan.geojson');
    expectSameShapes(plan, theirs);
    theirs.forEach(({ properties }, i) => {
      expect([properties.name, properties.kind]).toEqual([plan[i].name, plan[i].kind]);
      for (const [key, value] of Object.entries(plan[i].properties)) {
        if (typeof value === 'number' || typeof value === 'boolean') {
          expect([key, properties[key]]).toEqual([key, value]);
        }
      }
    });
  });

  // RFC 7946, section 3.1.6: exterior rings counter-clockwise, interior rings clockwise.
  test('rings follow the right-hand rule, by the shoelace sum', () => {
    const { features } = JSON.parse(writeGeoJson(outFromPlan(plan))) as { features: GdalFeature[] };
    let rings = 0;
    for (const { geometry } of features) {
      if (geometry?.type !== 'Polygon') continue;
      (geometry.coordinates as [number, number][][]).forEach((ring, r) => {
        // Sum over edges of (x2 - x1)(y2 + y1): above 0 clockwise.
        const sum = ring
          .slice(1)
          .reduce((s, [x, y], i) => s + (x - ring[i][0]) * (y + ring[i][1] - 72), 0);
        expect(Math.sign(sum)).toBe(r === 0 ? -1 : 1);
        rings++;
      });
    }
    expect(rings).toBeGreaterThan(15);
  });
});

describe('KML', () => {
  test('GDAL reads the same shapes, names and descriptions, folder by folder', async () => {
    const text = writeKml(outFromPlan(plan), 'A & B');
    for (const [kind, ours] of byLayer(plan)) {
      const theirs = await asGdalReads(gdal, { 'plan.kml': text }, 'plan.kml', [kind]);
      expectSameShapes(ours, theirs);
      expect(theirs.map(({ properties }) => properties.Name)).toEqual(ours.map(({ name }) => name));
    }
    const notes = await asGdalReads(gdal, { 'plan.kml': text }, 'plan.kml', ['note']);
    expect(notes.at(-1)!.properties.Description).toBe('<script>alert(1)</script> ]]> &amp; tail');
  });

  test('KMZ holds that text as doc.kml', () => {
    const out = outFromPlan(plan);
    const { 'doc.kml': document } = unzipSync(writeKmz(out, 'T'));
    expect(new TextDecoder().decode(document)).toBe(writeKml(out, 'T'));
  });
});

describe('shapefile', () => {
  test('GDAL reads the same shapes and properties from each of the three', async () => {
    const zip = unzipSync(writeShapefileZip(outFromPlan(plan), 'My plan: 1'));
    expect(Object.keys(zip).toSorted()).toEqual(
      ['areas', 'lines', 'points']
        .flatMap((sort) =>
          ['cpg', 'dbf', 'prj', 'shp', 'shx'].map((e) => `My plan- 1-${sort}.${e}`),
        )
        .toSorted(),
    );
    for (const [sort, type] of [
      ['areas', 'Polygon'],
      ['lines', 'LineString'],
      ['points', 'Point'],
    ] as const) {
      const ours = plan.filter(({ geometry }) => geometry.type === type);
      const theirs = await asGdalReads(gdal, zip, `My plan- 1-${sort}.shp`);
      expectSameShapes(ours, theirs);
      for (const [i, { name, kind, properties }] of ours.entries()) {
        const row = theirs[i].properties;
        expect([row.name, row.kind]).toEqual([name, kind]);
        for (const key of clearKeys(properties)) {
          const value = (properties as unknown as Record<string, unknown>)[key];
          if (typeof value === 'number') expect([key, row[key.slice(0, 10)]]).toEqual([key, value]);
        }
      }
      // What GDAL makes of the .prj.
      const described = await asGdalReads(gdal, zip, `My plan- 1-${sort}.shp`, [
        '-t_srs',
        'EPSG:4326',
      ]);
      expectSameShapes(ours, described);
    }
  });
});

describe('GPX', () => {
  test('GDAL reads points as waypoints and the rest as tracks', async () => {
    const choices = { mostNameLetters: null, mostRoutePoints: null };
    const text = writeGpx(outFromPlan(plan), choices);
    const points = plan.filter(({ geometry }) => geometry.type === 'Point');
    const waypoints = await asGdalReads(gdal, { 'p.gpx': text }, 'p.gpx', ['waypoints']);
    expectSameShapes(points, waypoints);
    expect(waypoints.map(({ properties }) => properties.name)).toEqual(
      points.map(({ name }) => name),
    );
    const others = plan.filter(({ geometry }) => geometry.type !== 'Point');
    const tracks = await asGdalReads(gdal, { 'p.gpx': text }, 'p.gpx', ['tracks']);
    expect(tracks.map(({ properties }) => [properties.name, properties.type])).toEqual(
      others.map(({ name, kind }) => [name, kind]),
    );
    others.forEach(({ geometry }, i) => {
      const ours = flatPositions(geometry.coordinates);
      expect(farthestDegrees(ours, flatPositions(tracks[i].geometry!.coordinates))).toBeLessThan(
        1e-12,
      );
    });
  });

  // Trade notes, section 4: names of 10 to 12 ASCII characters and 200 points a route for old units.
  test('names and routes for old receivers', async () => {
    const line = Array.from({ length: 450 }, (_, i): [number, number] => [-75 + i * 1e-4, 36]);
    const long = ['Łąka beside the creek', 'Laka beside the house'].map((name, i) => ({
      id: `l${i}`,
      kind: 'lane' as const,
      name,
      geometry: { type: 'LineString' as const, coordinates: i === 0 ? line : line.slice(0, 3) },
      properties: { toStand: null },
      locked: false,
      hidden: false,
    }));
    const text = writeGpx(outFromPlan(long), { mostNameLetters: 10, mostRoutePoints: 200 });
    const routes = await asGdalReads(gdal, { 'r.gpx': text }, 'r.gpx', ['routes']);
    const names = routes.map(({ properties }) => String(properties.name));
    expect(names).toEqual(['Laka besid', 'Laka bes 2', 'Laka bes 3', 'Laka besi2']);
    const lengths = routes.map(({ geometry }) => flatPositions(geometry!.coordinates).length);
    expect(lengths).toEqual([200, 200, 52, 3]);
    // Pieces share their ends, so nothing of the line is missing.
    const joined = routes.slice(0, 3).flatMap(({ geometry }, i) => {
      return flatPositions(geometry!.coordinates).slice(i === 0 ? 0 : 1);
    });
    expect(farthestDegrees(joined, line)).toBeLessThan(1e-12);
  });
});

describe('there and back', () => {
  const write = {
    geojson: () => ({ 'a.geojson': writeGeoJson(outFromPlan(plan)) }),
    kml: () => ({ 'a.kml': writeKml(outFromPlan(plan), 'x') }),
    zip: () => ({ 'a.zip': writeShapefileZip(outFromPlan(plan), 'x') }),
  };
  test.each(['geojson', 'kml', 'zip'] as const)('%s gives the plan again', async (format) => {
    const { features } = await opened(write[format]());
    let id = 0;
    const { features: back, leftOut } = toPlanFeatures(
      features,
      (feature) => feature.suggested.kind,
      () => `n${id++}`,
    );
    expect(leftOut).toEqual([]);
    expect(back).toHaveLength(plan.length);
    const byName = (list: readonly PlanFeature[]) => new Map(list.map((f) => [f.name, f]));
    const found = byName(back);
    for (const { name, kind, properties } of plan) {
      const again = found.get(name)!;
      expect([name, again.kind]).toEqual([name, kind]);
      const clear = format === 'zip' ? clearKeys(properties) : Object.keys(properties);
      const pick = (from: object) =>
        Object.fromEntries(clear.map((key) => [key, (from as Record<string, unknown>)[key]]));
      expect({ name, ...pick(again.properties) }).toEqual({ name, ...pick(properties) });
    }
  });

  test('a track keeps its heights, times and hdop through GPX', async () => {
    const points = [0, 1, 2].map(
      (i) =>
        `<trkpt lat="36.00${i}" lon="-75"><ele>10${i}.5</ele><time>2024-03-19T15:04:0${i}.500Z</time><hdop>1.${i}</hdop></trkpt>`,
    );
    const gpx = `<gpx version="1.1" creator="x"><trk><name>T</name><trkseg>${points.join('')}</trkseg></trk></gpx>`;
    const first = await opened({ 'a.gpx': gpx });
    const out = outFromVectors(first.features);
    const text = writeGpx(out, { mostNameLetters: null, mostRoutePoints: null });
    const again = await opened({ 'b.gpx': text });
    expect(again.features[0].pointData).toEqual(first.features[0].pointData);
    expect([...first.features[0].pointData!.timesMs!]).toEqual(
      [0, 1, 2].map((i) => Date.UTC(2024, 2, 19, 15, 4, i, 500)),
    );
    expect(again.features[0].geometry).toEqual(first.features[0].geometry);
  });

  test('the same plan gives the same bytes', () => {
    const out = outFromPlan(plan);
    expect(writeShapefileZip(out, 'a')).toEqual(writeShapefileZip(out, 'a'));
    expect(writeKmz(out, 'a')).toEqual(writeKmz(out, 'a'));
  });
});
