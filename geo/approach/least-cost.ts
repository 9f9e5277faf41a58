import type { Work } from '../work.ts';
import { CellBuckets } from './cell-buckets.ts';
import {
  STEPS,
  stepColumns,
  stepRows,
  stepTable,
  type CostPlace,
  type StepTable,
} from './steps.ts';

/**
 * What a metre costs in each cell: one array when it is the same in every direction, or one for each
 * of the sixteen steps, in the direction walked. Row-major, row 0 north. Above 0; Infinity or NaN is
 * never walked.
 */
export interface CostSurface extends CostPlace {
  readonly perMeter: Float32Array | readonly Float32Array[];
  /** Bounds of the finite costs where the caller knows them, not looked at again; need not be tight. */
  readonly range?: { readonly least: number; readonly most: number };
}

export interface CostTree {
  /** Cost of the cheapest way between the root and each cell; Infinity where there is none. */
  readonly cost: Float32Array;
  /** The step taken from the root's side into each cell; 255 at the root and where no way comes. */
  readonly step: Uint8Array;
  readonly root: number;
}

export interface CostOptions {
  /** Ways lead to the root instead of from it: steps are paid in the other direction. */
  readonly towardsRoot?: boolean;
  /** 16 by default; 8, without knight's moves, is quicker and for maps of cost rather than ways. */
  readonly neighbours?: 8 | 16;
  /** Stop once the ways of these cells are known; other costs may then be too high or Infinity. */
  readonly until?: readonly number[];
  /** Reused: as long as the grid. */
  readonly tree?: Pick<CostTree, 'cost' | 'step'>;
}

export const NO_STEP = 255;

/**
 * Cheapest ways between one cell and all others, over sixteen neighbours: a step costs the cost of
 * each cell times the metres of it that the straight line between the centres crosses, so every
 * way costs what its line does, and none more than the cheapest over eight neighbours. It never
 * enters a cell that is not walked, nor passes between two that meet at a corner.
 * Source: Dijkstra 1959 with Dial's buckets. Equal ways: the one found first, the same on every run.
 * Throws RangeError for a cost of 0 or less, a root off the grid, arrays of another length.
 * Example: costs of 2 a metre all round, 1 m cells: 8 to a cell 4 columns off.
 */
export function* leastCost(
  surface: CostSurface,
  root: number,
  options: CostOptions = {},
): Work<CostTree> {
  const cells = surface.width * surface.height;
  if (!(root >= 0 && root < cells)) throw new RangeError(`root ${root} of ${cells} cells`);
  const { cost, step } = options.tree ?? {
    cost: new Float32Array(cells),
    step: new Uint8Array(cells),
  };
  if (cost.length !== cells || step.length !== cells) throw new RangeError('tree of another grid');
  cost.fill(Infinity);
  step.fill(NO_STEP);
  const search = openSearch(surface, options, cost, step);
  const tree = { cost, step, root };
  if (search === null || !(search.tables[0]![root]! < Infinity)) return tree;
  cost[root] = 0;
  search.waiting.put(root, 0, Infinity);
  const until = (options.until ?? []).filter((cell) => search.tables[0]![cell]! < Infinity);
  for (let taken = 0; ;) {
    const batch = takeSome(search);
    taken += batch;
    if (batch < CELLS_PER_SLICE || isKnown(search, until)) return tree;
    yield { share: Math.min(1, taken / cells), doing: 'looking for ways' };
  }
}

/** The cells of the cheapest way, in the direction walked; empty where there is none. */
export function wayTo(
  { cost, step, root }: CostTree,
  cell: number,
  place: CostPlace,
  towardsRoot = false,
): Int32Array {
  if (!(cost[cell]! < Infinity)) return new Int32Array(0);
  const { offset } = stepTable(place);
  const cells = [cell];
  for (let at = cell; at !== root;) cells.push((at -= offset[step[at]!]!));
  return Int32Array.from(towardsRoot ? cells : cells.reverse());
}

const CELLS_PER_SLICE = 32_768;

interface Search {
  readonly width: number;
  readonly height: number;
  /** One for each step as seen from the root. */
  readonly tables: readonly Float32Array[];
  readonly steps: StepTable;
  readonly cost: Float32Array;
  readonly step: Uint8Array;
  readonly waiting: CellBuckets;
  /** Cost of the cell taken last. */
  reached: number;
  /**
   * Of no meaning: rows about the next cell are read while this one is looked round, so that they
   * have come from memory by its turn, and the sum is kept so that the reading is not left out.
   */
  touched: number;
  readonly bucketWidth: number;
  readonly withKnights: boolean;
}

/** Null where nothing can be walked. */
function openSearch(
  surface: CostSurface,
  { towardsRoot = false, neighbours = 16 }: CostOptions,
  cost: Float32Array,
  step: Uint8Array,
): Search | null {
  const { width, height, perMeter } = surface;
  const { least, most } = surface.range ?? rangeOf(perMeter, width * height);
  if (!(least < Infinity)) return null;
  const steps = stepTable(surface);
  const tables = Array.from({ length: STEPS }, (_, s) =>
    perMeter instanceof Float32Array ? perMeter : perMeter[towardsRoot ? s ^ 8 : s]!,
  );
  const withKnights = neighbours === 16;
  const dearest = most * Math.max(...steps.meters);
  // As wide as the cheapest step, unless that would make too many buckets to look through.
  const bucketWidth = Math.max(least * Math.min(...steps.meters), dearest / MOST_BUCKETS);
  const waiting = new CellBuckets(cost, bucketWidth, dearest);
  return {
    width,
    height,
    tables,
    steps,
    cost,
    step,
    waiting,
    reached: 0,
    touched: 0,
    bucketWidth,
    withKnights,
  };
}

