import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { aspectHorn } from '../../geo/ground/aspect.ts';
import { fitPlane } from '../../geo/ground/plane-fit.ts';
import { hornGradientRow, hornRow } from '../../geo/ground/horn-gradient.ts';
import { planeSlope, planeSlopeIn, planeWindow } from '../../geo/ground/plane-slope.ts';
import { slopeHorn } from '../../geo/ground/slope.ts';
import { wholeWindow } from '../../geo/raster/cell-window.ts';
import { wholeCells } from '../../geo/raster/covered-cells.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { polygonMask } from '../../geo/raster/polygon-mask.ts';
import { finish } from '../../geo/work.ts';
import { rasterDifference } from '../raster-difference.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

const onCircle = (a: number, b: number) => Math.abs(((a - b + 540) % 360) - 180);
/** Relative step of a 32-bit number: what storing a slope costs. */
const step32 = 2 ** -23;

/** Tilts in 1/1024 over cells that are binary fractions: the heights are exact in 32 bits. */
const tilt = fc.integer({ min: -800, max: 800 }).map((n) => n / 1024);
const cell = fc.constantFrom(0.5, 1, 2, 4);
const planes = fc.record({
  east: tilt,
  north: tilt,
  cellWidth: cell,
  cellHeight: cell,
  width: fc.integer({ min: 2, max: 24 }),
  height: fc.integer({ min: 2, max: 24 }),
});
const fixed = { seed: 20261114, numRuns: 200 };

/** A quarter turn clockwise: the grid's north side becomes its east side. */
function turned(grid: Grid): Grid {
  const { width, height, data } = grid;
  const out = new Float32Array(data.length);
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) out[c * height + (height - 1 - r)] = data[r * width + c]!;
  }
  return {
    ...grid,
    width: height,
    height: width,
    cellWidth: grid.cellHeight,
    cellHeight: grid.cellWidth,
    data: out,
  };
}

describe('on a plane (analytic)', () => {
  test('every method gives its slope and fall, rim and corners too', () => {
    fc.assert(
      fc.property(planes, ({ east, north, ...shape }) => {
        const grid = gridOf(shape, (x, y) => 1000 + east * x + north * y);
        const slope = Math.hypot(east, north);
        const fall = (Math.atan2(-east, -north) * 180) / Math.PI;
        const fallsToward = new Float32Array(grid.data.length);
        const whole = { ...planeWindow(grid) };
        const plane = finish(planeSlope(grid, { size: whole, fallsToward }));
        const horn = finish(slopeHorn(grid, { edges: 'extended' }));
        const aspect = finish(aspectHorn(grid, { edges: 'extended' }));
        // A corner of a grid narrower than half the window leaves too few cells for a plane.
        const enough = shape.width > whole.columns / 2 && shape.height > whole.rows / 2;
        if (enough) expect(plane.some((v) => Number.isNaN(v))).toBe(false);
        const worst = { horn: 0, plane: 0, aspect: 0, fall: 0 };
        for (let i = 0; i < horn.length; i++) {
          worst.horn = Math.max(worst.horn, Math.abs(horn[i]! - slope));
          if (slope > 0) worst.aspect = Math.max(worst.aspect, onCircle(aspect[i]!, fall));
          if (Number.isNaN(plane[i]!)) continue;
          worst.plane = Math.max(worst.plane, Math.abs(plane[i]! - slope));
          if (slope > 0) worst.fall = Math.max(worst.fall, onCircle(fallsToward[i]!, fall));
        }
        expect(worst.horn).toBeLessThanOrEqual(slope * step32);
        // Between whole windows sums are exact; where they are not, a few 64-bit roundings.
        expect(worst.plane).toBeLessThanOrEqual(slope * step32 + 1e-12);
        expect(worst.aspect).toBeLessThanOrEqual(2 ** -15);
        expect(worst.fall).toBeLessThanOrEqual(2 ** -15);
        if (slope === 0) {
          expect(aspect.every((v) => Number.isNaN(v))).toBe(true);
          expect(fallsToward.every((v) => Number.isNaN(v))).toBe(true);
        }
      }),
      fixed,
    );
  });

  test('the best-fit plane of a part of it is the plane', () => {
    fc.assert(
      fc.property(planes, ({ east, north, ...shape }) => {
        const grid = gridOf(shape, (x, y) => 1000 + east * x + north * y);
        const { west, north: top, cellWidth, cellHeight, width, height } = grid;
        const mask = polygonMask(grid, [
          [
            [west, top],
            [west + width * cellWidth, top],
            [west + width * cellWidth, top - height * cellHeight],
          ],
        ]);
        const fit = fitPlane(
          grid,
          { data: grid.data, window: wholeWindow(grid) },
          wholeCells(mask),
        );
        if (fit === null) {
          // Two by two: three cells at most, and the triangle may hold fewer.
          expect(Math.min(width, height)).toBeLessThan(4);
          return;
        }
        expect(fit.east).toBeCloseTo(east, 9);
        expect(fit.north).toBeCloseTo(north, 9);
        expect(fit.residualMeters).toBeLessThan(1e-5);
        const level = east === 0 && north === 0;
        if (level) expect(fit.fallsTowardGridDegrees).toBeNull();
        else {
          const fall = (Math.atan2(-east, -north) * 180) / Math.PI;
          expect(onCircle(fit.fallsTowardGridDegrees!, fall)).toBeLessThan(1e-6);
        }
      }),
      fixed,
    );
  });
});

