import { describe, expect, test } from 'vitest';
import { contourInterval } from '../../geo/raster/contour-interval.ts';
import { contourLabelPlace } from '../../geo/raster/contour-label.ts';
import { contourLines, type ContourLine } from '../../geo/raster/contours.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { isoRings } from '../../geo/raster/iso-rings.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { finish } from '../../geo/work.ts';
import { frame } from '../construct-rig.ts';
import { seeded } from '../seeded.ts';

/**
 * Contours against surfaces whose contours are known formulas, and against outlines and counting on
 * seeded ground. Cells are 2 m by 2 m unless said.
 */

const cell = 2;
const west = 500_000;
const north = 4_000_100;

function ground(width: number, height: number, z: (x: number, y: number) => number): Grid {
  return gridOf(width, height, (column, row) =>
    z((column + 0.5) * cell, (height - row - 0.5) * cell),
  );
}

function gridOf(width: number, height: number, at: (column: number, row: number) => number): Grid {
  const data = Float32Array.from({ length: width * height }, (_, i) =>
    at(i % width, Math.floor(i / width)),
  );
  const place = { width, height, west, north, cellWidth: cell, cellHeight: cell };
  return makeGrid(place, data, frame);
}

/** x east and y north of the grid's south-west corner. */
function pointsOf({ coordinates }: ContourLine, height: number): [number, number][] {
  return Array.from({ length: coordinates.length / 2 }, (_, i) => [
    coordinates[2 * i] - west,
    coordinates[2 * i + 1] - (north - height * cell),
  ]);
}

/** Positive counter-clockwise. */
function area(points: readonly (readonly [number, number])[]): number {
  return (
    points.reduce((sum, [x, y], i) => {
      const [nx, ny] = points[(i + 1) % points.length];
      return sum + x * ny - nx * y;
    }, 0) / 2
  );
}

describe('surfaces with known contours, to a tenth of a cell', () => {
  test('a cone: circles, higher ground on the left', () => {
    const top = 30;
    const lines = finish(
      contourLines(
        ground(60, 60, (x, y) => top - 0.5 * Math.hypot(x - 61.3, y - 58.8)),
        2,
      ),
    );
    const closed = lines.filter((l) => l.closed);
    // The nearest side of the outermost centres is 57.8 m away: levels of 2 m down to 1.1 m.
    expect(closed.map((l) => l.levelMeters)).toEqual(
      Array.from({ length: 14 }, (_, i) => 2 + 2 * i),
    );
    for (const line of closed) {
      const points = pointsOf(line, 60);
      const radius = (top - line.levelMeters) / 0.5;
      for (const [x, y] of points) {
        expect(Math.abs(Math.hypot(x - 61.3, y - 58.8) - radius)).toBeLessThan(cell / 10);
      }
      expect(Math.abs(area(points) / (Math.PI * radius ** 2) - 1)).toBeLessThan(0.15);
      expect(area(points)).toBeGreaterThan(0);
    }
    // In the corners lower levels run open from rim to rim.
    for (const line of lines.filter((l) => !l.closed)) {
      const ends = [pointsOf(line, 60)[0], pointsOf(line, 60).at(-1)!];
      for (const [x, y] of ends) expect(Math.min(x - 1, y - 1, 119 - x, 119 - y)).toBeCloseTo(0, 3);
    }
  });

  test('a plane: straight lines as far apart as its slope says, open', () => {
    for (const degrees of [0, 33, 90, 141, 250]) {
      const turn = (degrees * Math.PI) / 180;
      const along = (x: number, y: number) => Math.cos(turn) * x + Math.sin(turn) * y;
      const lines = finish(
        contourLines(
          ground(50, 40, (x, y) => 200 + 0.08 * along(x - 50, y - 40)),
          0.7,
          200.1,
        ),
      );
      expect(lines.length).toBeGreaterThan(5);
      expect(new Set(lines.map((l) => l.levelMeters)).size).toBe(lines.length);
      for (const line of lines) {
        expect(line.closed).toBe(false);
        for (const [x, y] of pointsOf(line, 40)) {
          const away = along(x - 50, y - 40) - (line.levelMeters - 200) / 0.08;
          // Crossings keep 1/1024 of a cell off the centres; heights are float32.
          expect(Math.abs(away)).toBeLessThan(0.005);
        }
      }
    }
  });

  test('a saddle: hyperbolas on both sides, parted by the sign of the level', () => {
    const lines = finish(
      contourLines(
        ground(60, 60, (x, y) => ((x - 60.4) ** 2 - (y - 59.7) ** 2) / 100),
        1,
      ),
    );
    for (const line of lines.filter((l) => l.levelMeters !== 0)) {
      const points = pointsOf(line, 60);
      const sides = new Set(
        points.map(([x, y]) => Math.sign(line.levelMeters > 0 ? x - 60.4 : y - 59.7)),
      );
      expect(sides.size).toBe(1);
      for (const [x, y] of points) {
        const [u, v] = [x - 60.4, y - 59.7];
        // First order: how far a point lies from its hyperbola.
        const away = ((u * u - v * v) / 100 - line.levelMeters) / (Math.hypot(u, v) / 50);
        expect(Math.abs(away)).toBeLessThan(cell / 10);
      }
    }
    const byLevel = (level: number) => lines.filter((l) => l.levelMeters === level).length;
    expect([byLevel(3), byLevel(-3)]).toEqual([2, 2]);
  });
});