function rangeOf(perMeter: CostSurface['perMeter'], cells: number) {
  let least = Infinity;
  let most = 0;
  for (const table of perMeter instanceof Float32Array ? [perMeter] : new Set(perMeter)) {
    if (table.length !== cells) throw new RangeError(`${table.length} costs for ${cells} cells`);
    for (let i = 0; i < cells; i++) {
      const c = table[i]!;
      if (c <= 0) throw new RangeError(`a cost of ${c} a metre`);
      if (c < least) least = c;
      if (c > most && c < Infinity) most = c;
    }
  }
  return { least, most };
}

const MOST_BUCKETS = 1 << 16;

/** True when no cheaper way to any of the cells can come any more. */
function isKnown({ cost, reached, bucketWidth }: Search, until: readonly number[]): boolean {
  return until.length > 0 && until.every((cell) => cost[cell]! + bucketWidth < reached);
}

/** Takes cells and looks round each; returns how many were taken before none waited or it is time. */
function takeSome(search: Search): number {
  const { width, height, cost, waiting } = search;
  const table = search.tables[0]!;
  let touched = 0;
  for (let taken = 0; taken < CELLS_PER_SLICE; taken++) {
    const cell = waiting.take();
    if (cell < 0) return taken;
    search.reached = cost[cell]!;
    const next = waiting.next();
    if (next >= width && next < cost.length - width) {
      touched += cost[next - width]! + cost[next + width]!;
      touched += table[next - width]! + table[next]! + table[next + width]!;
    }
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    const isInner = row > 1 && column > 1 && row < height - 2 && column < width - 2;
    if (!isInner) {
      lookRoundAtRim(search, cell, row, column);
      continue;
    }
    lookStraight(search, cell);
    lookAcross(search, cell);
    if (search.withKnights) lookLikeKnights(search, cell);
  }
  search.touched = touched;
  return CELLS_PER_SLICE;
}

/** Steps to the four cells beside. Three loops of one kind each run faster than one of all kinds. */
function lookStraight(
  { cost, step, tables, waiting, steps: { offset, meters } }: Search,
  cell: number,
): void {
  const here = cost[cell]!;
  for (let s = 0; s < STEPS; s += 4) {
    const next = cell + offset[s]!;
    if (!(cost[next]! > here)) continue;
    const table = tables[s]!;
    const total = Math.fround(here + (table[cell]! + table[next]!) * 0.5 * meters[s]!);
    const before = cost[next]!;
    if (!(total < before)) continue;
    cost[next] = total;
    step[next] = s;
    waiting.put(next, total, before);
  }
}

/** Steps over a corner, unless both cells beside it are barred. */
function lookAcross(
  { cost, step, tables, waiting, steps: { offset, meters, passedA, passedB } }: Search,
  cell: number,
): void {
  const here = cost[cell]!;
  for (let s = 2; s < STEPS; s += 4) {
    const next = cell + offset[s]!;
    if (!(cost[next]! > here)) continue;
    const table = tables[s]!;
    const total = Math.fround(here + (table[cell]! + table[next]!) * 0.5 * meters[s]!);
    const before = cost[next]!;
    if (!(total < before)) continue;
    if (!(table[cell + passedA[s]!]! < Infinity || table[cell + passedB[s]!]! < Infinity)) continue;
    cost[next] = total;
    step[next] = s;
    waiting.put(next, total, before);
  }
}

/** Knight's moves, a quarter of each in each of four cells. */
function lookLikeKnights(
  { cost, step, tables, waiting, steps: { offset, meters, passedA, passedB } }: Search,
  cell: number,
): void {
  const here = cost[cell]!;
  for (let s = 1; s < STEPS; s += 2) {
    const next = cell + offset[s]!;
    if (!(cost[next]! > here)) continue;
    const table = tables[s]!;
    const sum =
      table[cell]! + table[cell + passedA[s]!]! + table[cell + passedB[s]!]! + table[next]!;
    const total = Math.fround(here + sum * 0.25 * meters[s]!);
    const before = cost[next]!;
    if (!(total < before)) continue;
    cost[next] = total;
    step[next] = s;
    waiting.put(next, total, before);
  }
}

/** All steps that stay on the grid. */
function lookRoundAtRim(search: Search, cell: number, row: number, column: number): void {
  const { width, height, cost, step, tables, waiting } = search;
  const { offset, meters, passedA, passedB } = search.steps;
  for (let s = 0; s < STEPS; s += search.withKnights ? 1 : 2) {
    const [r, c] = [row + stepRows[s]!, column + stepColumns[s]!];
    if (r < 0 || c < 0 || r >= height || c >= width) continue;
    const next = cell + offset[s]!;
    const table = tables[s]!;
    const [a, b] = [table[cell + passedA[s]!]!, table[cell + passedB[s]!]!];
    if (s % 4 === 2 && !(a < Infinity || b < Infinity)) continue;
    const mean =
      s % 2 === 1
        ? (table[cell]! + a + b + table[next]!) * 0.25
        : (table[cell]! + table[next]!) * 0.5;
    const total = Math.fround(cost[cell]! + mean * meters[s]!);
    const before = cost[next]!;
    if (!(total < before)) continue;
    cost[next] = total;
    step[next] = s;
    waiting.put(next, total, before);
  }
}
