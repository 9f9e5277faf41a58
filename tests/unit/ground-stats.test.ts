import { describe, expect, test } from 'vitest';
import { elevationStats } from '../../geo/ground/elevation-stats.ts';
import { fitPlane } from '../../geo/ground/plane-fit.ts';
import { planeSlopeIn } from '../../geo/ground/plane-slope.ts';
import { slopeStats } from '../../geo/ground/slope-stats.ts';
import { wholeWindow, type CellField } from '../../geo/raster/cell-window.ts';
import { coveredPercentiles } from '../../geo/raster/covered-percentiles.ts';
import { eachCoveredRun } from '../../geo/raster/covered-cells.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { polygonCoverage } from '../../geo/raster/polygon-coverage.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

const fieldOf = (grid: Grid): CellField => ({ data: grid.data, window: wholeWindow(grid) });

function outline(grid: Grid, corners: readonly (readonly [number, number])[]) {
  return [corners.map(([x, y]) => [grid.west + x, grid.north - y] as const)];
}
const ragged = [
  [3.3, 2.1],
  [31.7, 6.4],
  [25.2, 17.9],
  [36.1, 27.6],
  [5.8, 25.3],
] as const;

describe('percentiles', () => {
  test('equal a plain sort and running sum, weights, ties, negatives and holes included', () => {
    const next = seeded(41);
    for (let n = 0; n < 60; n++) {
      const grid = roughGrid({ width: 40, height: 30 }, 100 + n, { holes: true });
      const round = n % 3 === 0 ? 1 : 1000;
      grid.data.forEach((z, i) => (grid.data[i] = Math.round((z - 250) * round) / round));
      const covered = polygonCoverage(grid, outline(grid, ragged));
      const pairs: [number, number][] = [];
      eachCoveredRun(covered, fieldOf(grid), (data, from, to, share) => {
        for (let i = from; i < to; i++) pairs.push([data[i]!, share]);
      });
      pairs.sort((a, b) => a[0] - b[0]);
      const total = pairs.reduce((sum, [, share]) => sum + share, 0);
      const asked = [0, 1, 0.5, 0.9, next(), next()];
      const plain = asked.map((p) => {
        let running = 0;
        return pairs.find(([, share]) => (running += share) >= p * total - 1e-9)![0];
      });
      expect(coveredPercentiles(fieldOf(grid), covered, asked)).toEqual(plain.map((v) => v + 0));
    }
  });

  test('of nothing are NaN, and a share over 1 is a programmer error', () => {
    const grid = gridOf({ width: 40, height: 30 }, () => NaN);
    const covered = polygonCoverage(grid, outline(grid, ragged));
    expect(coveredPercentiles(fieldOf(grid), covered, [0.5])).toEqual([NaN]);
    expect(() => coveredPercentiles(fieldOf(grid), covered, [1.1])).toThrow(RangeError);
  });
});

describe('over a plot on a plane', () => {
  const grid = gridOf({ width: 40, height: 30 }, (x, y) => 100 + x * 0.0625 - y * 0.03125);
  const covered = polygonCoverage(grid, outline(grid, ragged));
  const slopes: CellField = {
    data: planeSlopeIn(grid, { column: 2, row: 1, width: 36, height: 28 }),
    window: { column: 2, row: 1, width: 36, height: 28 },
  };

  test('one slope, all of the area in its class (analytic)', () => {
    const slope = Math.hypot(0.0625, 0.03125);
    const stats = slopeStats(slopes, covered, [0.02, 0.05, 0.1, 0.15, 0.2], 0.99)!;
    expect(stats.median).toBeCloseTo(slope, 7);
    expect(stats.percentile90).toBeCloseTo(slope, 7);
    expect(stats.greatest.value).toBeCloseTo(slope, 7);
    expect(stats.missingCells).toBe(0);
    const areas = stats.classAreasSquareMeters;
    expect(areas.map((a) => a > 0)).toEqual([false, false, true, false, false, false]);
    expect(areas[2]).toBeCloseTo(covered.polygonCells * 0.99, 9);
  });

  test('highest and lowest lie where the plane says; the fit is the plane (analytic)', () => {
    const stats = elevationStats(fieldOf(grid), covered, [0, 1])!;
    const height = (row: number, column: number) => grid.data[row * grid.width + column]!;
    expect(height(stats.highest.row, stats.highest.column)).toBe(stats.highest.value);
    expect(height(stats.lowest.row, stats.lowest.column)).toBe(stats.lowest.value);
    // Falls west and north (x 0.0625 a metre, y -0.03125): low at the north-west corner.
    expect(stats.lowest.column).toBeLessThan(6);
    expect(stats.lowest.row).toBeLessThan(5);
    expect(stats.highest.column).toBeGreaterThan(33);
    expect(stats.highest.row).toBeGreaterThan(25);
    expect(stats.dataCells).toBeCloseTo(covered.polygonCells, 9);
    const fit = fitPlane(grid, fieldOf(grid), covered)!;
    expect(fit.slope).toBeCloseTo(Math.hypot(0.0625, 0.03125), 9);
    expect(fit.fallsTowardGridDegrees).toBeCloseTo(
      (Math.atan2(-0.0625, 0.03125) * 180) / Math.PI + 360,
      6,
    );
    expect(fit.residualMeters).toBeLessThan(1e-5);
  });

  test('no elevation below the plot gives null, a hole is counted as missing', () => {
    const empty = { ...grid, data: new Float32Array(1200).fill(NaN) };
    expect(elevationStats(fieldOf(empty), covered)).toBeNull();
    expect(slopeStats(fieldOf(empty), covered, [0.1], 1)).toBeNull();
    expect(fitPlane(empty, fieldOf(empty), covered)).toBeNull();
    const holed = { ...grid, data: grid.data.slice() };
    holed.data[15 * 40 + 15] = NaN;
    expect(elevationStats(fieldOf(holed), covered)!.missingCells).toBe(1);
    expect(() => slopeStats(fieldOf(grid), covered, [0.1, 0.1], 1)).toThrow(RangeError);
  });
});

test('a cell that the outline merely brushes does not give the plot its highest point', () => {
  const grid = gridOf({ width: 10, height: 10 }, (x) => (x > 6 ? 50 : x));
  const covered = polygonCoverage(
    grid,
    outline(grid, [
      [2, 2],
      [6.1, 2],
      [6.1, 8],
      [2, 8],
    ]),
  );
  const stats = elevationStats(fieldOf(grid), covered)!;
  expect(stats.highest).toEqual({ value: 5.5, row: 2, column: 5 });
  expect(stats.lowest).toEqual({ value: 2.5, row: 2, column: 2 });
});

test('the class at a limit is the gentler one', () => {
  const grid = gridOf({ width: 10, height: 10 }, (x) => 300 + x * 0.0625);
  const slopes: CellField = { ...fieldOf(grid), data: planeSlopeIn(grid, wholeWindow(grid)) };
  const covered = polygonCoverage(
    grid,
    outline(grid, [
      [1, 1],
      [9, 1],
      [9, 9],
    ]),
  );
  expect(slopeStats(slopes, covered, [0.0625], 1)!.classAreasSquareMeters).toEqual([32, 0]);
});