describe('no data', () => {
  test('lines stop beside a hole and go on behind it', () => {
    const holed = gridOf(40, 20, (column, row) =>
      column >= 15 && column < 20 && row >= 8 && row < 12 ? NaN : row * 0.5 + 0.1,
    );
    const lines = finish(contourLines(holed, 1));
    // Level 5 lies at row 9.8, within the hole's rows; level 2 at row 3.8 passes north of it.
    const at = (level: number) => lines.filter((l) => l.levelMeters === level);
    expect([at(2).length, at(5).length]).toEqual([1, 2]);
    const xs = at(5).map((l) => pointsOf(l, 20).map((p) => p[0]));
    // Centres of columns 14 and 20 are the last and first with data.
    expect(Math.max(...xs.flat().filter((x) => x < 35))).toBe(14.5 * cell);
    expect(Math.min(...xs.flat().filter((x) => x > 35))).toBe(20.5 * cell);
    for (const line of lines) expect(line.coordinates.some(Number.isNaN)).toBe(false);
  });

  test('nothing but holes, and one row, give no lines', () => {
    expect(
      finish(
        contourLines(
          gridOf(5, 5, () => NaN),
          1,
        ),
      ),
    ).toEqual([]);
    expect(
      finish(
        contourLines(
          gridOf(9, 1, (c) => c),
          1,
        ),
      ),
    ).toEqual([]);
    expect(
      finish(
        contourLines(
          gridOf(1, 9, (_, r) => r),
          1,
        ),
      ),
    ).toEqual([]);
  });
});

describe('seeded ground', () => {
  const random = seeded(31);
  const rough = gridOf(70, 50, () => random() * 4);

  test('closed lines are the rings that outline the same level', () => {
    // A rim of low ground closes every line.
    const rimmed = gridOf(70, 50, (c, r) =>
      c === 0 || r === 0 || c === 69 || r === 49 ? -9 : rough.data[r * 70 + c],
    );
    const lines = finish(contourLines(rimmed, 10, 2)).filter((l) => l.levelMeters === 2);
    expect(lines.every((l) => l.closed)).toBe(true);
    const rings = finish(isoRings(rimmed.data, 70, 50, 2));
    const key = (points: readonly (readonly [number, number])[]) =>
      points
        .map(([x, y]) => `${x.toFixed(6)} ${y.toFixed(6)}`)
        .sort()
        .join();
    const ours = lines.map((l) =>
      key(pointsOf(l, 50).map(([x, y]) => [x / cell - 0.5, 49.5 - y / cell])),
    );
    expect(ours.sort()).toEqual(rings.map(key).sort());
  });

  test('every step between neighbours is crossed by every level between them, once', () => {
    const lines = finish(contourLines(rough, 0.5, 0.13));
    const crossed = new Map<string, number>();
    for (const line of lines) {
      for (const [x, y] of pointsOf(line, 50)) {
        const [column, row] = [x / cell - 0.5, 49.5 - y / cell];
        const across = Math.abs(row - Math.round(row)) < 1e-6;
        const cells = across
          ? `${Math.floor(column)} ${Math.round(row)} e`
          : `${Math.round(column)} ${Math.floor(row)} s`;
        const key = `${cells} ${line.levelMeters.toFixed(3)}`;
        crossed.set(key, (crossed.get(key) ?? 0) + 1);
      }
    }
    let wanted = 0;
    const step = (a: number, b: number, cells: string) => {
      for (let k = 0; k < 9; k++) {
        const level = 0.13 + 0.5 * k;
        if (a > level === b > level) continue;
        wanted++;
        expect(crossed.get(`${cells} ${level.toFixed(3)}`), cells).toBe(1);
      }
    };
    for (let row = 0; row < 50; row++) {
      for (let column = 0; column < 70; column++) {
        const z = rough.data[row * 70 + column];
        if (column < 69) step(z, rough.data[row * 70 + column + 1], `${column} ${row} e`);
        if (row < 49) step(z, rough.data[(row + 1) * 70 + column], `${column} ${row} s`);
      }
    }
    expect([...crossed.values()].reduce((a, b) => a + b)).toBe(wanted);
  });

  test('an interval of nothing, and one that is a slip, are refused', () => {
    expect(() => finish(contourLines(rough, 0))).toThrow(RangeError);
    expect(() => finish(contourLines(rough, NaN))).toThrow(RangeError);
    expect(() => finish(contourLines(rough, 1e-6))).toThrow(RangeError);
  });
});

test('a label lies on the straightest stretch', () => {
  // A hook: a quarter circle of 20 m, then 60 m straight to the east.
  const hook = Array.from({ length: 21 }, (_, i) => {
    const angle = Math.PI + (i / 20) * (Math.PI / 2);
    return [20 * Math.cos(angle), 20 * Math.sin(angle)];
  });
  for (let x = 1; x <= 60; x++) hook.push([x, -20]);
  const line = { levelMeters: 5, closed: false, coordinates: Float64Array.from(hook.flat()) };
  const place = contourLabelPlace(line, 30)!;
  expect(place.gridBearingDegrees).toBeCloseTo(90, 6);
  expect([place.x, place.y]).toEqual([15, -20]);
  expect(contourLabelPlace(line, 200)).toBeNull();
});

test('the step by scale: 1 m pixels give 5 ft (look of the sheet)', () => {
  expect(contourInterval(1, 'us') / 0.3048).toBeCloseTo(5, 12);
  expect(contourInterval(0.1, 'us') / 0.3048).toBeCloseTo(1, 12);
  expect(contourInterval(1, 'metric')).toBe(2);
});
