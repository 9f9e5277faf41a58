import { describe, expect, test } from 'vitest';
import type { Grid } from '../../geo/raster/grid.ts';
import { FillBuffers, fillDepressions } from '../../geo/water/fill-depressions.ts';
import { findLowSpots } from '../../geo/water/low-spots.ts';
import { finish } from '../../geo/work.ts';
import { rasterDifference } from '../raster-difference.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

/** 600 small grounds: few heights (flats, ties), plateaus, pits in pits, holes, 1-wide strips. */
function smallGround(seed: number): Grid {
  const next = seeded(seed);
  const thin = seed % 10 === 0;
  const width = thin && seed % 20 === 0 ? 1 : 1 + Math.floor(next() * 16);
  const height = thin && seed % 20 !== 0 ? 1 : 1 + Math.floor(next() * 16);
  const levels = 2 + Math.floor(next() * 12);
  const kind = seed % 4;
  const grid = gridOf({ width, height }, (x, y) => {
    if (kind === 0) return Math.floor(next() * levels);
    if (kind === 1) return next() * 10;
    const fromMiddle = Math.max(Math.abs(x - width / 2), Math.abs(y - height / 2));
    if (kind === 2) return Math.floor(fromMiddle + next() * 3);
    return Math.round(5 * Math.sin(x / 2) * Math.cos(y / 3)) + (next() < 0.15 ? -3 : 0);
  });
  if (seed % 3 === 0) {
    for (let i = 0; i < grid.data.length; i++) if (next() < 0.06) grid.data[i] = NaN;
  }
  return grid;
}

function neighbours(grid: Grid, cell: number): number[] {
  const row = Math.floor(cell / grid.width);
  const column = cell % grid.width;
  const found: number[] = [];
  for (let r = row - 1; r <= row + 1; r++) {
    for (let c = column - 1; c <= column + 1; c++) {
      if (r === row && c === column) continue;
      const on = r >= 0 && r < grid.height && c >= 0 && c < grid.width;
      found.push(on ? r * grid.width + c : -1);
    }
  }
  return found;
}

const drainsFreely = (grid: Grid, cell: number) =>
  neighbours(grid, cell).some((n) => n < 0 || Number.isNaN(grid.data[n]!));

/** Slow oracle: water stands everywhere, then sinks to the lowest neighbour until nothing moves. */
function plainFill(grid: Grid): Float32Array {
  const water = grid.data.map((z, i) =>
    Number.isNaN(z) ? NaN : drainsFreely(grid, i) ? z : Infinity,
  );
  for (let moved = true; moved;) {
    moved = false;
    for (let i = 0; i < water.length; i++) {
      if (Number.isNaN(water[i]!) || water[i] === grid.data[i]) continue;
      const lowest = Math.min(...neighbours(grid, i).map((n) => (n < 0 ? Infinity : water[n]!)));
      const level = Math.max(grid.data[i]!, lowest);
      if (level < water[i]!) {
        water[i] = level;
        moved = true;
      }
    }
  }
  return water;
}

const grounds = Array.from({ length: 600 }, (_, i) => smallGround(i + 1));
const same = { largest: 0, dataMismatches: 0 };

