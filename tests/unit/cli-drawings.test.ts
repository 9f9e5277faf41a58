import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openGdal } from '../gdal.ts';
import { asGdalReads, farthestDegrees, flatPositions } from '../vector-rig.ts';

// The real command in a process of its own, on drawings.

const LOT = [
  [-75, 36],
  [-74.99, 36],
  [-74.99, 36.01],
  [-75, 36.01],
  [-75, 36],
];
const PARCELS = {
  type: 'FeatureCollection',
  features: [
    {
      type: 'Feature',
      properties: { APN: '12-3', OWNER: 'Someone Invented', ACRES: 250.5 },
      geometry: { type: 'Polygon', coordinates: [LOT] },
    },
  ],
};

let folder = '';
const at = (name: string) => join(folder, name);
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'assart-cli-'));
  await writeFile(at('lot.geojson'), JSON.stringify(PARCELS));
  const feet = { type: 'Point', coordinates: [2_000_000, 600_000] };
  await writeFile(at('feet.geojson'), JSON.stringify(feet));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const assart = (...args: readonly string[]) =>
  new Promise<{ code: number; out: string; err: string }>((done) => {
    execFile(process.execPath, ['--import', 'tsx', 'app/cli/main.ts', ...args], (error, out, err) =>
      done({ code: error ? Number(error.code) : 0, out, err }),
    );
  });

test('inspect prints features and what was dropped, never whose the land is', async () => {
  const { code, out, err } = await assart('inspect', at('lot.geojson'));
  expect([code, err]).toEqual([0, '']);
  expect(out).not.toContain('Invented');
  expect(JSON.parse(out)).toMatchObject({
    kind: 'drawing',
    formats: ['geojson'],
    sourceCrs: 'WGS 84',
    featureCount: 1,
    boundsDegrees: { west: -75, south: 36, east: -74.99, north: 36.01 },
    personalColumns: [{ column: 'OWNER', values: 1 }],
    features: [
      {
        name: '12-3',
        geometry: 'Polygon',
        attributes: { APN: '12-3', ACRES: 250.5 },
        suggestedKind: 'property-line',
        outlineFault: null,
      },
    ],
  });
  const kept = await assart('inspect', at('lot.geojson'), '--keep-personal');
  expect(kept.out).toContain('Someone Invented');
});

// Reference: GDAL reads the last link of the chain.
test('convert goes through all formats and back to the same place', async () => {
  const chain = ['lot.kml', 'lot.kmz', 'lot.zip', 'again.geojson', 'lot.gpx'];
  let from = 'lot.geojson';
  for (const to of chain) {
    const { code, err } = await assart('convert', at(from), at(to));
    expect([to, code, err]).toEqual([to, 0, '']);
    from = to;
  }
  const gdal = await openGdal();
  const area = { 'again.geojson': await readFile(at('again.geojson')) };
  const [{ geometry, properties }] = await asGdalReads(gdal, area, 'again.geojson');
  expect(farthestDegrees(flatPositions(geometry!.coordinates), LOT)).toBeLessThan(1e-12);
  expect(properties).toMatchObject({ name: '12-3', APN: '12-3' });
  const track = { 'lot.gpx': await readFile(at('lot.gpx')) };
  const [edge] = await asGdalReads(gdal, track, 'lot.gpx', ['tracks']);
  expect(farthestDegrees(flatPositions(edge.geometry!.coordinates), LOT)).toBeLessThan(1e-9);
});

test('questions and mistakes are one line with the way out', async () => {
  const cases: [readonly string[], number, RegExp][] = [
    [['inspect', at('feet.geojson')], 1, /degrees.*--crs/],
    [['convert', at('lot.geojson'), at('lot.tif')], 1, /drawing, not heights/],
    [['inspect', at('lot.geojson'), '--swap-axes', 'perhaps'], 2, /yes or no/],
    [['convert', at('lot.geojson'), at('lot.gpx'), '--routes', '1'], 2, /--routes/],
  ];
  const ran = await Promise.all(cases.map(([args]) => assart(...args)));
  for (const [i, [args, exit, line]] of cases.entries()) {
    const { code, out, err } = ran[i];
    expect({ args, code, out }).toEqual({ args, code: exit, out: '' });
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(err).toMatch(line);
  }
  const placed = await assart('inspect', at('feet.geojson'), '--crs', '2264');
  expect(JSON.parse(placed.out)).toMatchObject({ sourceCrs: 'NAD83 / North Carolina (ftUS)' });
});
