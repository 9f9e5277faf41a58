import type { Work } from '../work.ts';
import { OCEAN } from './basin-labels.ts';
import { hollowOver, type DepressionTree } from './depression-tree.ts';

/**
 * How much every hollow holds, and the heights of its cells, so that a level can be found for any
 * amount of water. Does not depend on any storm.
 */
export interface HollowStorage {
  readonly cellAreaSquareMeters: number;
  /** By node: cells below its spill and the sum of their heights, its children's included. */
  readonly cells: Float64Array;
  readonly heightSum: Float64Array;
  /** By node: what it holds up to its spill, cubic metres. */
  readonly capacityCubicMeters: Float64Array;
  /**
   * Heights of the cells that a node adds to its children's, in `heights` from `start[node]` up to
   * `start[node + 1]`; in no order until `levelOf` needs them.
   */
  readonly start: Int32Array;
  readonly heights: Float32Array;
  readonly inOrder: Uint8Array;
}

/** So many cells between two looks at the clock. */
const BAND = 1 << 18;

/**
 * Counts each cell to the lowest hollow that can stand over it. `z` and `labels` row-major, equal
 * length; `hollowCells` those that can ever be under water (`hollowCellsOf`), in index order. Volume of a hollow is its spill height times its cells
 * less the sum of their heights, times the cell's area (Barnes, Callaghan & Wickert 2020, eq. 1).
 * Example: five cells that sum to 10 hold 5 at a spill of 3 and 10 at a spill of 4.
 */
export function* hollowStorage(
  z: Float32Array,
  labels: Int32Array,
  hollowCells: Int32Array,
  tree: DepressionTree,
  cellAreaSquareMeters: number,
): Work<HollowStorage> {
  const { nodeCount } = tree;
  const cells = new Float64Array(nodeCount + 2);
  const heightSum = new Float64Array(nodeCount + 2);
  const counts = new Int32Array(nodeCount + 2);
  const wet = hollowCells.length;
  for (let from = 0; from < wet; from += BAND) {
    const some = hollowCells.subarray(from, from + BAND);
    countSome(z, labels, some, tree, counts);
    yield { share: (0.5 * from) / wet, doing: 'measuring hollows' };
  }
  const start = new Int32Array(nodeCount + 2);
  for (let node = 1; node <= nodeCount; node++) start[node + 1] = start[node]! + counts[node]!;
  const heights = new Float32Array(wet);
  const next = start.slice();
  for (let from = 0; from < wet; from += BAND) {
    const some = hollowCells.subarray(from, from + BAND);
    placeSome(z, labels, some, tree, next, heights);
    yield { share: 0.5 + (0.5 * from) / wet, doing: 'measuring hollows' };
  }
  const capacityCubicMeters = new Float64Array(nodeCount + 2);
  for (let node = OCEAN + 1; node <= nodeCount; node++) {
    let sum = 0;
    for (let i = start[node]!; i < start[node + 1]!; i++) sum += heights[i]!;
    cells[node] = cells[node]! + counts[node]!;
    heightSum[node] = heightSum[node]! + sum;
    const spill = tree.spillHeight[node]!;
    capacityCubicMeters[node] =
      cells[node] === 0 ? 0 : (spill * cells[node]! - heightSum[node]!) * cellAreaSquareMeters;
    const above = tree.parent[node]!;
    if (above === 0) continue;
    // Children come before their parents.
    cells[above] = cells[above]! + cells[node]!;
    heightSum[above] = heightSum[above]! + heightSum[node]!;
  }
  const inOrder = new Uint8Array(nodeCount + 2);
  return { cellAreaSquareMeters, cells, heightSum, capacityCubicMeters, start, heights, inOrder };
}

function countSome(
  z: Float32Array,
  labels: Int32Array,
  some: Int32Array,
  tree: DepressionTree,
  counts: Int32Array,
): void {
  for (let i = 0; i < some.length; i++) {
    const cell = some[i]!;
    counts[hollowOver(tree, labels[cell]!, z[cell]!)]!++;
  }
}

function placeSome(
  z: Float32Array,
  labels: Int32Array,
  some: Int32Array,
  tree: DepressionTree,
  next: Int32Array,
  heights: Float32Array,
): void {
  for (let i = 0; i < some.length; i++) {
    const cell = some[i]!;
    const height = z[cell]!;
    heights[next[hollowOver(tree, labels[cell]!, height)]!++] = height;
  }
}

/**
 * Height of the water in a hollow that holds so much of it, both its children full: metres.
 * -Infinity for no water. Throws RangeError for more than it holds (a hair's breadth aside).
 * Example: five cells that sum to 10, with 8 cell·m of water, stand at 3.6.
 */
export function levelOf(
  tree: DepressionTree,
  storage: HollowStorage,
  node: number,
  waterCubicMeters: number,
): number {
  const capacity = storage.capacityCubicMeters[node]!;
  if (waterCubicMeters > capacity * (1 + 1e-9) + 1e-9) {
    throw new RangeError(`hollow ${node} holds ${capacity} m³, not ${waterCubicMeters}`);
  }
  if (!(waterCubicMeters > 0)) return -Infinity;
  if (waterCubicMeters >= capacity) return tree.spillHeight[node]!;
  const { start, heights, inOrder } = storage;
  const own = heights.subarray(start[node]!, start[node + 1]!);
  if (inOrder[node] === 0) {
    own.sort();
    inOrder[node] = 1;
  }
  const water = waterCubicMeters / storage.cellAreaSquareMeters;
  let count = storage.cells[node]! - own.length;
  let sum = storage.heightSum[node]!;
  for (const height of own) sum -= height;
  for (let i = 0; ; i++) {
    // Under the next dry cell already: this is the level.
    const level = count === 0 ? -Infinity : (water + sum) / count;
    if (i === own.length || (count > 0 && level <= own[i]!)) return level;
    count++;
    sum += own[i]!;
  }
}
