import { describe, expect, test } from 'vitest';
import { polygonCoverage } from '../../geo/raster/polygon-coverage.ts';
import type { CoveredCells } from '../../geo/raster/covered-cells.ts';
import { polygonMask, type CellLattice, type RingsXY } from '../../geo/raster/polygon-mask.ts';
import { spanCells, type CellSpans } from '../../geo/raster/covered-cells.ts';
import { rasterDifference } from '../raster-difference.ts';
import { seeded } from '../seeded.ts';

type Point = readonly [number, number];

const place: CellLattice = {
  width: 64,
  height: 48,
  west: 500_000,
  north: 4_800_000,
  cellWidth: 1,
  cellHeight: 1,
};
const oblong: CellLattice = { ...place, width: 92, cellWidth: 0.7, cellHeight: 1.3 };

/** A star-shaped ring about a point: concave, never crossing itself. */
function star(next: () => number, at: Point, least: number, most: number, corners: number) {
  const turn = next() * 7;
  return Array.from({ length: corners }, (_, i): Point => {
    const bearing = turn + ((i + 0.8 * next()) / corners) * 2 * Math.PI;
    const radius = least + (most - least) * next();
    return [at[0] + radius * Math.cos(bearing), at[1] + radius * Math.sin(bearing)];
  });
}

/** Concave outlines, with and without a hole, slivers 5 mm wide, on and partly or wholly off. */
function polygon(seed: number): Point[][] {
  const next = seeded(seed);
  const kind = seed % 5;
  const spreadOut = seed % 7 === 0 ? 60 : 0;
  const at: Point = [
    place.west + 32 + (next() - 0.5) * spreadOut * 2,
    place.north - 24 + (next() - 0.5) * spreadOut * 2,
  ];
  const corners = 3 + Math.floor(next() * 20);
  if (kind === 0) {
    const bearing = next() * 7;
    const along: Point = [Math.cos(bearing) * 20, Math.sin(bearing) * 20];
    const across: Point = [-Math.sin(bearing) * 0.005, Math.cos(bearing) * 0.005];
    return [
      [
        [at[0] - along[0], at[1] - along[1]],
        [at[0] + along[0], at[1] + along[1]],
        [at[0] + along[0] + across[0], at[1] + along[1] + across[1]],
      ],
    ];
  }
  const outline = star(next, at, 6, 22, Math.max(corners, 5));
  const rings = kind < 3 ? [outline] : [outline, star(next, at, 0.2, 1.2, corners)];
  // Some rings close themselves, some run the other way round.
  if (seed % 2 === 0) rings[0] = [...outline, outline[0]!];
  if (seed % 3 === 0) rings.forEach((ring) => ring.reverse());
  return rings;
}

function shoelace(ring: readonly Point[]): number {
  let sum = 0;
  const [ox, oy] = ring[0] ?? [0, 0];
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    sum += (ax - ox) * (by - oy) - (bx - ox) * (ay - oy);
  });
  return Math.abs(sum) / 2;
}

const polygonArea = (rings: readonly (readonly Point[])[]) =>
  rings.reduce((sum, ring, i) => sum + (i === 0 ? 1 : -1) * shoelace(ring), 0);

/** Metres from the grid's corner: the difference is exact, and cutting there rounds finer. */
const fromCorner = (rings: readonly (readonly Point[])[]) =>
  rings.map((ring) => ring.map(([x, y]): Point => [x - place.west, y - place.north]));

/** Cuts a ring to a rectangle, one side after the other (Sutherland & Hodgman 1974). */
function clipped(ring: readonly Point[], w: number, s: number, e: number, n: number): Point[] {
  const sides: [0 | 1, number, number][] = [
    [0, w, 1],
    [0, e, -1],
    [1, s, 1],
    [1, n, -1],
  ];
  let kept = [...ring];
  for (const [axis, limit, sign] of sides) {
    const before = kept;
    kept = [];
    before.forEach((a, i) => {
      const b = before[(i + 1) % before.length]!;
      const inA = sign * (a[axis] - limit) >= 0;
      const inB = sign * (b[axis] - limit) >= 0;
      if (inA) kept.push(a);
      if (inA === inB) return;
      const t = (limit - a[axis]) / (b[axis] - a[axis]);
      const other = a[1 - axis]! + t * (b[1 - axis]! - a[1 - axis]!);
      kept.push(axis === 0 ? [limit, other] : [other, limit]);
    });
  }
  return kept;
}

