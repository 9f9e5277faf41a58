import { expect, test } from 'vitest';
import { gridPoints, type GridPointsOptions } from '../../geo/raster/grid-points.ts';
import { findLattice, placeOnLattice } from '../../geo/raster/point-lattice.ts';
import { mergePoints } from '../../geo/raster/merge-points.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';

type Shot = readonly [number, number, number];
const pointsOf = (shots: readonly Shot[]) => ({
  x: Float64Array.from(shots, (s) => s[0]),
  y: Float64Array.from(shots, (s) => s[1]),
  z: Float64Array.from(shots, (s) => s[2]),
});
const grid = (shots: readonly Shot[], options: Partial<GridPointsOptions> = {}) =>
  finish(gridPoints(pointsOf(shots), { maxCells: 1e6, ...options }));

test('three shots: 2.5 at (2.5, 2.5), nothing outside', () => {
  const made = grid(
    [
      [0, 0, 0],
      [10, 0, 10],
      [0, 10, 0],
    ],
    { cellMeters: 5 },
  );
  if (!made.ok) throw new Error(made.problem.what);
  expect([...made.value.data]).toEqual([2.5, NaN, 2.5, 7.5]);
});

test('shots of one place are averaged', () => {
  const { points, merged } = mergePoints(
    pointsOf([
      [1, 1, 10],
      [2, 2, 5],
      [1.0001, 1, 11],
      [1, 1, 12],
    ]),
  );
  expect(merged).toBe(2);
  expect([...points.x]).toEqual([1, 2]);
  expect([...points.z]).toEqual([11, 5]);
});

test('one point, one place, one line and nearly one line make no surface', () => {
  const code = (shots: readonly Shot[]) => {
    const made = grid(shots);
    return made.ok ? 'made' : made.problem.code;
  };
  expect(code([[5, 5, 5]])).toBe('points-no-surface');
  expect(
    code([
      [5, 5, 5],
      [5, 5, 6],
      [5, 5, 7],
    ]),
  ).toBe('points-no-surface');
  expect(code(Array.from({ length: 50 }, (_, i): Shot => [i, 2 * i, i]))).toBe('points-no-surface');
  expect(code(Array.from({ length: 50 }, (_, i): Shot => [i, 7, i]))).toBe('points-no-surface');
});

test('a bay wider than the limit stays empty, and a wider limit fills it', () => {
  // A horseshoe of shots 1 m apart around a bay 12 m wide.
  const shots: Shot[] = [];
  for (let x = 0; x <= 30; x++) {
    for (let y = 0; y <= 30; y++) {
      if (!(x > 9 && x < 21 && y > 6)) shots.push([x + 0.01 * (y % 3), y + 0.01 * (x % 3), 1]);
    }
  }
  const at = (limit: number) => {
    const made = grid(shots, { cellMeters: 1, longestSideInSpacings: limit });
    if (!made.ok) throw new Error(made.problem.what);
    const { width, west, north, data, leftOutShare } = made.value;
    return { middle: data[Math.floor(north - 20) * width + Math.floor(15 - west)], leftOutShare };
  };
  expect(at(5).middle).toBeNaN();
  expect(at(5).leftOutShare).toBeGreaterThan(0.2);
  expect(at(1e6)).toEqual({ middle: 1, leftOutShare: 0 });
});

test('the cell follows the spacing and stays under the most cells', () => {
  const random = seeded(3);
  const shots = Array.from({ length: 4000 }, (): Shot => [400 * random(), 400 * random(), 1]);
  const free = grid(shots);
  const tight = grid(shots, { maxCells: 2000 });
  if (!free.ok || !tight.ok) throw new Error('not made');
  expect(free.value.cellMeters).toBe(2.5);
  expect(tight.value.width * tight.value.height).toBeLessThanOrEqual(2000);
  const forced = grid(shots, { maxCells: 2000, cellMeters: 1 });
  expect(forced.ok ? 'made' : forced.problem.code).toBe('points-too-wide');
});

test('a lattice is found in any order, with gaps, and placed exactly', () => {
  const shots: Shot[] = [];
  for (let row = 0; row < 20; row++) {
    for (let column = 0; column < 30; column++) {
      if ((row * 30 + column) % 17 !== 0)
        shots.push([500000.25 + column * 0.5, 4e6 + row * 2, row * 100 + column]);
    }
  }
  const random = seeded(5);
  const shuffled = shots
    .map((shot) => ({ shot, key: random() }))
    .sort((a, b) => a.key - b.key)
    .map(({ shot }) => shot);
  for (const set of [shots, shuffled]) {
    const { x, y, z } = pointsOf(set);
    const lattice = findLattice(x, y, 1e6)!;
    expect(lattice).toEqual({
      width: 30,
      height: 20,
      west: 5e5,
      north: 4000039,
      cellWidth: 0.5,
      cellHeight: 2,
    });
    const data = placeOnLattice(x, y, z, lattice);
    expect(data[0]).toBe(1900);
    expect(data[19 * 30 + 29]).toBe(29);
    // Row 0 of the points is row 19 of the grid; its point 17 was left out.
    expect(data[19 * 30 + 17]).toBeNaN();
  }
});

test('scattered shots on round numbers, and shots on a line, are no lattice', () => {
  const random = seeded(6);
  const round = Array.from({ length: 300 }, (): Shot => [
    Math.floor(100 * random()),
    Math.floor(100 * random()),
    0,
  ]);
  const free = Array.from({ length: 300 }, (): Shot => [100 * random(), 100 * random(), 0]);
  const line = Array.from({ length: 300 }, (_, i): Shot => [i, 5, 0]);
  for (const set of [round, free, line]) {
    const { x, y } = pointsOf(set);
    expect(findLattice(x, y, 1e6)).toBeNull();
  }
});
