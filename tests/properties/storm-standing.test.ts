import { describe, expect, test } from 'vitest';
import type { Grid } from '../../geo/raster/grid.ts';
import { depressionTree, hollowOver } from '../../geo/water/depression-tree.ts';
import { fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { hollowCellsOf } from '../../geo/water/storm.ts';
import { hollowStorage, levelOf } from '../../geo/water/hollow-storage.ts';
import { standingWater } from '../../geo/water/storm-standing.ts';
import { finish } from '../../geo/work.ts';
import { fillSpillMerge } from '../oracles/fill-spill-merge.ts';
import { seeded } from '../seeded.ts';
import { gridOf } from '../terrain-grids.ts';

/** A small ground without equal heights: pits in pits, a ridge or two, holes without data. */
function ground(seed: number, holes: boolean): Grid {
  const next = seeded(seed);
  const width = 4 + Math.floor(next() * 11);
  const height = 4 + Math.floor(next() * 11);
  const grid = gridOf({ width, height }, (x, y) =>
    seed % 2 === 0
      ? next() * 10
      : 3 * Math.sin(x / 1.7 + seed) + 3 * Math.cos(y / 1.4) + next() * 2,
  );
  if (holes) for (let i = 0; i < grid.data.length; i++) if (next() < 0.04) grid.data[i] = NaN;
  return grid;
}

function prepare(grid: Grid) {
  const basins = finish(findBasins(grid));
  const tree = depressionTree(basins.passes, basins.count);
  const area = grid.cellGroundAreaSquareMeters;
  const hollowCells = finish(hollowCellsOf(grid.data, basins.labels, basins.levels));
  const storage = finish(hollowStorage(grid.data, basins.labels, hollowCells, tree, area));
  const pour = (perCell: (cell: number) => number) => {
    const runoff = new Float64Array(basins.count + 1);
    for (let i = 0; i < grid.data.length; i++) {
      const label = basins.labels[i]!;
      runoff[label] = runoff[label]! + perCell(i) * area;
    }
    const standing = standingWater(tree, storage, runoff);
    const depth = Float64Array.from(grid.data, (z, i) =>
      Math.max(0, standing.levels[basins.labels[i]!]! - z),
    );
    return { standing, depth };
  };
  return { basins, tree, storage, area, pour };
}

const sum = (numbers: Float64Array) => numbers.reduce((total, n) => total + (n > 0 ? n : 0), 0);

describe('standing water', () => {
  test('is what the slow oracle pours, on 2,000 grounds without ties', () => {
    for (let seed = 1; seed <= 2000; seed++) {
      const grid = ground(seed, seed % 3 === 0);
      const next = seeded(seed + 7);
      const amount = [0.02, 0.3, 1, 5][seed % 4]!;
      const rain = Float64Array.from(grid.data, () => amount * next());
      const { pour, area } = prepare(grid);
      const ours = pour((cell) => rain[cell]!);
      const slow = fillSpillMerge(grid, (cell) => rain[cell]!);
      for (let i = 0; i < rain.length; i++) {
        const difference = Math.abs(ours.depth[i]! - slow.depth[i]!);
        if (difference > 1e-6) throw new Error(`seed ${seed}, cell ${i}: ${difference}`);
      }
      const left = ours.standing.leftSiteCubicMeters / area;
      if (Math.abs(left - slow.left) > 1e-6) throw new Error(`seed ${seed}: left ${left}`);
    }
  });

  test('loses no water: to 1e-9 of the rain, ties and flats or not', () => {
    for (let seed = 1; seed <= 500; seed++) {
      const grid = ground(seed, seed % 4 === 0);
      if (seed % 2 === 0) grid.data.forEach((z, i) => (grid.data[i] = Math.round(z)));
      const { pour, area } = prepare(grid);
      const { standing, depth } = pour(() => 0.4);
      const rain = 0.4 * area * grid.data.length;
      const total = standing.standingCubicMeters + standing.leftSiteCubicMeters;
      expect(Math.abs(total - rain)).toBeLessThan(1e-9 * rain);
      expect(Math.abs(sum(depth) * area - standing.standingCubicMeters)).toBeLessThan(1e-6 * rain);
    }
  });

  test('never stands above full, more rain never means less water, much rain fills all', () => {
    for (let seed = 1; seed <= 300; seed++) {
      const grid = ground(seed, seed % 5 === 0);
      const { pour, basins } = prepare(grid);
      const filled = finish(fillBasins(grid, basins));
      let before = new Float64Array(grid.data.length);
      for (const rain of [0.01, 0.1, 0.5, 2, 1000]) {
        const { depth } = pour(() => rain);
        depth.forEach((d, i) => {
          const full = filled[i]! - grid.data[i]!;
          if (d > full + 1e-6) throw new Error(`seed ${seed}: ${d} deep, full is ${full}`);
          if (d < before[i]! - 1e-9) throw new Error(`seed ${seed}: more rain, less water`);
        });
        before = depth;
      }
      before.forEach((d, i) => {
        const full = filled[i]! - grid.data[i]!;
        if (Math.abs(d - full) > 1e-6) throw new Error(`seed ${seed}: ${d} deep, full is ${full}`);
      });
    }
  });

  test('twice the heights is twice the storage', () => {
    for (let seed = 1; seed <= 100; seed++) {
      const grid = ground(seed, false);
      const twice = { ...grid, data: grid.data.map((z) => 2 * z) };
      const one = prepare(grid).storage.capacityCubicMeters;
      const two = prepare(twice).storage.capacityCubicMeters;
      one.forEach((capacity, i) => expect(two[i]!).toBeCloseTo(2 * capacity, 6));
    }
  });
});

// Barnes, Callaghan & Wickert's own unit values: handbook §10 [C 63].
describe('published values', () => {
  /** A pit of given cells inside a wall with a notch, in a row: wall, cells, notch, off the site. */
  function trough(heights: readonly number[], notch: number): Grid {
    const wall = 9;
    const rows = [
      [wall, ...heights.map(() => wall), wall, wall],
      [wall, ...heights, notch, notch],
      [wall, ...heights.map(() => wall), wall, wall],
    ];
    const grid = gridOf({ width: heights.length + 3, height: 3 }, () => 0);
    grid.data.set(rows.flat());
    return grid;
  }

  test('water of 8 over five cells that sum to 10 stands at 3.6, of 10 at 4', () => {
    const { tree, storage, area } = prepare(trough([2, 2, 2, 2, 2], 4));
    const pit = hollowOver(tree, 2, 2);
    expect(storage.capacityCubicMeters[pit]).toBeCloseTo(10 * area, 9);
    expect(levelOf(tree, storage, pit, 8 * area)).toBeCloseTo(3.6, 9);
    expect(levelOf(tree, storage, pit, 10 * area)).toBeCloseTo(4, 9);
  });

  test('a sill of 3 holds 5 over five cells that sum to 10', () => {
    const { tree, storage, area } = prepare(trough([2, 2, 2, 2, 2], 3));
    expect(storage.capacityCubicMeters[hollowOver(tree, 2, 2)]).toBeCloseTo(5 * area, 9);
  });

  test('filled to 4, cells 1 1 / 1 3 / 2 1 / 1 1 hold 21', () => {
    const { tree, storage, area } = prepare(trough([1, 1, 1, 3, 2, 1, 1, 1], 4));
    const last = storage.capacityCubicMeters.length - 2;
    const most = Math.max(...storage.capacityCubicMeters.subarray(0, last + 1));
    expect(most).toBeCloseTo(21 * area, 9);
    expect(tree.nodeCount).toBeGreaterThan(2);
  });
});
