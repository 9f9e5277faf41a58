import { readFileSync } from 'node:fs';
import { beforeAll, expect, test } from 'vitest';
import { crsFromEpsg } from '../../geo/frame/crs.ts';
import { geographicCodeOf, systemByCode } from '../../geo/frame/crs-table.ts';
import { openCrs } from '../../geo/frame/open-frame.ts';
import { CRS_ROWS } from '../../geo/frame/table/crs-rows.ts';
import { metersPerUnit } from '../../geo/frame/units.ts';
import { openGdal } from '../gdal.ts';
import type { Gdal } from '../gdal.ts';

/**
 * Every projected code of the table against GDAL, which brings its own copy of the EPSG registry
 * and its own projection library: the middle and two inner corners of each code's area of use.
 * Measured over 1,851 codes: degrees to coordinates 1.3e-8 m at worst (an Albers of Alaska), half of
 * them under 1.2e-9 m; coordinates to degrees 2.0e-6 m at worst, because proj4 ends its series for
 * the latitude of a Lambert cone at 1e-10 of a step.
 */

const FORWARD_BOUND_METERS = 1e-7;
const INVERSE_BOUND_METERS = 3e-6;

interface IndexEntry {
  /** North, west, south, east. */
  readonly bbox: readonly [number, number, number, number];
}

let gdal: Gdal;
let index: Record<string, IndexEntry>;

beforeAll(async () => {
  gdal = await openGdal();
  const file = new URL(import.meta.resolve('epsg-index/all.json'));
  index = JSON.parse(readFileSync(file, 'utf8')) as Record<string, IndexEntry>;
});

const tableCodes = [...CRS_ROWS.matchAll(/[:,](\d+)/g)].map((match) => Number(match[1]));
const utmCodes = Array.from({ length: 60 }, (_, i) => [32_601 + i, 32_701 + i]).flat();

test('the table holds the systems that ground comes in', () => {
  expect(new Set(tableCodes).size).toBe(tableCodes.length);
  expect(tableCodes.length).toBeGreaterThan(1700);
  const range = (first: number, last: number) =>
    Array.from({ length: last - first + 1 }, (_, i) => first + i);
  // UTM on NAD83 and NAD83(2011), and the first and last state-plane codes of each family.
  for (const code of [...range(26_901, 26_923), ...range(6328, 6348)]) {
    expect(tableCodes).toContain(code);
  }
  for (const code of [2222, 2289, 26_929, 32_158, 6355, 6623, 2759, 2992, 3465, 5070, 6350]) {
    expect(tableCodes).toContain(code);
  }
});

test.each([
  ['NAD83 family', tableCodes],
  ['WGS 84 UTM', utmCodes],
])('%s: every code projects as GDAL does, there and back', async (_family, codes) => {
  const off: string[] = [];
  for (const code of codes) {
    const [there, back] = await worstMeters(code);
    if (!(there <= FORWARD_BOUND_METERS)) off.push(`${code}: ${there} m`);
    if (!(back <= INVERSE_BOUND_METERS)) off.push(`${code} back: ${back} m`);
  }
  expect(off).toEqual([]);
});

async function worstMeters(code: number): Promise<[number, number]> {
  const system = systemByCode(code)!;
  const crs = crsFromEpsg(code);
  if (!crs.ok) throw new Error(crs.problem.what);
  const points = pointsInside(code);
  const from = `EPSG:${geographicCodeOf(system.realisation)}`;
  const expected = await gdal.transform(points, from, `EPSG:${code}`);
  const open = openCrs(crs.value);
  const unit = metersPerUnit(system.projection.unit);
  const there: number[] = [];
  const back: number[] = [];
  points.forEach(([lng, lat], i) => {
    const [x, y] = open.fromLngLat(lng, lat);
    there.push(Math.hypot(x - expected[i]![0], y - expected[i]![1]) * unit);
    const [lngBack, latBack] = open.toLngLat(expected[i]![0], expected[i]![1]);
    const turn = ((lngBack - lng + 540) % 360) - 180;
    back.push(Math.hypot(turn * Math.cos((lat * Math.PI) / 180), latBack - lat) * 111_320);
  });
  // Math.max passes NaN on, and NaN fails both bounds.
  return [Math.max(...there), Math.max(...back)];
}

function pointsInside(code: number): [number, number][] {
  const [north, west, south, east] = index[code]!.bbox;
  // An area over the date line has its east below its west.
  const width = (east < west ? east + 360 : east) - west;
  return [0.5, 0.1, 0.9].map((share) => [
    ((west + share * width + 540) % 360) - 180,
    south + share * (north - south),
  ]);
}
