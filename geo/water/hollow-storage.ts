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
  /**
   * Stretches of `hollowCells` that lie in one basin, in order: where each begins (and, last, where
   * all end), its basin and its lowest height. Water under that leaves a stretch dry.
   */
  readonly runStart: Int32Array;
  readonly runLabel: Int32Array;
  readonly runLowest: Float32Array;
  /** Heights of `hollowCells`, in their order. */
  readonly cellHeights: Float32Array;
}

/**
 * Work arrays of `hollowCellsOf` and `hollowStorage`: what these give lies in them, so keep them only
 * for a next run that takes the place of the last.
 */
export class StorageBuffers {
  hollowCells = new Int32Array(0);
  readonly runs = new HollowRuns();
  nodeOf = new Int32Array(0);
  heights = new Float32Array(0);

  fit(cells: number): void {
    this.runs.fit(cells);
    if (this.nodeOf.length >= cells) return;
    this.nodeOf = new Int32Array(cells);
    this.heights = new Float32Array(cells);
  }
}

/** Stretches of `hollowCells` as `HollowStorage` has them. */
class HollowRuns {
  count = 0;
  start = new Int32Array(0);
  label = new Int32Array(0);
  lowest = new Float32Array(0);
  heights = new Float32Array(0);

  fit(cells: number): void {
    this.count = 0;
    if (this.heights.length < cells) this.heights = new Float32Array(cells);
  }

  /** Room for so many more, and for one that only says where the last ends. */
  room(more: number): void {
    const { count, start, label, lowest } = this;
    if (start.length > count + more) return;
    const size = more + 1 + count + (count >> 2);
    this.start = new Int32Array(size);
    this.start.set(start);
    this.label = new Int32Array(size);
    this.label.set(label);
    this.lowest = new Float32Array(size);
    this.lowest.set(lowest);
  }
}

/** So many cells between two looks at the clock. */
const BAND = 1 << 16;

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
  buffers = new StorageBuffers(),
): Work<HollowStorage> {
  const { nodeCount } = tree;
  const cells = new Float64Array(nodeCount + 2);
  const heightSum = new Float64Array(nodeCount + 2);
  const counts = new Int32Array(nodeCount + 2);
  const wet = hollowCells.length;
  buffers.fit(wet);
  const { nodeOf, runs } = buffers;
  const lastNode = Int32Array.from({ length: tree.leafCount + 1 }, (_, label) => label);
  const own = { nodeOf, counts, heightSum, runs, lastNode, childSpill: childSpills(tree) };
  for (let from = 0; from < wet; from += BAND) {
    const to = Math.min(wet, from + BAND);
    runs.room(to - from);
    countSome(z, labels, hollowCells, tree, own, from, to);
    yield { share: (0.5 * from) / wet, doing: 'measuring hollows' };
  }
  const start = new Int32Array(nodeCount + 2);
  for (let node = 1; node <= nodeCount; node++) start[node + 1] = start[node]! + counts[node]!;
  const heights = buffers.heights.subarray(0, wet);
  const next = start.slice();
  for (let from = 0; from < wet; from += BAND) {
    placeSome(runs.heights, nodeOf, next, heights, from, Math.min(wet, from + BAND));
    yield { share: 0.5 + (0.5 * from) / wet, doing: 'measuring hollows' };
  }
  const capacityCubicMeters = new Float64Array(nodeCount + 2);
  for (let node = OCEAN + 1; node <= nodeCount; node++) {
    cells[node] = cells[node]! + counts[node]!;
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
  runs.room(0);
  const runStart = runs.start.subarray(0, runs.count + 1);
  runStart[runs.count] = wet;
  return {
    ...{ cellAreaSquareMeters, cells, heightSum, capacityCubicMeters, start, heights, inOrder },
    ...{
      runStart,
      runLowest: runs.lowest.subarray(0, runs.count),
      cellHeights: runs.heights.subarray(0, wet),
    },
    runLabel: runs.label.subarray(0, runs.count),
  };
}

/** What a node adds to its children's. */
interface OwnCells {
  /** By place in `hollowCells`: the node that the cell belongs to. */
  readonly nodeOf: Int32Array;
  readonly counts: Int32Array;
  readonly heightSum: Float64Array;
  readonly runs: HollowRuns;
  /** By label: the node that the cell looked at last belongs to, where the next one is looked for. */
  readonly lastNode: Int32Array;
  readonly childSpill: Float32Array;
}

/** By node: where its two children run over into each other; -Infinity for a basin. */
function childSpills({ nodeCount, leafCount, left, spillHeight }: DepressionTree): Float32Array {
  const spills = new Float32Array(nodeCount + 1).fill(-Infinity);
  for (let node = leafCount + 1; node <= nodeCount; node++)
    spills[node] = spillHeight[left[node]!]!;
  return spills;
}

function countSome(
  z: Float32Array,
  labels: Int32Array,
  hollowCells: Int32Array,
  tree: DepressionTree,
  { nodeOf, counts, heightSum, runs, lastNode, childSpill }: OwnCells,
  from: number,
  to: number,
): void {
  const { spillHeight } = tree;
  let run = -1;
  let runLabel = 0;
  let lowest = 0;
  for (let i = from; i < to; i++) {
    const cell = hollowCells[i]!;
    const height = z[cell]!;
    const label = labels[cell]!;
    let node = lastNode[label]!;
    if (spillHeight[node]! <= height) lastNode[label] = node = hollowOver(tree, node, height);
    else if (childSpill[node]! > height) lastNode[label] = node = hollowOver(tree, label, height);
    if (label !== runLabel) {
      if (run >= 0) runs.lowest[run] = lowest;
      run = runs.count++;
      runs.start[run] = i;
      runs.label[run] = label;
      runLabel = label;
      lowest = height;
    } else if (height < lowest) lowest = height;
    nodeOf[i] = node;
    runs.heights[i] = height;
    counts[node]!++;
    heightSum[node]! += height;
  }
  if (run >= 0) runs.lowest[run] = lowest;
}

function placeSome(
  cellHeights: Float32Array,
  nodeOf: Int32Array,
  next: Int32Array,
  heights: Float32Array,
  from: number,
  to: number,
): void {
  for (let i = from; i < to; i++) heights[next[nodeOf[i]!]!++] = cellHeights[i]!;
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
  const { start, heights, inOrder, heightSum } = storage;
  const end = start[node + 1]!;
  if (inOrder[node] === 0) {
    heights.subarray(start[node]!, end).sort();
    inOrder[node] = 1;
  }
  const water = waterCubicMeters / storage.cellAreaSquareMeters;
  // Its children's cells are under water; node 0, which a basin has for children, has none.
  let count = storage.cells[node]! - (end - start[node]!);
  let sum = heightSum[tree.left[node]!]! + heightSum[tree.right[node]!]!;
  for (let i = start[node]!; i < end; i++) {
    const next = heights[i]!;
    // Under the next dry cell already: this is the level. (Put so that nothing is divided.)
    if (count > 0 && water + sum <= next * count) break;
    count++;
    sum += next;
  }
  return (water + sum) / count;
}
