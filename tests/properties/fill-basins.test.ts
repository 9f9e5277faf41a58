import { expect, test } from 'vitest';
import type { Grid } from '../../geo/raster/grid.ts';
import { fillBasins, findBasins, BasinBuffers } from '../../geo/water/fill-basins.ts';
import { fillDepressions } from '../../geo/water/fill-depressions.ts';
import { finish } from '../../geo/work.ts';
import { rasterDifference } from '../raster-difference.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

/** The priority flood is the slow oracle: it shares no line with the basin graph. */

function ground(seed: number): Grid {
  const next = seeded(seed);
  const width = seed % 20 === 0 ? 1 : 1 + Math.floor(next() * 24);
  const height = seed % 20 === 10 ? 1 : 1 + Math.floor(next() * 24);
  const levels = 1 + Math.floor(next() * 9);
  const kind = seed % 5;
  const grid = gridOf({ width, height }, (x, y) => {
    if (kind === 0) return Math.floor(next() * levels);
    if (kind === 1) return next() * 10 - 5;
    if (kind === 2) return Math.floor(Math.max(Math.abs(x - 9), Math.abs(y - 9)) / 2 + next() * 2);
    if (kind === 3) return Math.round(4 * Math.sin(x / 2) * Math.cos(y / 3));
    return Math.round(3 * Math.sin(x) + 3 * Math.cos(y)) + (next() < 0.2 ? -3 : 0);
  });
  if (seed % 3 === 0) {
    for (let i = 0; i < grid.data.length; i++) if (next() < 0.06) grid.data[i] = NaN;
  }
  return grid;
}

test('2,000 small grounds fill as the priority flood fills them, bit for bit', () => {
  for (let seed = 1; seed <= 2000; seed++) {
    const grid = ground(seed);
    const slow = finish(fillDepressions(grid));
    const fast = finish(fillBasins(grid, finish(findBasins(grid))));
    const { largest, dataMismatches } = rasterDifference(fast, slow);
    if (largest !== 0 || dataMismatches !== 0)
      throw new Error(`seed ${seed} differs by ${largest}`);
  }
});

test('a rough ground of a million cells, with buffers used again', () => {
  const buffers = new BasinBuffers();
  for (const seed of [1, 2]) {
    const grid = roughGrid({ width: 1000, height: 1000 }, seed);
    const fast = finish(fillBasins(grid, finish(findBasins(grid, buffers))));
    expect(rasterDifference(fast, finish(fillDepressions(grid)))).toMatchObject({
      largest: 0,
      dataMismatches: 0,
    });
  }
});

test('a wholly flat ground and one without data have no hollow', () => {
  const flat = gridOf({ width: 300, height: 200 }, () => 5);
  expect(finish(findBasins(flat)).count).toBe(1);
  const empty = gridOf({ width: 30, height: 20 }, () => NaN);
  expect(finish(fillBasins(empty, finish(findBasins(empty)))).every(Number.isNaN)).toBe(true);
});
