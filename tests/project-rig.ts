import { createHash } from 'node:crypto';
import { unzipSync } from 'fflate';
import { memorySource } from '../geo/formats/byte-source.ts';
import { decodeHere } from '../geo/formats/geotiff/decode-block.ts';
import { openProjectZip } from '../geo/formats/project/project-parts.ts';
import {
  readProjectRaster,
  type RasterNumbers,
} from '../geo/formats/project/read-project-raster.ts';
import { readProject, type ReadProject } from '../geo/formats/project/read-project.ts';
import { writeProject } from '../geo/formats/project/write-project.ts';
import { crsFromEpsg } from '../geo/frame/crs.ts';
import { frameFor, openCrs, openFrame } from '../geo/frame/open-frame.ts';
import { parseFeature } from '../geo/plan/feature.ts';
import { emptyRawPlan, type RawPlan } from '../geo/plan/raw-plan.ts';
import type { GroundRecord } from '../geo/raster/ground-record.ts';
import { makeGrid } from '../geo/raster/make-grid.ts';
import type { PhotoRecord } from '../geo/raster/photo-record.ts';
import { ok, type Problem, type Result } from '../geo/result.ts';
import { valueOf } from './geotiff-samples.ts';
import { seeded } from './seeded.ts';

/** A whole invented project in memory: features, a ground, photos; written and read again. */

export interface TestProject {
  readonly plan: RawPlan;
  readonly rasters: ReadonlyMap<string, RasterNumbers>;
}

export function sha256(numbers: RasterNumbers): string {
  return createHash('sha256')
    .update(new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength))
    .digest('hex');
}

export function testProject(): TestProject {
  const { record: ground, data } = testGround();
  // A system with a code in metres, one in US survey feet, one in degrees.
  const photos = [26918, 2264, 4269].map((epsg, i) => testPhoto(epsg, i));
  const features = [
    ['plot-1', 'plot', 'Plot <b>one</b> & "two"', polygon(-75, 36.145), { weapon: 'bow' }],
    ['berm-1', 'berm', '=HYPERLINK("x")', line, { gaps: [{ stationMeters: 30, widthMeters: 6 }] }],
    [
      'stand-1',
      'stand',
      'Stand, by the creek',
      { type: 'Point', coordinates: [-74.9991, 36.1447] },
      {},
    ],
    ['nogo-1', 'no-go', 'Seep\nwith a second line', polygon(-74.99, 36.146), { reason: 'wetland' }],
  ].map(([id, kind, name, geometry, properties]) =>
    valueOf(parseFeature({ id, kind, name, geometry, properties, locked: id === 'nogo-1' })),
  );
  const plan: RawPlan = {
    ...emptyRawPlan(),
    features: Object.fromEntries(features.map((feature) => [feature.id, feature])),
    settings: { siteName: 'Invented bench', groundId: ground.id, photoId: photos[0].record.id },
    conditions: { hourUtc: '2026-11-14T21:10:00Z' },
    grounds: { [ground.id]: ground },
    photos: Object.fromEntries(photos.map(({ record }) => [record.id, record])),
    extras: { 'plot-1': { surveyCrew: 'two people', readings: [1.5, 2.5] } },
  };
  const rasters = new Map<string, RasterNumbers>([[ground.id, data]]);
  for (const { record, pixels } of photos) rasters.set(record.id, pixels);
  return { plan, rasters };
}

const line = {
  type: 'LineString',
  coordinates: [
    [-75, 36.144],
    [-74.999, 36.144],
    [-74.998, 36.1446],
  ],
};

/** Clockwise, as RFC 7946 does not want it. */
function polygon(west: number, south: number): object {
  const [east, north] = [west + 0.002, south + 0.001];
  return {
    type: 'Polygon',
    coordinates: [
      [
        [west, south],
        [west, north],
        [east, north],
        [east, south],
        [west, south],
      ],
    ],
  };
}