describe('fill', () => {
  test('equals the slow oracle on 600 small grounds, buffers reused', () => {
    const buffers = new FillBuffers();
    let filledCells = 0;
    for (const grid of grounds) {
      const filled = finish(fillDepressions(grid, { buffers }));
      expect(rasterDifference(filled, plainFill(grid))).toMatchObject(same);
      filledCells += filled.filter((z, i) => z > grid.data[i]!).length;
    }
    // The grounds do hold water, or the test would prove nothing.
    expect(filledCells).toBeGreaterThan(3000);
  });

  test('never below the ground, no pit left, filling again changes nothing', () => {
    const rough = [5, 6].map((seed) =>
      roughGrid({ width: 150, height: 110 }, seed, { holes: true, noise: 1.5 }),
    );
    for (const grid of [...grounds, ...rough]) {
      const filled = finish(fillDepressions(grid));
      const surface = { ...grid, data: filled };
      expect(rasterDifference(finish(fillDepressions(surface)), filled)).toMatchObject(same);
      const wrong = Array.from(filled.keys()).filter((i) => {
        if (Number.isNaN(filled[i]!)) return false;
        if (drainsFreely(grid, i)) return filled[i] !== grid.data[i];
        const lowest = Math.min(...neighbours(grid, i).map((n) => filled[n]!));
        return filled[i]! < grid.data[i]! || lowest > filled[i]!;
      });
      expect(wrong).toEqual([]);
    }
  });

  test('may write over its own input', () => {
    const grid = roughGrid({ width: 60, height: 60 }, 9, { noise: 1.5 });
    const filled = finish(fillDepressions(grid));
    const copy = { ...grid, data: grid.data.slice() };
    expect(finish(fillDepressions(copy, { out: copy.data }))).toBe(copy.data);
    expect(rasterDifference(copy.data, filled)).toMatchObject(same);
  });

  test('yields as it goes and throws for an out of another length', () => {
    const grid = roughGrid({ width: 300, height: 300 }, 10, {});
    const shares: number[] = [];
    for (const step of fillDepressions(grid)) shares.push(step.share);
    expect(shares.length).toBeGreaterThan(5);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    expect(() => finish(fillDepressions(grid, { out: new Float32Array(2) }))).toThrow(RangeError);
  });
});

describe('low spots', () => {
  test('are the connected filled regions, with their sums, largest first', () => {
    const rough = roughGrid({ width: 150, height: 110 }, 21, { holes: true, noise: 1.5 });
    let seen = 0;
    for (const small of [...grounds, rough]) {
      const grid = { ...small, cellGroundAreaSquareMeters: 0.25 };
      const filled = finish(fillDepressions(grid));
      const { spots, labels } = finish(findLowSpots(grid, filled));
      const oracle = plainRegions(grid, filled);
      expect(spots.length).toBe(oracle.length);
      seen += spots.length;
      for (const cells of oracle) {
        const label = labels[cells[0]!]!;
        const spot = spots[label - 1]!;
        const depths = cells.map((i) => filled[i]! - grid.data[i]!);
        expect(cells.every((i) => labels[i] === label)).toBe(true);
        expect(spot.cells).toBe(cells.length);
        expect(spot.areaSquareMeters).toBe(cells.length * 0.25);
        const volume = depths.reduce((sum, d) => sum + d, 0) * 0.25;
        expect(Math.abs(spot.volumeCubicMeters - volume)).toBeLessThanOrEqual(1e-12 * volume);
        expect(spot.maxDepthMeters).toBe(Math.max(...depths));
        expect(spot.spillElevationMeters).toBe(filled[cells[0]!]);
        expect(spot.deepestCell).toBe(cells[depths.indexOf(Math.max(...depths))]);
      }
      const volumes = spots.map((s) => s.volumeCubicMeters);
      expect(volumes).toEqual(volumes.toSorted((a, b) => b - a));
      const inSpots = labels.filter((label) => label > 0).length;
      expect(inSpots).toBe(oracle.reduce((sum, cells) => sum + cells.length, 0));
    }
    expect(seen).toBeGreaterThan(1000);
  });

  test('throw for a surface of another size', () => {
    const grid = gridOf({ width: 3, height: 3 }, () => 0);
    expect(() => finish(findLowSpots(grid, new Float32Array(4)))).toThrow(RangeError);
  });
});

/** Slow oracle: cells of each region in rising order, found by walking from cell to cell. */
function plainRegions(grid: Grid, filled: Float32Array): number[][] {
  const regions: number[][] = [];
  const seen = new Set<number>();
  for (let start = 0; start < filled.length; start++) {
    if (!(filled[start]! > grid.data[start]!) || seen.has(start)) continue;
    const cells = [start];
    seen.add(start);
    for (const cell of cells) {
      for (const n of neighbours(grid, cell)) {
        if (n < 0 || seen.has(n) || !(filled[n]! > grid.data[n]!)) continue;
        if (filled[n] !== filled[start]) continue;
        seen.add(n);
        cells.push(n);
      }
    }
    regions.push(cells.toSorted((a, b) => a - b));
  }
  return regions;
}
