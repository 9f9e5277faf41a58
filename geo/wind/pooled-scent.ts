import type { XY } from '../plan/overlay/arrangement.ts';
import type { PlaneShape } from '../plan/shape-distance.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { Grid } from '../raster/grid.ts';
import { polygonMask } from '../raster/polygon-mask.ts';
import { cellAt } from '../raster/sample.ts';
import { airWay, type AirPools, type AirWay } from './air-pools.ts';
import type { ProtectedGround } from './seat-reach.ts';
import type { Verdict } from './wind-verdict.ts';

/** A protected ground that lies, in part, in a pool of air. */
export interface PooledGround {
  readonly id: string;
  /** From the seat to the nearest of it in the pool. */
  readonly meters: number;
  /** Of the pool's area, what lies in it; of a line 0. */
  readonly share: number;
}

/** A pool that evening air from a seat runs into, and that holds its scent. */
export interface PooledScent {
  /** Place in the list of pools. */
  readonly pool: number;
  /** Of the ways down from about the seat, those that end in it. */
  readonly share: number;
  /** From the seat to where its air comes into it; 0 where the seat is in it. */
  readonly meters: number;
  /** The way there, frame metres. */
  readonly way: readonly XY[];
  /** Nearest first. */
  readonly grounds: readonly PooledGround[];
}

/** Scent leaves a seat some feet up and is spread before it sinks: ways begin in it and so far round it (ours). */
export const ROUND_METERS = 10;
const STARTS = 8;
/** Where at least half of the ways lead into a pool, what lies in it is as good as downwind (ours). */
const SURE_SHARE = 0.5;

/**
 * The pools that evening air from a seat runs into within range (straight from the seat), and the
 * protected ground that lies in them. Frame metres. Most ways first, then the nearer, then the larger.
 * Throws RangeError for a range that is not above 0.
 * Example: a seat on a plane above a berm that cups the slope: one pool, with a share of 1.
 */
export function pooledScent(
  of: AirPools,
  cellsOf: PoolCells,
  seat: XY,
  rangeMeters: number,
): PooledScent[] {
  if (!(rangeMeters > 0)) throw new RangeError(`pooledScent: range ${rangeMeters} m`);
  const starts = [seat, ...Array.from({ length: STARTS }, (_, i): XY => {
    const angle = (2 * Math.PI * i) / STARTS;
    return [seat[0] + ROUND_METERS * Math.sin(angle), seat[1] + ROUND_METERS * Math.cos(angle)];
  })]; // prettier-ignore
  const ways = starts.map((start) => airWay(of, start, rangeMeters));
  const reached = [...new Set(ways.flatMap(({ pool }) => pool ?? []))];
  return reached
    .map((pool): PooledScent => {
      const into = ways.filter((way) => way.pool === pool);
      // The seat's own, or the one that comes into the pool nearest to the seat.
      const off = ({ line }: AirWay) => distanceTo(seat, line.at(-1)!);
      const own = into.find(({ line }) => line[0] === seat);
      const { line } = own ?? into.reduce((near, way) => (off(way) < off(near) ? way : near));
      const grounds = (cellsOf.get(pool) ?? []).map(({ id, cells, isLine }) => {
        return {
          id,
          meters: nearest(of.filled, seat, cells),
          share: isLine ? 0 : cells.length / of.pools[pool]!.cells,
        };
      });
      return {
        pool,
        share: into.length / starts.length,
        meters: own?.line.length === 1 ? 0 : distanceTo(seat, line.at(-1)!),
        way: line,
        grounds: grounds.sort((a, b) => a.meters - b.meters || (a.id < b.id ? -1 : 1)),
      };
    })
    .sort((a, b) => b.share - a.share || a.meters - b.meters || a.pool - b.pool);
}

/** By pool: which of its cells lie in each protected ground. */
export type PoolCells = ReadonlyMap<
  number,
  readonly { readonly id: string; readonly cells: readonly number[]; readonly isLine: boolean }[]
>;

/** Cells of pools that lie in protected ground: by their middles, and under a line every cell that it crosses. */
export function poolCells(
  { filled, labels }: AirPools,
  grounds: readonly ProtectedGround[],
): PoolCells {
  const byPool = new Map<number, { id: string; cells: number[]; isLine: boolean }[]>();
  for (const { id, shape } of grounds) {
    const found = new Map<number, Set<number>>();
    for (const cell of cellsOf(filled, shape)) {
      const label = labels[cell]!;
      if (label === 0) continue;
      const cells = found.get(label - 1) ?? new Set();
      found.set(label - 1, cells.add(cell));
    }
    for (const [pool, cells] of found) {
      const list = byPool.get(pool) ?? [];
      byPool.set(pool, list);
      list.push({ id, cells: [...cells], isLine: shape.kind !== 'area' });
    }
  }
  return byPool;
}

/** What pools do to a stand while air drains: `works` where no protected ground lies in them. */
export function pooledVerdict(pools: readonly Pick<PooledScent, 'share' | 'grounds'>[]): Verdict {
  const share = pools.reduce((sum, pool) => sum + (pool.grounds.length > 0 ? pool.share : 0), 0);
  if (share === 0) return 'works';
  return share >= SURE_SHARE - 1e-9 ? 'does-not' : 'marginal';
}

function distanceTo([x, y]: XY, [toX, toY]: XY): number {
  return Math.hypot(toX - x, toY - y);
}

function cellsOf(grid: Grid, { kind, paths }: PlaneShape): number[] {
  const cells: number[] = [];
  if (kind === 'area') {
    const spans = polygonMask(grid, paths);
    for (let i = 0; i < spans.count; i++) {
      for (let c = spans.start[i]!; c < spans.end[i]!; c++) cells.push(spans.row[i]! * grid.width + c); // prettier-ignore
    }
    return cells;
  }
  const step = Math.min(grid.cellWidth, grid.cellHeight) / 2;
  for (const path of paths) {
    const length = lineLength(path);
    const count = Math.max(1, Math.ceil(length / step));
    for (let i = 0; i <= count; i++) {
      const at = length > 0 ? placeAt(path, (length * i) / count).at : path[0]!;
      const cell = cellAt(grid, at[0], at[1]);
      if (cell >= 0) cells.push(cell);
    }
  }
  return cells;
}

function nearest(grid: Grid, [x, y]: XY, cells: readonly number[]): number {
  let least = Infinity;
  for (const cell of cells) {
    const row = Math.floor(cell / grid.width);
    const east = grid.west + (cell - row * grid.width + 0.5) * grid.cellWidth - x;
    const north = grid.north - (row + 0.5) * grid.cellHeight - y;
    least = Math.min(least, Math.hypot(east, north));
  }
  return least;
}
