import type { Grid } from '../../geo/raster/grid.ts';

/**
 * Slow oracle of fill–spill–merge: pools as sets of cells on the raster itself, no tree, no hash, no
 * union-find. A pool floods outward from its pits, lowest cell first, until a cell lies below the
 * level reached: there it runs over, down the steepest way from that cell. Two pools that run over
 * into each other become one. For grounds without equal heights only.
 */
export interface PouredWater {
  /** Depth per cell, metres. */
  readonly depth: Float64Array;
  readonly left: number;
}

interface Pool {
  readonly cells: Set<number>;
  readonly spill: number;
  /** Cell that it runs over onto; -1: off the site. */
  readonly onto: number;
  water: number;
}

export function fillSpillMerge(grid: Grid, waterPerCell: (cell: number) => number): PouredWater {
  const { data: z, width, height } = grid;
  const neighbours = (cell: number): number[] => {
    const row = Math.floor(cell / width);
    const column = cell % width;
    const found: number[] = [];
    for (let r = row - 1; r <= row + 1; r++) {
      for (let c = column - 1; c <= column + 1; c++) {
        if (r === row && c === column) continue;
        found.push(r < 0 || c < 0 || r >= height || c >= width ? -1 : r * width + c);
      }
    }
    return found;
  };
  const isOutlet = (cell: number) =>
    neighbours(cell).some((n) => n < 0 || Number.isNaN(z[n]!)) || Number.isNaN(z[cell]!);
  /** The pit that a drop on this cell ends in; -1 off the site. */
  const endOf = (cell: number): number => {
    for (;;) {
      if (isOutlet(cell)) return -1;
      const low = neighbours(cell).reduce((best, n) => (z[n]! < z[best]! ? n : best), cell);
      if (low === cell) return cell;
      cell = low;
    }
  };
  const volume = (cells: Set<number>, level: number) => {
    let sum = 0;
    for (const cell of cells) sum += Math.max(0, level - z[cell]!);
    return sum;
  };
  /** Floods from the seeds until it runs over. */
  const makePool = (seeds: Iterable<number>, from: number, water: number): Pool => {
    const cells = new Set(seeds);
    let level = from;
    for (;;) {
      let next = -1;
      for (const cell of cells) {
        for (const n of neighbours(cell)) {
          if (!cells.has(n) && (next < 0 || z[n]! < z[next]!)) next = n;
        }
      }
      if (z[next]! < level) return { cells, spill: level, onto: next, water };
      if (isOutlet(next)) return { cells, spill: z[next]!, onto: next, water };
      cells.add(next);
      level = z[next]!;
    }
  };
  let left = 0;
  const pools = new Map<number, Pool>();
  for (let cell = 0; cell < z.length; cell++) {
    if (Number.isNaN(z[cell]!)) {
      left += waterPerCell(cell);
      continue;
    }
    const pit = endOf(cell);
    if (pit < 0) {
      left += waterPerCell(cell);
      continue;
    }
    const pool = pools.get(pit) ?? makePool([pit], z[pit]!, 0);
    pool.water += waterPerCell(cell);
    pools.set(pit, pool);
  }
  const poolAt = (pit: number): Pool => {
    const found = pools.get(pit);
    if (!found) throw new Error(`no pool at ${pit}`);
    return found;
  };
  for (let moved = true; moved;) {
    moved = false;
    for (const pool of new Set(pools.values())) {
      const holds = volume(pool.cells, pool.spill);
      if (pool.water <= holds + 1e-12) continue;
      moved = true;
      const end = endOf(pool.onto);
      if (end < 0) {
        left += pool.water - holds;
        pool.water = holds;
        continue;
      }
      const target = poolAt(end);
      const targetHolds = volume(target.cells, target.spill);
      const back = endOf(target.onto);
      const mutual = back >= 0 && poolAt(back) === pool && target.spill === pool.spill;
      if (mutual && target.water >= targetHolds - 1e-12) {
        const both = [...pool.cells, ...target.cells];
        const merged = makePool(both, pool.spill, pool.water + target.water);
        for (const [pit, one] of pools) if (one === pool || one === target) pools.set(pit, merged);
        break;
      }
      target.water += pool.water - holds;
      pool.water = holds;
    }
  }
  const depth = new Float64Array(z.length);
  for (const pool of new Set(pools.values())) {
    const level = levelFor(pool, (at) => volume(pool.cells, at));
    for (const cell of pool.cells) depth[cell] = Math.max(0, level - z[cell]!);
  }
  return { depth, left };

  function levelFor(pool: Pool, holds: (level: number) => number): number {
    let low = Math.min(...[...pool.cells].map((c) => z[c]!));
    let high = pool.spill;
    for (let i = 0; i < 200; i++) {
      const middle = (low + high) / 2;
      if (holds(middle) < pool.water) low = middle;
      else high = middle;
    }
    return high;
  }
}
