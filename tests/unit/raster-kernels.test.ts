import { describe, expect, test } from 'vitest';
import { CellHeap } from '../../geo/raster/cell-heap.ts';
import { overviews } from '../../geo/raster/overviews.ts';
import { cellAt, sampleBilinear, sampleNearest } from '../../geo/raster/sample.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { gridOf, gridOfRows, roughGrid } from '../terrain-grids.ts';

describe('sample', () => {
  // prettier-ignore
  const grid = gridOfRows([[1, 2], [3, 4]]);
  const at = (dx: number, dy: number) => sampleBilinear(grid, grid.west + dx, grid.north - dy);

  test('a plane between centres, flat out to the rim, none beyond (analytic)', () => {
    expect(at(1, 1)).toBe(2.5);
    expect(at(0.75, 0.5)).toBe(1.25);
    expect(at(0, 0)).toBe(1);
    expect(at(2, 2)).toBe(4);
    expect(at(2, 1)).toBe(3);
    for (const [dx, dy] of [
      [-1e-6, 1],
      [1, -1e-6],
      [2.000001, 1],
      [NaN, 1],
    ] as const) {
      expect(at(dx, dy)).toBeNaN();
    }
  });

  test('beside a hole the others weigh more; in it there is nothing', () => {
    const holed = { ...grid, data: Float32Array.from([1, 2, 3, NaN]) };
    expect(sampleBilinear(holed, grid.west + 0.75, grid.north - 0.875)).toBeCloseTo(
      (1 * 0.75 * 0.625 + 2 * 0.25 * 0.625 + 3 * 0.75 * 0.375) / (1 - 0.25 * 0.375),
      9,
    );
    expect(sampleBilinear(holed, grid.west + 1.1, grid.north - 1.1)).toBeNaN();
    expect(sampleBilinear(holed, grid.west + 0.5, grid.north - 0.5)).toBe(1);
  });

  test('nearest is the cell that holds the point; a one-cell grid is one height', () => {
    expect(sampleNearest(grid, grid.west + 1, grid.north - 0.99)).toBe(2);
    expect(cellAt(grid, grid.west + 2, grid.north - 2)).toBe(3);
    expect(cellAt(grid, grid.west - 0.01, grid.north)).toBe(-1);
    const one = gridOf({ width: 1, height: 1 }, () => 7);
    expect(sampleBilinear(one, one.west + 0.1, one.north - 0.9)).toBe(7);
  });
});

describe('overviews', () => {
  test('odd sizes: the last row and column hold what is there', () => {
    // prettier-ignore
    const grid = gridOfRows([[1, 3, 5], [5, 7, 9], [2, 4, NaN]]);
    const [first, second] = finish(overviews(grid, 1));
    expect([...first!.data]).toEqual([4, 7, 3, NaN]);
    expect(first).toMatchObject({ width: 2, height: 2, cellWidth: 2, cellHeight: 2 });
    expect(first!.cellGroundAreaSquareMeters).toBe(4);
    // The mean of the eight cells with data, not of the three means.
    expect([...second!.data]).toEqual([36 / 8]);
    expect(finish(overviews(grid, 3))).toEqual([]);
    expect(() => finish(overviews(grid, 0))).toThrow(RangeError);
  });

  test('the top of the pyramid is the mean of the ground, holes left out', () => {
    for (const [width, height] of [
      [37, 23],
      [64, 64],
      [1, 50],
      [129, 3],
    ] as const) {
      const grid = roughGrid({ width, height }, width, { holes: width > 30 });
      const top = finish(overviews(grid, 1)).at(-1)!;
      const heights = grid.data.filter((z) => !Number.isNaN(z));
      const mean = heights.reduce((sum, z) => sum + z, 0) / heights.length;
      // Each level rounds to 32 bits: seven of them at most, half of 2^-15 m each.
      expect(Math.abs(top.data[0]! - mean)).toBeLessThan(7 * 2 ** -16);
    }
  });
});

test('the heap gives cells lowest first, equals by index', () => {
  const next = seeded(3);
  const heap = new CellHeap(4);
  const levels = Array.from({ length: 5000 }, () => Math.floor(next() * 300) / 4);
  // Each cell once, in no order of index: 7 and 5,000 have no common divisor.
  const order = levels.map((_, i) => (i * 7 + 1234) % levels.length);
  const waiting = new Set<number>();
  const before = (a: number, b: number) => levels[a]! - levels[b]! || a - b;
  let pushed = 0;
  while (pushed < order.length || waiting.size > 0) {
    if (pushed < order.length && (waiting.size === 0 || next() < 0.6)) {
      const cell = order[pushed++]!;
      heap.push(cell, levels[cell]!);
      waiting.add(cell);
      continue;
    }
    const least = [...waiting].reduce((a, b) => (before(a, b) < 0 ? a : b));
    expect(heap.lowestLevel()).toBe(levels[least]);
    expect(heap.pop()).toBe(least);
    waiting.delete(least);
  }
  expect(heap.pop()).toBe(-1);
  expect(heap.lowestLevel()).toBe(Infinity);
});
