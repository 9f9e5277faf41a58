import { describe, expect, test } from 'vitest';
import type { CellField } from '../../geo/raster/cell-window.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import type { Lookout } from '../../geo/sight/lookout.ts';
import { viewshedFast } from '../../geo/sight/viewshed-fast.ts';
import { viewshed } from '../../geo/sight/viewshed.ts';
import { finish } from '../../geo/work.ts';
import { slowSeenFrom, type SlowLook } from '../oracles/line-of-sight.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

/** A small ground with a lookout on it: oblong cells, holes, walls, ends of sight, the round earth. */
function smallLook(seed: number): { grid: Grid; look: SlowLook; lookout: Lookout } {
  const next = seeded(seed);
  const side = () => 1 + Math.floor(next() * 22);
  const shape = {
    width: side(),
    height: side(),
    cellWidth: seed % 3 === 0 ? 0.5 + 3 * next() : 1,
    cellHeight: seed % 3 === 0 ? 0.5 + 3 * next() : 1,
  };
  const rise = next() * 0.4;
  const grid = gridOf(shape, (x, y) => {
    if (seed % 4 === 0) return Math.floor(next() * 4);
    return rise * x + 2 * Math.sin(y / 3) + (next() < 0.1 ? 3 * next() : 0.3 * next());
  });
  if (seed % 5 === 0) grid.data.forEach((_, i) => next() < 0.1 && (grid.data[i] = NaN));
  const column = Math.floor(next() * shape.width);
  const row = Math.floor(next() * shape.height);
  if (Number.isNaN(grid.data[row * shape.width + column]!)) {
    grid.data[row * shape.width + column] = 1;
  }
  const screens =
    seed % 3 === 1
      ? Float32Array.from(grid.data, () => (next() < 0.1 ? 4 * next() : next() < 0.1 ? NaN : 0))
      : null;
  const look = {
    column,
    row,
    eyeMeters: next() * 5,
    radiusMeters: seed % 2 === 0 ? 0.4 + next() * 25 : Infinity,
    screens,
    earthCurve: seed % 7 === 0 ? 5000 : 0,
  };
  const lookout = {
    ...look,
    x: grid.west + (column + 0.2 + 0.6 * next()) * shape.cellWidth,
    y: grid.north - (row + 0.2 + 0.6 * next()) * shape.cellHeight,
  };
  return { grid, look, lookout };
}

/** The field at a cell of the grid; NaN outside its window. */
function at({ data, window: w }: CellField, column: number, row: number): number {
  const [c, r] = [column - w.column, row - w.row];
  if (c < 0 || r < 0 || c >= w.width || r >= w.height) return NaN;
  return data[r * w.width + c]!;
}

const exact = (grid: Grid, lookout: Lookout) => finish(viewshed(grid, lookout))!;
const fast = (grid: Grid, lookout: Lookout) => finish(viewshedFast(grid, lookout))!;
const inMiddle = (grid: Grid, column: number, row: number) => ({
  x: grid.west + (column + 0.5) * grid.cellWidth,
  y: grid.north - (row + 0.5) * grid.cellHeight,
  radiusMeters: Infinity,
});