function shareOf(place_: CellLattice, { whole, partial }: CoveredCells): Float64Array {
  const shares = new Float64Array(place_.width * place_.height);
  for (let i = 0; i < whole.count; i++) {
    const start = whole.row[i]! * place_.width;
    for (let c = whole.start[i]!; c < whole.end[i]!; c++) shares[start + c]! += 1;
  }
  for (let i = 0; i < partial.count; i++) {
    shares[partial.row[i]! * place_.width + partial.column[i]!]! += partial.share[i]!;
  }
  return shares;
}

function maskCells(place_: CellLattice, spans: CellSpans): Uint8Array {
  const cells = new Uint8Array(place_.width * place_.height);
  for (let i = 0; i < spans.count; i++) {
    for (let c = spans.start[i]!; c < spans.end[i]!; c++) {
      cells[spans.row[i]! * place_.width + c]!++;
    }
  }
  return cells;
}

describe.each([
  ['square cells', place],
  ['oblong cells', oblong],
])('coverage, %s', (_name, lattice) => {
  const { width, height, cellWidth, cellHeight } = lattice;
  const [east, south] = [width * cellWidth, -height * cellHeight];
  const cellArea = cellWidth * cellHeight;

  test('1,000 polygons: shares times cell area sum to the area by shoelace', () => {
    let wholly = 0;
    let wholeCells = 0;
    for (let seed = 1; seed <= 1000; seed++) {
      const rings = polygon(seed);
      const covered = polygonCoverage(lattice, rings);
      const area = polygonArea(rings);
      const onGrid = polygonArea(fromCorner(rings).map((ring) => clipped(ring, 0, south, east, 0)));
      const sum = shareOf(lattice, covered).reduce((a, b) => a + b, 0) * cellArea;
      expect(Math.abs(covered.polygonCells * cellArea - area)).toBeLessThanOrEqual(1e-9 * area);
      expect(Math.abs(sum - onGrid)).toBeLessThanOrEqual(1e-9 * area);
      expect(Math.abs(covered.coveredCells * cellArea - sum)).toBeLessThanOrEqual(1e-9 * area);
      if (onGrid > area * (1 - 1e-12)) wholly++;
      wholeCells += spanCells(covered.whole);
    }
    // Most lie on the grid, some do not, and there are whole cells as well as border cells.
    expect(wholly).toBeGreaterThan(500);
    expect(wholly).toBeLessThan(1000);
    expect(wholeCells).toBeGreaterThan(10_000);
  });

  test('each cell’s share is the area of the polygon cut to that cell', () => {
    let worst = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const rings = polygon(seed);
      const local = fromCorner(rings);
      const shares = shareOf(lattice, polygonCoverage(lattice, rings));
      for (let i = 0; i < shares.length; i++) {
        const w = (i % width) * cellWidth;
        const n = -Math.floor(i / width) * cellHeight;
        const cut = local.map((ring) => clipped(ring, w, n - cellHeight, w + cellWidth, n));
        worst = Math.max(worst, Math.abs(shares[i]! - polygonArea(cut) / cellArea));
      }
    }
    expect(worst).toBeLessThan(1e-11);
  });
});

/** Two polygons that share a ragged line, and the two as one; corners on centres and corners. */
function neighbours(seed: number): { left: Point[]; right: Point[]; both: Point[] } {
  const next = seeded(seed);
  const half = (n: number) => Math.round(n * 2) / 2;
  const lines = Array.from({ length: 7 }, (_, i): Point => {
    return [place.west + half(20 + next() * 20), place.north - half(4 + i * 6 + next() * 3)];
  });
  const top: Point = [lines[0]![0], place.north - 2];
  const bottom: Point = [lines[6]![0], place.north - 45];
  const line = [top, ...lines, bottom];
  const nw: Point = [place.west + half(next() * 9), place.north - 2];
  const sw: Point = [place.west + half(next() * 9), place.north - 45];
  const ne: Point = [place.west + half(50 + next() * 9), place.north - 2];
  const se: Point = [place.west + half(50 + next() * 9), place.north - 45];
  return { left: [nw, ...line, sw], right: [ne, ...line, se], both: [nw, top, ne, se, bottom, sw] };
}

