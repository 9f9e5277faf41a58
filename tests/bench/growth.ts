import { depressionTree } from '../../geo/water/depression-tree.ts';
import { BasinBuffers, findBasins } from '../../geo/water/fill-basins.ts';
import { hollowStorage, StorageBuffers } from '../../geo/water/hollow-storage.ts';
import { hollowCellsOf } from '../../geo/water/storm.ts';
import { finish } from '../../geo/work.ts';
import { benchGround, timeRuns } from './bench-ground.ts';
import type { BenchRow } from './bench-row.ts';

/** Sides of the grounds: 1, 4, 16 and 64 M cells. */
const sides = [1000, 2000, 4000, 8000];

/**
 * How the time to make a ground ready for storms grows with its cells (the exponent is the slope of
 * the logarithms, least squares), and what its arrays hold beyond the ground itself.
 */
export async function run(): Promise<BenchRow[]> {
  const times: number[] = [];
  let bytesPerCell = 0;
  for (const side of sides) {
    const grid = benchGround(side);
    const buffers = new BasinBuffers();
    const storageBuffers = new StorageBuffers();
    let held: unknown;
    const { warm } = timeRuns(2, () => {
      const basins = finish(findBasins(grid, buffers));
      const tree = depressionTree(basins.passes, basins.count);
      const hollowCells = finish(
        hollowCellsOf(grid.data, basins.labels, basins.levels, storageBuffers),
      );
      const storage = finish(
        hollowStorage(grid.data, basins.labels, hollowCells, tree, 1, storageBuffers),
      );
      held = { basins, tree, hollowCells, storage, buffers, storageBuffers };
    });
    times.push(warm);
    bytesPerCell = Math.max(bytesPerCell, bytesIn(held) / grid.data.length);
  }
  const alone = { reference: null, referenceName: 'none', ratio: null };
  return [
    ...sides.map((side, i) => ({
      name: `hierarchy and storage, ${(side / 1000) ** 2} M cells, warm, best of 2, ms`,
      ours: times[i]!,
      ...alone,
      bar: '',
    })),
    {
      name: 'growth from 1 to 64 M cells, exponent',
      ours: slopeOf(sides.map((side) => Math.log(side * side)), times.map(Math.log)), // prettier-ignore
      ...alone,
      bar: 'linear: about 1',
    },
    {
      name: 'arrays held beyond the ground, bytes a cell, the most of the four',
      ours: bytesPerCell,
      ...alone,
      bar: 'at most 12',
    },
  ];
}

/** Bytes of all typed arrays that a value holds, each memory once. */
function bytesIn(value: unknown): number {
  const memories = new Set<ArrayBufferLike>();
  const seen = new Set<unknown>();
  const look = (one: unknown): void => {
    if (typeof one !== 'object' || one === null || seen.has(one)) return;
    seen.add(one);
    if (ArrayBuffer.isView(one)) memories.add(one.buffer);
    else for (const part of Object.values(one)) look(part);
  };
  look(value);
  return [...memories].reduce((sum, { byteLength }) => sum + byteLength, 0);
}

function slopeOf(xs: readonly number[], ys: readonly number[]): number {
  const mean = (of: readonly number[]) => of.reduce((sum, one) => sum + one, 0) / of.length;
  const [x0, y0] = [mean(xs), mean(ys)];
  const across = xs.reduce((sum, x, i) => sum + (x - x0) * (ys[i]! - y0), 0);
  return across / xs.reduce((sum, x) => sum + (x - x0) ** 2, 0);
}