describe('on rough ground', () => {
  const grounds = [1, 2, 3, 4].map((seed) =>
    roughGrid({ width: 40 + seed, height: 33, cellWidth: 0.5 * seed, cellHeight: 1 }, seed, {
      holes: true,
      stepsPerMeter: 1024,
    }),
  );

  test('a quarter turn turns bearings by 90 degrees and leaves slopes', () => {
    for (const grid of grounds) {
      for (const edges of ['no-data', 'extended'] as const) {
        const slope = turned({ ...grid, data: finish(slopeHorn(grid, { edges })) }).data;
        const aspect = turned({ ...grid, data: finish(aspectHorn(grid, { edges })) }).data;
        const t = turned(grid);
        const slopes = rasterDifference(finish(slopeHorn(t, { edges })), slope);
        expect(slopes).toMatchObject({ dataMismatches: 0 });
        expect(slopes.largest).toBeLessThan(1e-6);
        const aspects = rasterDifference(finish(aspectHorn(t, { edges })), aspect, (a, b) =>
          onCircle(a, b + 90),
        );
        expect(aspects.dataMismatches).toBe(0);
        expect(aspects.largest).toBeLessThanOrEqual(2 ** -14);
      }
      const fall = new Float32Array(grid.data.length);
      const slope = finish(planeSlope(grid, { fallsToward: fall }));
      const turnedFall = new Float32Array(grid.data.length);
      const turnedSlope = finish(planeSlope(turned(grid), { fallsToward: turnedFall }));
      const slopes = rasterDifference(turnedSlope, turned({ ...grid, data: slope }).data);
      expect(slopes.dataMismatches).toBe(0);
      expect(slopes.largest).toBeLessThan(1e-6);
      const falls = rasterDifference(turnedFall, turned({ ...grid, data: fall }).data, (a, b) =>
        onCircle(a, b + 90),
      );
      expect(falls.dataMismatches).toBe(0);
      expect(falls.largest).toBeLessThanOrEqual(2 ** -14);
    }
  });

  test('the fast way over whole rows is the length of the gradient', () => {
    for (const grid of grounds) {
      for (const edges of ['no-data', 'extended'] as const) {
        const row = hornRow(grid.width);
        const lengths = new Float32Array(grid.data.length);
        for (let r = 0; r < grid.height; r++) {
          hornGradientRow(grid, r, edges, row);
          row.east.forEach((e, c) => {
            lengths[r * grid.width + c] = Math.sqrt(e * e + row.north[c]! * row.north[c]!);
          });
        }
        expect(rasterDifference(finish(slopeHorn(grid, { edges })), lengths)).toMatchObject({
          largest: 0,
          dataMismatches: 0,
        });
      }
    }
  });

  test('twice the heights is exactly twice the slope', () => {
    for (const grid of grounds) {
      const twice = { ...grid, data: grid.data.map((z) => 2 * z) };
      for (const of of [slopeHorn, planeSlope]) {
        const doubled = finish(of(grid)).map((s) => 2 * s);
        expect(rasterDifference(finish(of(twice)), doubled)).toMatchObject({
          largest: 0,
          dataMismatches: 0,
        });
      }
    }
  });

  test('plane slope equals a plain least-squares fit of each window, rim and holes too', () => {
    for (const grid of grounds) {
      const size = planeWindow(grid);
      const ours = finish(planeSlope(grid));
      const oracle = ours.map((_, i) => plainWindowSlope(grid, i, size.columns, size.rows));
      const apart = rasterDifference(ours, oracle);
      expect(apart.dataMismatches).toBe(0);
      expect(apart.compared).toBeGreaterThan(grid.data.length / 2);
      expect(apart.largest).toBeLessThan(1e-6);
    }
  });

  test('a rectangle of the grid gives what the whole grid gives there', () => {
    const next = seeded(77);
    for (const grid of grounds) {
      const whole = finish(planeSlope(grid));
      for (let n = 0; n < 20; n++) {
        const column = Math.floor(next() * grid.width);
        const row = Math.floor(next() * grid.height);
        const width = 1 + Math.floor(next() * (grid.width - column));
        const height = 1 + Math.floor(next() * (grid.height - row));
        const part = planeSlopeIn(grid, { column, row, width, height });
        const same = part.map((_, i) => {
          return whole[(row + Math.floor(i / width)) * grid.width + column + (i % width)]!;
        });
        expect(rasterDifference(part, same)).toMatchObject({ largest: 0, dataMismatches: 0 });
      }
    }
  });
});