describe('neighbours', () => {
  test('share no cell, and the mask of both is the union of their masks', () => {
    for (let seed = 1; seed <= 300; seed++) {
      const { left, right, both } = neighbours(seed);
      const a = maskCells(place, polygonMask(place, [left]));
      const b = maskCells(place, polygonMask(place, [right]));
      const union = maskCells(place, polygonMask(place, [both]));
      const together = a.map((n, i) => n + b[i]!);
      expect(rasterDifference(together, union)).toMatchObject({ largest: 0 });
      expect(union.reduce((sum, n) => sum + n, 0)).toBeGreaterThan(1000);
    }
  });

  test('cover together what both cover', () => {
    for (let seed = 1; seed <= 100; seed++) {
      const { left, right, both } = neighbours(seed);
      const a = shareOf(place, polygonCoverage(place, [left]));
      const b = shareOf(place, polygonCoverage(place, [right]));
      const union = shareOf(place, polygonCoverage(place, [both]));
      const worst = union.reduce((most, n, i) => Math.max(most, Math.abs(a[i]! + b[i]! - n)), 0);
      expect(worst).toBeLessThan(1e-11);
    }
  });
});

describe('mask', () => {
  test('holds the cells whose centre is inside, by counting crossings of a ray', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const rings = polygon(seed);
      const mask = maskCells(place, polygonMask(place, rings));
      const oracle = mask.map((_, i) => {
        const x = place.west + (i % place.width) + 0.5;
        const y = place.north - Math.floor(i / place.width) - 0.5;
        return inside(rings, x, y) ? 1 : 0;
      });
      expect(rasterDifference(mask, oracle)).toMatchObject({ largest: 0 });
    }
  });

  test('of a square on cell edges is its cells; ring direction and closing do not matter', () => {
    const square: Point[] = [
      [place.west + 2, place.north - 3],
      [place.west + 6, place.north - 3],
      [place.west + 6, place.north - 5],
      [place.west + 2, place.north - 5],
    ];
    for (const ring of [square, square.toReversed(), [...square, square[0]!]]) {
      const { count, row, start, end } = polygonMask(place, [ring]);
      const spans = [0, 1].map((i) => [row[i], start[i], end[i]]);
      expect(count).toBe(2);
      expect(spans).toEqual([
        [3, 2, 6],
        [4, 2, 6],
      ]);
      const covered = polygonCoverage(place, [ring]);
      expect(covered).toMatchObject({ coveredCells: 8, polygonCells: 8, partial: { count: 0 } });
    }
  });

  test('nothing off the grid, nothing of an empty or flat ring, and a throw for NaN', () => {
    const nothing: RingsXY[] = [
      [],
      [[]],
      [[[place.west + 5, place.north - 5]]],
      [
        [
          [place.west + 5, place.north - 5],
          [place.west + 9, place.north - 5],
        ],
      ],
      [
        [
          [place.west - 50, place.north],
          [place.west - 40, place.north],
          [place.west - 40, place.north - 20],
        ],
      ],
    ];
    for (const rings of nothing) {
      expect(spanCells(polygonMask(place, rings))).toBe(0);
      expect(polygonCoverage(place, rings).coveredCells).toBe(0);
    }
    const bad: RingsXY = [
      [
        [NaN, 1],
        [2, 3],
        [4, 4],
      ],
    ];
    expect(() => polygonMask(place, bad)).toThrow(RangeError);
    expect(() => polygonCoverage(place, bad)).toThrow(RangeError);
  });
});

function inside(rings: readonly (readonly Point[])[], x: number, y: number): boolean {
  let odd = false;
  for (const ring of rings) {
    ring.forEach(([x0, y0], i) => {
      const [x1, y1] = ring[(i + 1) % ring.length]!;
      if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) odd = !odd;
    });
  }
  return odd;
}
