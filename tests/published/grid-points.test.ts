import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { gridPoints } from '../../geo/raster/grid-points.ts';
import type { Points } from '../../geo/raster/merge-points.ts';
import { finish } from '../../geo/work.ts';
import { rasterDifference } from '../raster-difference.ts';
import { seeded } from '../seeded.ts';

interface Table {
  readonly width: number;
  readonly height: number;
  readonly cell: number;
  readonly shots: [number, number, number][];
  readonly heights: (number | null)[];
}

const pointsOf = (shots: readonly (readonly [number, number, number])[]): Points => ({
  x: Float64Array.from(shots, (s) => s[0]),
  y: Float64Array.from(shots, (s) => s[1]),
  z: Float64Array.from(shots, (s) => s[2]),
});

// Source: gdal_grid's linear method (Qhull's Delaunay triangles), table made as `madeWith` says.
test('heights equal gdal_grid -a linear on 300 seeded shots', () => {
  const file = new URL('gdal-grid-linear.json', import.meta.url);
  const table = JSON.parse(readFileSync(file, 'utf8')) as Table;
  const made = finish(
    gridPoints(pointsOf(table.shots), {
      maxCells: 1e6,
      cellMeters: table.cell,
      longestSideInSpacings: 1e9,
    }),
  );
  if (!made.ok) throw new Error(made.problem.what);
  const ours = made.value;
  expect([ours.width, ours.height, ours.west, ours.north]).toEqual([50, 40, 0, 80]);
  const theirs = table.heights.map((z) => z ?? NaN);
  const found = rasterDifference(ours.data, theirs);
  expect(found.dataMismatches).toBe(0);
  expect(found.compared).toBeGreaterThan(1500);
  // Float32 of heights below 16 m: half a unit in the last place is 4.8e-7 m; the table has 5e-8.
  expect(found.largest).toBeLessThan(6e-7);
});

// A linear surface is its own linear interpolation, whatever the triangles: exact by definition.
test('a plane comes back to 1e-6, at survey coordinates', () => {
  const random = seeded(7);
  const plane = (x: number, y: number) => 0.03 * (x - 500_100) - 0.02 * (y - 4_000_100);
  const shots = Array.from({ length: 2000 }, (): [number, number, number] => {
    const x = 500_000 + 200 * random();
    const y = 4_000_000 + 200 * random();
    return [x, y, plane(x, y)];
  });
  const made = finish(gridPoints(pointsOf(shots), { maxCells: 1e6 }));
  if (!made.ok) throw new Error(made.problem.what);
  const { width, height, west, north, cellMeters, data } = made.value;
  let largest = 0;
  let cells = 0;
  for (let i = 0; i < width * height; i++) {
    if (Number.isNaN(data[i]!)) continue;
    const x = west + ((i % width) + 0.5) * cellMeters;
    const y = north - (Math.floor(i / width) + 0.5) * cellMeters;
    largest = Math.max(largest, Math.abs(data[i]! - plane(x, y)));
    cells++;
  }
  expect(cells).toBeGreaterThan(0.9 * width * height);
  expect(largest).toBeLessThan(1e-6);
});
