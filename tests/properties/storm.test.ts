import { describe, expect, test } from 'vitest';
import type { Grid } from '../../geo/raster/grid.ts';
import { depressionTree } from '../../geo/water/depression-tree.ts';
import { findBasins } from '../../geo/water/fill-basins.ts';
import { hollowCatchments, outermostOf } from '../../geo/water/hollow-catchments.ts';
import { hollowStorage } from '../../geo/water/hollow-storage.ts';
import { countSurface, hollowCellsOf, stormWater } from '../../geo/water/storm.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { gridOf } from '../terrain-grids.ts';

// Invariants of a storm on seeded rough grounds: no source needed, they are what water does.

const SEEDS = 300;

function ground(seed: number): Grid {
  const next = seeded(seed);
  const size = { width: 3 + Math.floor(next() * 14), height: 3 + Math.floor(next() * 14) };
  const grid = gridOf(size, (x, y) => Math.round((3 * Math.sin(x / 1.7 + seed) + 3 * Math.cos(y / 1.4) + next() * 2) * 4) / 4); // prettier-ignore
  for (let i = 0; i < grid.data.length; i++) if (next() < 0.03) grid.data[i] = NaN;
  return grid;
}

function prepare(grid: Grid, seed: number) {
  const { labels, levels, passes, count } = finish(findBasins(grid));
  const tree = depressionTree(passes, count);
  const cellAreaSquareMeters = grid.cellGroundAreaSquareMeters;
  const hollowCells = finish(hollowCellsOf(grid.data, labels, levels));
  const storage = finish(hollowStorage(grid.data, labels, hollowCells, tree, cellAreaSquareMeters));
  const z = grid.data;
  const next = seeded(seed + 1);
  const classOf = Uint8Array.from(z, () => Math.floor(next() * 3));
  const surface = finish(countSurface(z, labels, classOf, tree.leafCount, 3));
  const on = { z, labels, tree, storage, hollowCells, cellAreaSquareMeters };
  const numbers = [40 + 30 * next(), 60 + 30 * next(), 98];
  const pour = (rain: number, by = numbers) => finish(stormWater(on, surface, by, rain));
  return { ...on, levels, surface, pour, numbers };
}

describe(`storms on ${SEEDS} seeded grounds`, () => {
  test('balance, never deeper than full, more rain never less water', () => {
    for (let seed = 1; seed <= SEEDS; seed++) {
      const { z, labels, levels, pour, cellAreaSquareMeters, numbers } = prepare(
        ground(seed),
        seed,
      );
      const cells = z.reduce((n, height) => n + (height === height ? 1 : 0), 0);
      let before = -1;
      for (const rain of [0, 0.01, 0.05, 0.2, 1, 25.4]) {
        const storm = pour(rain);
        const { rainCubicMeters, standingCubicMeters, leftSiteCubicMeters, soakedCubicMeters } = storm; // prettier-ignore
        const all = rain * cells * cellAreaSquareMeters;
        expect(Math.abs(rainCubicMeters - all)).toBeLessThanOrEqual(1e-9 * all);
        const sum = standingCubicMeters + leftSiteCubicMeters + soakedCubicMeters;
        expect(Math.abs(sum - all)).toBeLessThanOrEqual(1e-9 * all);
        expect(soakedCubicMeters).toBeGreaterThanOrEqual(-1e-9 * all);
        let volume = 0;
        for (let i = 0; i < z.length; i++) {
          const level = storm.levels[labels[i]!]!;
          if (!(level > z[i]!)) continue;
          expect(level).toBeLessThanOrEqual(levels[labels[i]!]! + 1e-6);
          volume += (level - z[i]!) * cellAreaSquareMeters;
        }
        // What stands by the levels is what stands by the books; heights are 32-bit.
        expect(Math.abs(volume - standingCubicMeters)).toBeLessThan(1e-3 + 1e-6 * volume);
        expect(standingCubicMeters).toBeGreaterThanOrEqual(before - 1e-9);
        before = standingCubicMeters;
        if (rain === 0.2) {
          const more = pour(
            rain,
            numbers.map((n) => Math.min(100, n + 3)),
          );
          expect(more.standingCubicMeters).toBeGreaterThanOrEqual(standingCubicMeters - 1e-9);
        }
      }
      expect(pour(0).standingCubicMeters).toBe(0);
    }
  });

  test('on curve number 100 all of it runs off: nothing soaks in', () => {
    for (let seed = 1; seed <= 50; seed++) {
      const storm = prepare(ground(seed), seed).pour(0.1, [100, 100, 100]);
      expect(Math.abs(storm.soakedCubicMeters)).toBeLessThan(1e-9 * (storm.rainCubicMeters + 1));
    }
  });

  test('what drains into a hollow: own ground, and what runs over into it', () => {
    for (let seed = 1; seed <= 100; seed++) {
      const { tree, labels, z } = prepare(ground(seed), seed);
      const own = new Float64Array(tree.leafCount + 1);
      for (let i = 0; i < z.length; i++) {
        if (z[i] === z[i]) own[labels[i]!] = own[labels[i]!]! + 1;
      }
      const catchment = hollowCatchments(tree, own);
      const outermost = outermostOf(tree);
      // Slow way: walk the spills up from every basin.
      const slow = new Float64Array(tree.nodeCount + 1);
      for (let label = 2; label <= tree.leafCount; label++) {
        for (let node = outermost[label]!; ;) {
          slow[node] = slow[node]! + own[label]!;
          const into = tree.spillsInto[node]!;
          if (into <= 1) break;
          node = outermost[into]!;
        }
      }
      expect([...catchment]).toEqual([...slow]);
    }
  });
});