function testGround(): { record: GroundRecord; data: Float32Array<ArrayBuffer> } {
  const frame = frameFor(valueOf(crsFromEpsg(26918)), -75, 36.145);
  const random = seeded(31);
  const [width, height] = [300, 270];
  const data = Float32Array.from({ length: width * height }, (_, i) =>
    i % 37 === 0 ? NaN : 180 + 20 * Math.sin(i / 700) + random(),
  );
  const shape = { width, height, west: 500_000, north: 4_000_500, cellWidth: 1.5, cellHeight: 1.5 };
  const { data: _, ...place } = makeGrid(shape, data, openFrame(frame));
  const record: GroundRecord = {
    id: sha256(data),
    name: 'Bench lidar',
    place,
    bounds: [-75, 36.14, -74.99, 36.15],
    surveyedOn: '2024-03-19',
    clearing: 'before-clearing',
    verticalErrorMeters: 0.1,
    vertical: { unit: 'us-survey-foot', datum: 'NAVD88', epsg: 6360 },
    sourceCrsName: 'NAD83 / UTM zone 18N',
    sourceFiles: ['bench.tif'],
    sourceCellMeters: 1.5,
    notes: ['Heights turned from US survey feet into metres.'],
  };
  return { record, data };
}

function testPhoto(epsg: number, number: number) {
  const crs = valueOf(crsFromEpsg(epsg));
  const [width, height] = [261, 40 + number];
  const random = seeded(50 + number);
  // Colours under full transparency, too: they belong to the pixels that the hash names.
  const pixels = Uint8ClampedArray.from({ length: 4 * width * height }, () => random() * 256);
  const [x, y] = openCrs(crs).fromLngLat(-78, 35.5);
  const step = crs.unit === 'degree' ? 1e-6 : 0.5;
  const [east, north] =
    crs.unit === 'degree' ? [90_000, 111_000] : crs.unit === 'metre' ? [1, 1] : [0.3048, 0.3049];
  const record: PhotoRecord = {
    id: sha256(pixels),
    name: `Photo ${epsg}.tif`,
    plane: { proj: crs.proj, metersPerUnitEast: east, metersPerUnitNorth: north },
    width,
    height,
    west: x * east,
    north: y * north,
    cellWidth: step * east,
    cellHeight: step * north,
    bounds: [-78, 35, -77, 36],
    cellMeters: step * east,
    sourceFiles: ['photo.tif'],
    notes: [],
  };
  return { record, pixels, corner: [x, y, step] as const };
}

export async function zipOf({ plan, rasters }: TestProject): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  const written = await writeProject(plan, {
    raster: (id): Promise<Result<ArrayBuffer>> => {
      const numbers = rasters.get(id);
      const problem: Problem = { code: 'raster-missing', what: 'w', wayOut: 'o' };
      return Promise.resolve(
        numbers ? { ok: true, value: numbers.buffer } : { ok: false, problem },
      );
    },
    put: (piece) => void pieces.push(piece),
  });
  if (!written.ok) throw new Error(written.problem.what);
  return new Uint8Array(Buffer.concat(pieces));
}

export async function openZip(bytes: Uint8Array): Promise<Result<ReadProject>> {
  const parts = await openProjectZip(memorySource('copy.zip', bytes));
  return parts.ok ? readProject(parts.value) : parts;
}

/** A zip read whole, every raster that could be had and every problem with one. */
export async function projectOf(bytes: Uint8Array) {
  return valueOf(await wholeProject(bytes));
}

/** The same of a zip that may be no project. */
export async function wholeProject(bytes: Uint8Array) {
  const opened = await openProjectZip(memorySource('copy.zip', bytes));
  if (!opened.ok) return opened;
  const parts = opened.value;
  const plan = await readProject(parts);
  if (!plan.ok) return plan;
  const read = plan.value;
  const rasters = new Map<string, RasterNumbers>();
  const problems: Problem[] = [...read.missing];
  for (const raster of read.rasters) {
    const hash = (numbers: RasterNumbers) => Promise.resolve(sha256(numbers));
    const numbers = await readProjectRaster(parts, raster, { decoder: decodeHere, hash });
    if (numbers.ok) rasters.set(raster.record.id, numbers.value);
    else problems.push(numbers.problem);
  }
  return ok({ ...read, rasters, problems });
}

/** By another unzipper than ours. */
export function unzipped(bytes: Uint8Array): Record<string, Uint8Array> {
  return unzipSync(bytes);
}
