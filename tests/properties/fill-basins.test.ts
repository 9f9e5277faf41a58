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

test('ground below 0 m, and ground with holes, leads water as the same ground above 0 does', () => {
  for (let seed = 1; seed <= 30; seed++) {
    // Steps of a sixteenth of a metre move without rounding; level places and equal neighbours abound.
    const grid = roughGrid({ width: 40, height: 30 }, seed, { noise: 2, stepsPerMeter: 16 });
    const lower = (by: number) => ({ ...grid, data: grid.data.map((z) => z - by) });
    const straight = finish(findBasins(grid));
    for (const by of [250, 1024]) {
      const basins = finish(findBasins(lower(by)));
      expect(basins.pointers).toEqual(straight.pointers);
      expect(basins.labels).toEqual(straight.labels);
    }
    // A hole that no row but the last three can see changes no pointer above them.
    const holed = { ...grid, data: grid.data.slice() };
    holed.data[29 * 40 + 20] = NaN;
    const { pointers } = finish(findBasins(holed));
    expect(pointers.slice(0, 27 * 40)).toEqual(straight.pointers.slice(0, 27 * 40));
  }
});

test('a way of 20,000 cells between walls, into a pit, as the priority flood has it', () => {
  const side = 201;
  const grid = gridOf({ width: side, height: side }, () => 400);
  let height = 300;
  for (let row = 1; row < side - 1; row++) {
    const isLink = row % 2 === 0;
    for (let k = 1; k < side - 1; k++) {
      const column = row % 4 === 1 ? k : side - 1 - k;
      if (!isLink) grid.data[row * side + column] = height -= 0.01;
    }
    // From the end of one run to the next.
    const at = row % 4 === 2 ? side - 2 : 1;
    if (isLink) grid.data[row * side + at] = height -= 0.01;
  }
  const basins = finish(findBasins(grid));
  const fast = finish(fillBasins(grid, basins));
  expect(rasterDifference(fast, finish(fillDepressions(grid)))).toMatchObject({ largest: 0 });
  const [first, end] = [basins.labels[side + 1]!, basins.labels[(side - 2) * side + side - 2]!];
  expect(first).toBe(end);
  expect(first).toBeGreaterThan(1);
  // The walls drain into the way or off the rim: there is one pit and the ocean.
  expect(basins.count).toBe(2);
});
