import { OCEAN } from './basin-labels.ts';
import type { BasinPasses } from './basin-passes.ts';

/**
 * The hierarchy of hollows as a forest in flat arrays. Nodes 2 … `leafCount` are the basins by
 * label; every later node is two hollows that have met at their common pass. Children come before
 * parents. Index 0 is nobody, 1 the ocean.
 */
export interface DepressionTree {
  readonly nodeCount: number;
  /** Highest label; nodes above it are unions. */
  readonly leafCount: number;
  /** 0 where the node runs over into ground that drains off the site. */
  readonly parent: Int32Array;
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** Height at which the node runs over. */
  readonly spillHeight: Float32Array;
  /** Basin (label) that it runs over into; `OCEAN` for straight off the site. */
  readonly spillsInto: Int32Array;
  /** An ancestor some way up, so that climbing takes a logarithm of the steps. */
  readonly jump: Int32Array;
}

/**
 * Joins basins at their passes from the lowest up: two hollows that meet become one, a hollow that
 * meets the ocean is done. Passes must be sorted as `basinPasses` gives them; equal passes are taken
 * in that order, so ties go to the lowest index.
 * Source: Barnes, Callaghan & Wickert 2020, Earth Surf. Dynam. 8:431–445 (the hierarchy), by
 * Kruskal's method on the basin graph. A tree of n basins has at most 2n - 1 nodes.
 */
export function depressionTree(passes: BasinPasses, labelCount: number): DepressionTree {
  const size = Math.max(2, 2 * labelCount) + 1;
  const parent = new Int32Array(size);
  const left = new Int32Array(size);
  const right = new Int32Array(size);
  const spillHeight = new Float32Array(size).fill(Infinity);
  const spillsInto = new Int32Array(size);
  const up = Int32Array.from({ length: labelCount + 1 }, (_, i) => i);
  /** Of a union's root label: the node that stands for it now. */
  const nodeOf = Int32Array.from(up);
  const root = (label: number): number => {
    while (up[label] !== label) label = up[label] = up[up[label]!]!;
    return label;
  };
  let nodes = labelCount;
  for (let i = 0; i < passes.count; i++) {
    const low = passes.low[i]!;
    const high = passes.high[i]!;
    const a = root(low);
    const b = root(high);
    if (a === b) continue;
    const nodeA = nodeOf[a]!;
    const nodeB = nodeOf[b]!;
    if (nodeA !== OCEAN) {
      spillHeight[nodeA] = passes.height[i]!;
      spillsInto[nodeA] = high;
    }
    if (nodeB !== OCEAN) {
      spillHeight[nodeB] = passes.height[i]!;
      spillsInto[nodeB] = low;
    }
    up[b] = a;
    if (nodeA === OCEAN || nodeB === OCEAN) {
      nodeOf[a] = OCEAN;
      continue;
    }
    nodes++;
    left[nodes] = nodeA;
    right[nodes] = nodeB;
    parent[nodeA] = nodes;
    parent[nodeB] = nodes;
    nodeOf[a] = nodes;
  }
  const jump = jumps(parent, nodes);
  return {
    nodeCount: nodes,
    leafCount: labelCount,
    ...{ parent, left, right, spillHeight, spillsInto, jump },
  };
}

/** Jump pointers (Myers 1983): a node jumps as far as its parent twice over when those are equal. */
function jumps(parent: Int32Array, nodes: number): Int32Array {
  const jump = new Int32Array(parent.length);
  const depth = new Int32Array(parent.length);
  for (let node = nodes; node > OCEAN; node--) {
    const above = parent[node]!;
    if (above === 0) {
      jump[node] = node;
      continue;
    }
    depth[node] = depth[above]! + 1;
    const far = jump[above]!;
    const farther = jump[far]!;
    const equal = depth[above]! - depth[far]! === depth[far]! - depth[farther]!;
    jump[node] = equal ? farther : above;
  }
  return jump;
}

/**
 * The lowest hollow on the way up from a basin that holds water over a cell of height `z`; 0 where
 * none does, because even the last runs over at or below it.
 */
export function hollowOver(tree: DepressionTree, label: number, z: number): number {
  const { parent, jump, spillHeight } = tree;
  let node = label;
  while (spillHeight[node]! <= z) {
    const far = jump[node]!;
    const next = far !== node && spillHeight[far]! <= z ? far : parent[node]!;
    if (next === 0) return 0;
    node = next;
  }
  return node;
}
