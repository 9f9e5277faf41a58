import { OCEAN } from './basin-labels.ts';
import type { DepressionTree } from './depression-tree.ts';

/**
 * Cells that drain into each outermost hollow: its own basins, and those of every hollow that runs
 * over into it, and so on up. By node; 0 for nodes that are part of another. `ownCells` by label.
 * Each eight-neighbour drop goes one way, so on a smooth swale this is a share of what multiple
 * flow would bring (issue of the method, not of the rain).
 */
export function hollowCatchments(tree: DepressionTree, ownCells: Float64Array): Float64Array {
  const { nodeCount, leafCount, parent, spillsInto } = tree;
  const outermost = outermostOf(tree);
  const catchment = new Float64Array(nodeCount + 1);
  for (let label = OCEAN + 1; label <= leafCount; label++) {
    const node = outermost[label]!;
    catchment[node] = catchment[node]! + ownCells[label]!;
  }
  const into = new Int32Array(nodeCount + 1);
  const waiting = new Int32Array(nodeCount + 1);
  for (let node = OCEAN + 1; node <= nodeCount; node++) {
    if (parent[node] !== 0 || spillsInto[node]! <= OCEAN) continue;
    into[node] = outermost[spillsInto[node]!]!;
    waiting[into[node]!]!++;
  }
  const ready: number[] = [];
  for (let node = OCEAN + 1; node <= nodeCount; node++) {
    if (parent[node] === 0 && waiting[node] === 0) ready.push(node);
  }
  while (ready.length > 0) {
    const node = ready.pop()!;
    const next = into[node]!;
    if (next === 0) continue;
    catchment[next] = catchment[next]! + catchment[node]!;
    if (--waiting[next]! === 0) ready.push(next);
  }
  return catchment;
}

/** By node: the widest hollow that it is part of. */
export function outermostOf({ nodeCount, parent }: DepressionTree): Int32Array {
  const outermost = new Int32Array(nodeCount + 1);
  // Children come before their parents.
  for (let node = nodeCount; node > OCEAN; node--) {
    outermost[node] = parent[node] === 0 ? node : outermost[parent[node]!]!;
  }
  return outermost;
}