describe('viewshed', () => {
  test('equals a line drawn to every cell by itself on 500 small grounds', () => {
    let seen = 0;
    let hidden = 0;
    let without = 0;
    for (let seed = 1; seed <= 500; seed++) {
      const { grid, look, lookout } = smallLook(seed);
      const field = exact(grid, lookout);
      for (let row = 0; row < grid.height; row++) {
        for (let column = 0; column < grid.width; column++) {
          const slow = slowSeenFrom(grid, look, column, row);
          const ours = at(field, column, row);
          const isSame = Number.isNaN(slow)
            ? Number.isNaN(ours)
            : Math.abs(ours - slow) <= 2e-6 * Math.max(1, slow);
          if (!isSame)
            expect({ seed, column, row, ours }).toEqual({ seed, column, row, ours: slow });
          if (Number.isNaN(slow)) without++;
          else if (slow > 0) hidden++;
          else seen++;
        }
      }
    }
    // Enough of each, or the test would prove little.
    expect(Math.min(seen, hidden, without)).toBeGreaterThan(5000);
  });

  test('a wall on flat ground, by similar triangles', () => {
    const flat = gridOf({ width: 41, height: 41 }, () => 100);
    const screens = new Float32Array(41 * 41);
    for (let row = 0; row < 41; row++) screens[row * 41 + 20] = 3;
    const field = exact(flat, { ...inMiddle(flat, 10, 20), eyeMeters: 2, screens });
    // 10 m to the wall, whose top is 1 m over the eye: at n times 10 m the line is n m over it.
    for (const times of [2, 3]) expect(at(field, 10 + 10 * times, 20)).toBeCloseTo(2 + times, 6);
    expect(at(field, 30, 40)).toBeCloseTo(4, 6);
    // What stands in a cell hides what is beyond it, not the cell.
    expect(at(field, 20, 20)).toBe(0);
    expect(at(field, 0, 3)).toBe(0);
  });

  test('the dip of the round earth: (d - √(2Rh))² / 2R hidden past the horizon', () => {
    const sea = gridOf({ width: 201, height: 1, cellWidth: 50, cellHeight: 50 }, () => 0);
    const round = { ...inMiddle(sea, 0, 0), eyeMeters: 2, earthCurve: 1 };
    const radius = 6_371_008.8;
    // 3.57 km times the root of the height in metres: the figure of every seaman's table.
    const horizon = Math.sqrt(2 * radius * 2);
    expect(horizon).toBeCloseTo(3570 * Math.SQRT2, -1);
    const field = exact(sea, round);
    expect(at(field, 100, 0)).toBe(0);
    for (const cell of [140, 200]) {
      const hidden = (50 * cell - horizon) ** 2 / (2 * radius);
      expect(at(field, cell, 0)).toBeCloseTo(hidden, 3);
    }
    expect(Math.max(...exact(sea, { ...round, earthCurve: 0 }).data)).toBe(0);
  });

  test('a higher eye never sees less of the ground, a screen never shows more', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const { grid, lookout } = smallLook(seed);
      const open = exact(grid, { ...lookout, screens: null }).data;
      const higher = exact(grid, { ...lookout, screens: null, eyeMeters: 6 }).data;
      const screened = exact(grid, lookout).data;
      open.forEach((from, i) => {
        if (higher[i]! > from + 1e-5)
          expect({ seed, i, from: higher[i] }).toEqual({ seed, i, from });
        if (screened[i]! < from - 1e-5)
          expect({ seed, i, from: screened[i] }).toEqual({ seed, i, from });
      });
    }
  });

  test('no ground under the eye is null; nonsense throws', () => {
    const flat = gridOf({ width: 5, height: 5 }, () => 1);
    const off = { ...inMiddle(flat, 9, 2), eyeMeters: 2 };
    expect(finish(viewshed(flat, off))).toBeNull();
    expect(finish(viewshedFast(flat, off))).toBeNull();
    const here = { ...inMiddle(flat, 2, 2), eyeMeters: 2 };
    expect(() => exact(flat, { ...here, eyeMeters: NaN })).toThrow(RangeError);
    expect(() => exact(flat, { ...here, radiusMeters: 0 })).toThrow(RangeError);
    expect(() => exact(flat, { ...here, screens: new Float32Array(3) })).toThrow(RangeError);
    expect(() => finish(viewshedFast(flat, here, new Float32Array(3)))).toThrow(RangeError);
  });
});

describe('fast viewshed', () => {
  test('is the exact one where both draw the same lines, in window, no data and radius', () => {
    for (let seed = 1; seed <= 500; seed++) {
      const { grid, look, lookout } = smallLook(seed);
      const slow = exact(grid, lookout);
      const quick = fast(grid, lookout);
      expect(quick.window).toEqual(slow.window);
      for (let row = 0; row < grid.height; row++) {
        for (let column = 0; column < grid.width; column++) {
          const a = at(slow, column, row);
          const b = at(quick, column, row);
          const [dx, dy] = [Math.abs(column - look.column), Math.abs(row - look.row)];
          // Along rows, columns and diagonals, and over no more than one cell: one and the same line.
          const isSameLine = dx === 0 || dy === 0 || dx === dy || Math.max(dx, dy) <= 2;
          const isSame = Number.isNaN(a)
            ? Number.isNaN(b)
            : !isSameLine || seed % 5 === 0 || Math.abs(a - b) <= 1e-5 * Math.max(1, a);
          if (!isSame) expect({ seed, column, row, b }).toEqual({ seed, column, row, b: a });
        }
      }
    }
  });

  test('differs from the exact one on few cells of rough ground', () => {
    let cells = 0;
    let different = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const grid = roughGrid({ width: 160, height: 120 }, seed, { noise: 0.06 });
      const lookout = { ...inMiddle(grid, 40 + 6 * seed, 60), eyeMeters: 4 };
      const a = exact(grid, lookout).data;
      const b = fast(grid, lookout).data;
      cells += a.length;
      a.forEach((from, i) => {
        if (from <= 1 !== b[i]! <= 1) different++;
      });
    }
    expect(different / cells).toBeLessThan(0.01);
    expect(different).toBeGreaterThan(0);
  });
});
