import { expect, test } from 'vitest';
import { aspectHorn } from '../../geo/ground/aspect.ts';
import { slopeDegrees, slopeHorn, slopePercent } from '../../geo/ground/slope.ts';
import { fillDepressions } from '../../geo/water/fill-depressions.ts';
import { findLowSpots } from '../../geo/water/low-spots.ts';
import { finish } from '../../geo/work.ts';
import { gridOfRows } from '../terrain-grids.ts';

test('Horn slope of the vendor manual’s window (handbook §10, [C 60]; exact value [R])', () => {
  // prettier-ignore
  const grid = gridOfRows([[50, 45, 50], [30, 30, 30], [8, 10, 10]], 5);
  const slope = finish(slopeHorn(grid))[4]!;
  expect(Math.abs(slope - 3.800329)).toBeLessThan(1e-6);
  // The manual prints 75.25762 with a rounded 180/pi; 75.257658 is exact.
  expect(Math.abs(slopeDegrees(slope) - 75.257658)).toBeLessThan(1e-4);
  expect(slopePercent(0.022)).toBeCloseTo(2.2, 12);
});

test('aspect of the vendor manual’s window (handbook §10, [C 60])', () => {
  // prettier-ignore
  const grid = gridOfRows([[101, 92, 85], [101, 92, 85], [101, 91, 84]]);
  expect(Math.abs(finish(aspectHorn(grid))[4]! - 92.642545)).toBeLessThan(1e-5);
});

test('priority flood of the 10 × 10 outlines (handbook §10, [C 61])', () => {
  const ground = gridOfRows(
    [
      '0000000000',
      '0000000000',
      '0222200000',
      '0200222200',
      '0222200200',
      '0020200200',
      '0022200200',
      '0000222200',
      '0000000000',
      '0000000000',
    ].map((row) => [...row].map(Number)),
  );
  const filled = finish(fillDepressions(ground));
  const { spots } = finish(findLowSpots(ground, filled));
  expect(spots.map((s) => s.cells)).toEqual([6, 2, 1]);
  expect(spots.map((s) => s.spillElevationMeters)).toEqual([2, 2, 2]);
  expect(spots.reduce((sum, s) => sum + s.volumeCubicMeters, 0)).toBe(18);
  expect(filled.filter((z, i) => z !== ground.data[i]).length).toBe(9);
});

test('own bowl: spill 7.0, volume 19.0 (handbook §10, [OWN], recomputed there)', () => {
  const rows = Array.from({ length: 7 }, (_, r) =>
    Array.from({ length: 7 }, (_, c) => {
      const ring = Math.max(Math.abs(r - 3), Math.abs(c - 3));
      return [4, 5, 8, 10][ring]!;
    }),
  );
  rows[3]![5] = 7;
  rows[3]![6] = 6;
  const ground = gridOfRows(rows);
  const filled = finish(fillDepressions(ground));
  const { spots, labels } = finish(findLowSpots(ground, filled));
  expect(spots).toEqual([
    {
      cells: 9,
      areaSquareMeters: 9,
      volumeCubicMeters: 19,
      maxDepthMeters: 3,
      spillElevationMeters: 7,
      deepestCell: 24,
    },
  ]);
  expect(labels.reduce((sum, label) => sum + label, 0)).toBe(9);
});
