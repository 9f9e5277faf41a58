import { describe, expect, test } from 'vitest';
import { isoRings as isoRingsWork, type IsoRing } from '../../geo/raster/iso-rings.ts';
import { ringPolygons } from '../../geo/raster/ring-polygons.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';

const isoRings = (...args: Parameters<typeof isoRingsWork>) => finish(isoRingsWork(...args));

/** Outlines against surfaces whose contours are known, and against counting on seeded fields. */

function fieldOf(width: number, height: number, at: (column: number, row: number) => number) {
  return Float64Array.from({ length: width * height }, (_, i) =>
    at(i % width, Math.floor(i / width)),
  );
}

/** Shoelace with y down: above 0 where the ring runs clockwise as seen. */
function clockwiseArea(ring: readonly (readonly [number, number])[]): number {
  let twice = 0;
  ring.forEach(([x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length]!;
    twice += x * nextY - nextX * y;
  });
  return twice / 2;
}

function holds(ring: readonly (readonly [number, number])[], x: number, y: number): boolean {
  let inside = false;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    if (ay > y !== by > y && x < ax + ((bx - ax) * (y - ay)) / (by - ay)) inside = !inside;
  });
  return inside;
}

describe('surfaces with known outlines', () => {
  test('a cone: every corner within a tenth of a cell of the circle, area as a circle’s', () => {
    // Linear crossings on a cone of unit slope are out by at most 1/(8 r).
    for (const radius of [3.3, 7.7, 15.2]) {
      const field = fieldOf(41, 41, (c, r) => 20 - Math.hypot(c - 20.3, r - 19.6));
      const rings = isoRings(field, 41, 41, 20 - radius);
      expect(rings).toHaveLength(1);
      for (const [x, y] of rings[0]!) {
        expect(Math.abs(Math.hypot(x - 20.3, y - 19.6) - radius)).toBeLessThan(0.1);
        expect(Math.abs(Math.hypot(x - 20.3, y - 19.6) - radius)).toBeLessThan(1 / (7 * radius));
      }
      // A chord polygon with corners at most a cell apart lacks up to 1/12 of a cell of width.
      const area = Math.abs(clockwiseArea(rings[0]!));
      expect(Math.PI * radius ** 2 - area).toBeGreaterThan(0);
      expect(Math.PI * radius ** 2 - area).toBeLessThan((2 * Math.PI * radius) / 6);
    }
  });

  test('a crater: ring and hole, the one counter-clockwise, the other clockwise', () => {
    const field = fieldOf(61, 51, (c, r) => -Math.abs(Math.hypot(c - 30, r - 25) - 14));
    const rings = isoRings(field, 61, 51, -4.5);
    expect(rings).toHaveLength(2);
    const [outer, hole] = [...rings].sort((a, b) => b.length - a.length);
    expect(clockwiseArea(outer!)).toBeLessThan(0);
    expect(clockwiseArea(hole!)).toBeGreaterThan(0);
    const far = (ring: IsoRing) => ring.map(([x, y]) => Math.hypot(x - 30, y - 25));
    for (const d of far(outer!)) expect(Math.abs(d - 18.5)).toBeLessThan(0.1);
    for (const d of far(hole!)) expect(Math.abs(d - 9.5)).toBeLessThan(0.1);
    expect(ringPolygons(rings, -1)).toEqual([[outer, hole]]);
  });

  test('a plane: straight to rounding, whatever way it dips', () => {
    for (const degrees of [0, 17, 45, 90, 133, 260]) {
      const [east, south] = [
        Math.cos((degrees * Math.PI) / 180),
        Math.sin((degrees * Math.PI) / 180),
      ];
      const field = fieldOf(31, 31, (c, r) => east * (c - 15.1) + south * (r - 14.8));
      const [ring, ...others] = isoRings(field, 31, 31, 0);
      expect(others).toEqual([]);
      const onRim = ([x, y]: readonly [number, number]) => x < 0 || y < 0 || x > 30 || y > 30;
      const crossings = ring!.filter((corner) => !onRim(corner));
      expect(crossings.length).toBeGreaterThan(25);
      for (const [x, y] of crossings) {
        // 1/1024 of a cell is what a crossing is kept off the centres.
        expect(Math.abs(east * (x - 15.1) + south * (y - 14.8))).toBeLessThan(1 / 1000);
      }
    }
  });

  test('a saddle parts or joins by the mean of its four corners', () => {
    const saddle = (lift: number) => fieldOf(2, 2, (c, r) => (c === r ? 1 : -1) + lift);
    expect(isoRings(saddle(0.1), 2, 2, 0)).toHaveLength(1);
    expect(isoRings(saddle(-0.1), 2, 2, 0)).toHaveLength(2);
    // x · y: the branches of a hyperbola, never nearer to the middle than its corner.
    const level = 2;
    const field = fieldOf(30, 30, (c, r) => (c - 14.5) * (r - 14.5));
    const rings = isoRings(field, 30, 30, level);
    expect(rings).toHaveLength(2);
    for (const [x, y] of rings.flat()) {
      if (x < 0 || y < 0 || x > 29 || y > 29) continue;
      const [u, v] = [x - 14.5, y - 14.5];
      // Distance from the curve, to first order: linear crossings are exact along the axes.
      expect(Math.abs(u * v - level) / Math.hypot(u, v)).toBeLessThan(1e-3);
    }
  });

  test('one cell gives a diamond of half a cell', () => {
    const rings = isoRings([0, 0, 0, 0, 1, 0, 0, 0, 0], 3, 3, 0.5);
    expect(rings).toHaveLength(1);
    const corners = rings[0]!.map(([x, y]) => `${x} ${y}`).sort();
    expect(corners).toEqual(['0.5 1', '1 0.5', '1 1.5', '1.5 1']);
  });

  test('nothing above, everything above, no field, a wrong length', () => {
    expect(isoRings([1, 1, 1, 1], 2, 2, 1)).toEqual([]);
    expect(isoRings([NaN, NaN], 2, 1, 0)).toEqual([]);
    expect(isoRings([], 0, 0, 0)).toEqual([]);
    const [ring] = isoRings([1, 1, 1, 1], 2, 2, 0);
    // Half a cell out all round, corners cut off.
    expect(clockwiseArea(ring!)).toBe(-(4 - 4 / 8));
    expect(() => isoRings([1, 2, 3], 2, 2, 0)).toThrow(RangeError);
  });
});

