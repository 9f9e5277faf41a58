import type { Grid } from '../../geo/raster/grid.ts';
import { seeded } from '../seeded.ts';
import { gridOf } from '../terrain-grids.ts';

/**
 * Rolling ground of 1 m cells for timing: long waves, kettles of tens of metres and survey noise of
 * 3 cm on a regional fall, so that about 0.1 to 0.2 % of the cells are pits, as in real lidar.
 */
export function benchGround(side: number, seed = 16): Grid {
  const next = seeded(seed);
  const waves = Array.from({ length: 5 }, (_, i) => ({
    length: 30 * 2.6 ** i,
    size: 0.35 * 2.1 ** i,
    phase: next() * 7,
    turn: next() * 7,
  }));
  const grid = gridOf({ width: side, height: side }, () => 0);
  const { data } = grid;
  // Waves by column and by row are tabled: 16 M cells of sines would outlast the bench itself.
  const tables = waves.map(({ length, phase, turn }) => ({
    column: Float64Array.from({ length: side }, (_, c) => Math.sin((6.2832 * c) / length + phase)),
    row: Float64Array.from({ length: side }, (_, r) => Math.cos((6.2832 * r) / length + turn)),
  }));
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      let z = 250 - 0.01 * row - 0.006 * column + 0.03 * (next() + next() - 1);
      for (let k = 0; k < waves.length; k++) {
        z += waves[k]!.size * tables[k]!.column[column]! * tables[k]!.row[row]!;
      }
      data[row * side + column] = z;
    }
  }
  return grid;
}

/** Milliseconds of a run by the clock, and of the processor for it. */
export interface Taken {
  readonly warm: number;
  readonly processor: number;
}

/** The best of `runs`, each time by itself; the first, cold run comes back beside them. */
export function timeRuns(runs: number, work: () => void): Taken & { readonly cold: number } {
  let warm = Infinity;
  let processor = Infinity;
  let cold = 0;
  for (let i = 0; i <= runs; i++) {
    const before = process.cpuUsage();
    const start = performance.now();
    work();
    const took = performance.now() - start;
    const { user, system } = process.cpuUsage(before);
    if (i === 0) cold = took;
    if (i > 0 || runs === 0) {
      warm = Math.min(warm, took);
      processor = Math.min(processor, (user + system) / 1000);
    }
  }
  return { cold, warm, processor };
}

/**
 * Medians of `rounds` in which every work has its turn, after a cold one: what slows the machine for a
 * while slows all of them.
 */
export function inTurns(rounds: number, works: readonly (() => void)[]): Taken[] {
  const takes = works.map((): Taken[] => []);
  for (let round = 0; round <= rounds; round++) {
    works.forEach((work, i) => {
      const { warm, processor } = timeRuns(0, work);
      if (round > 0) takes[i]!.push({ warm, processor });
    });
  }
  return takes.map((all) => ({
    warm: medianOf(all.map(({ warm }) => warm)),
    processor: medianOf(all.map(({ processor }) => processor)),
  }));
}

function medianOf(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}