test('the window stays within 3 to 5 m where the cell allows', () => {
  const across = (cellWidth: number) => planeWindow({ cellWidth, cellHeight: 1 }).columns;
  expect([0.1, 0.25, 0.5, 0.9144, 1, 1.0000006, 1.5, 2, 3, 10].map(across)).toEqual([
    49, 19, 9, 5, 5, 5, 3, 3, 3, 3,
  ]);
});

test('a wrong window, rectangle or out is a programmer error', () => {
  const grid = gridOf({ width: 5, height: 5 }, () => 0);
  const all = wholeWindow(grid);
  expect(() => planeSlopeIn(grid, all, { size: { columns: 4, rows: 3 } })).toThrow(RangeError);
  expect(() => planeSlopeIn(grid, { ...all, column: 1 })).toThrow(RangeError);
  expect(() => planeSlopeIn(grid, all, { out: new Float32Array(3) })).toThrow(RangeError);
  expect(() => finish(slopeHorn(grid, { out: new Float32Array(3) }))).toThrow(RangeError);
});

/** Normal equations with means taken off, written without any of the kernel's shortcuts. */
function plainWindowSlope(grid: Grid, index: number, columns: number, rows: number): number {
  const row = Math.floor(index / grid.width);
  const column = index % grid.width;
  if (Number.isNaN(grid.data[index]!)) return NaN;
  const points: [number, number, number][] = [];
  for (let r = row - (rows - 1) / 2; r <= row + (rows - 1) / 2; r++) {
    for (let c = column - (columns - 1) / 2; c <= column + (columns - 1) / 2; c++) {
      if (r < 0 || r >= grid.height || c < 0 || c >= grid.width) continue;
      const z = grid.data[r * grid.width + c]!;
      if (!Number.isNaN(z)) points.push([c * grid.cellWidth, -r * grid.cellHeight, z]);
    }
  }
  if (points.length < ((columns + 1) / 2) * ((rows + 1) / 2)) return NaN;
  const mean = (k: 0 | 1 | 2) => points.reduce((s, p) => s + p[k], 0) / points.length;
  const means = [mean(0), mean(1), mean(2)] as const;
  const product = (i: 0 | 1 | 2, j: 0 | 1 | 2) =>
    points.reduce((s, p) => s + (p[i] - means[i]) * (p[j] - means[j]), 0);
  const determinant = product(0, 0) * product(1, 1) - product(0, 1) ** 2;
  const east = (product(0, 2) * product(1, 1) - product(1, 2) * product(0, 1)) / determinant;
  const north = (product(1, 2) * product(0, 0) - product(0, 2) * product(0, 1)) / determinant;
  return Math.hypot(east, north);
}