describe('seeded fields', () => {
  const cases = Array.from({ length: 60 }, (_, seed) => seed);
  const make = (seed: number) => {
    const next = seeded(seed);
    const width = 1 + Math.floor(next() * 24);
    const height = 1 + Math.floor(next() * 24);
    // Whole numbers make many cells lie exactly at the level; others never do.
    const whole = seed % 3 === 0;
    const holes = seed % 4 === 0;
    const field = fieldOf(width, height, () => {
      const z = 4 * (next() - 0.5);
      if (holes && next() < 0.1) return NaN;
      return whole ? Math.round(z) : z;
    });
    return { field, width, height, rings: isoRings(field, width, height, 0) };
  };

  test('every centre above the level lies inside an odd number of rings, every other an even', () => {
    for (const seed of cases) {
      const { field, width, height, rings } = make(seed);
      for (let i = 0; i < width * height; i++) {
        const inside = rings.filter((ring) => holds(ring, i % width, Math.floor(i / width)));
        const isAbove = field[i]! > 0;
        if ((inside.length % 2 === 1) !== isAbove) throw new Error(`cell ${i} of field ${seed}`);
      }
    }
  });

  test('rings close in steps of at most a cell, and no corner comes twice', () => {
    for (const seed of cases) {
      const { rings } = make(seed);
      const seen = new Set<string>();
      for (const ring of rings) {
        expect(ring.length).toBeGreaterThanOrEqual(4);
        ring.forEach(([x, y], i) => {
          const [nextX, nextY] = ring[(i + 1) % ring.length]!;
          expect(Math.max(Math.abs(nextX - x), Math.abs(nextY - y))).toBeLessThanOrEqual(1);
          expect(seen.has(`${x} ${y}`)).toBe(false);
          seen.add(`${x} ${y}`);
        });
      }
    }
  });

  test('the area enclosed equals that of the triangles and cut squares, one by one', () => {
    for (const seed of cases) {
      const { field, width, height, rings } = make(seed);
      const enclosed = -rings.reduce((sum, ring) => sum + clockwiseArea(ring), 0);
      expect(enclosed).toBeCloseTo(areaBySquares(field, width, height), 9);
    }
  });

  test('polygons: every hole in the smallest ring round it, none lost, areas add up', () => {
    let holes = 0;
    for (const seed of cases) {
      const { rings } = make(seed);
      const polygons = ringPolygons(rings, -1);
      expect(polygons.flat()).toHaveLength(rings.length);
      const sizes = polygons.map(([outer]) => -clockwiseArea(outer!));
      expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
      for (const [outer, ...inner] of polygons) {
        expect(clockwiseArea(outer!)).toBeLessThan(0);
        for (const hole of inner) {
          holes++;
          expect(clockwiseArea(hole)).toBeGreaterThan(0);
          const around = polygons.filter(([ring]) => hole.every(([x, y]) => holds(ring!, x, y)));
          expect(around.at(-1)![0]).toBe(outer);
        }
      }
    }
    expect(holes).toBeGreaterThan(50);
  });
});

/**
 * The slow way: square by square, the part of it above the level, its border crossed where a line
 * between neighbours crosses (half way beside NaN and beyond the rim), saddles by their mean.
 */
function areaBySquares(field: Float64Array, width: number, height: number): number {
  const at = (c: number, r: number) =>
    c < 0 || r < 0 || c >= width || r >= height ? NaN : field[r * width + c]!;
  let area = 0;
  for (let r = -1; r < height; r++) {
    for (let c = -1; c < width; c++) {
      area += partAbove([at(c, r), at(c + 1, r), at(c + 1, r + 1), at(c, r + 1)]);
    }
  }
  return area;
}

/** Corners in turn round a unit square. */
function partAbove(corners: readonly [number, number, number, number]): number {
  const isAbove = corners.map((z) => z > 0);
  const reach = (from: number, to: number) => {
    const share = corners[from]! / (corners[from]! - corners[to]!);
    const kept = 1 / 1024;
    return Number.isFinite(share) ? Math.min(1 - kept, Math.max(kept, share)) : 0.5;
  };
  /** The triangle that the outline cuts off round one corner. */
  const corner = (i: number) => (reach(i, (i + 1) % 4) * reach(i, (i + 3) % 4)) / 2;
  const above = [0, 1, 2, 3].filter((i) => isAbove[i]);
  const below = [0, 1, 2, 3].filter((i) => !isAbove[i]);
  if (above.length === 0) return 0;
  if (below.length === 0) return 1;
  if (above.length === 1) return corner(above[0]!);
  if (below.length === 1) return 1 - corner(below[0]!);
  const [a, b] = above as [number, number];
  if (b - a === 2) {
    const mean = (corners[0] + corners[1] + corners[2] + corners[3]) / 4;
    return mean > 0 ? 1 - corner(below[0]!) - corner(below[1]!) : corner(a) + corner(b);
  }
  // Two neighbours above: a trapezium between the two crossings beside them.
  const [first, second] = (a + 1) % 4 === b ? [a, b] : [b, a];
  return (reach(first, (first + 3) % 4) + reach(second, (second + 1) % 4)) / 2;
}
