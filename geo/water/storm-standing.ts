import { OCEAN } from './basin-labels.ts';
import type { DepressionTree } from './depression-tree.ts';
import { levelOf, type HollowStorage } from './hollow-storage.ts';

/** Where a storm's water has come to rest. */
export interface StandingWater {
  /** By basin label: height of the water that stands in it, -Infinity for none. */
  readonly levels: Float64Array;
  readonly standingCubicMeters: number;
  readonly leftSiteCubicMeters: number;
}

/**
 * Lets runoff come to rest: each basin gets what its ground sheds, a full hollow runs over into the
 * one beyond its pass, two full ones that run into each other become one. The order of work makes
 * no difference. Every cubic metre stands or leaves.
 * `runoffCubicMeters` by label, `OCEAN` included (that part leaves at once). Source: Barnes,
 * Callaghan & Wickert 2021, Earth Surf. Dynam. 9:105–121 (fill–spill–merge), done with a union-find
 * in place of their recursion. Throws RangeError for runoff that is negative or not finite.
 */
export function standingWater(
  tree: DepressionTree,
  storage: HollowStorage,
  runoffCubicMeters: Float64Array,
): StandingWater {
  const { nodeCount, leafCount, parent, left, right, spillsInto } = tree;
  const capacity = storage.capacityCubicMeters;
  const water = new Float64Array(nodeCount + 1);
  /** Union-find over nodes: the widest hollow that this one is part of now. */
  const widest = Int32Array.from({ length: nodeCount + 1 }, (_, i) => i);
  const find = (node: number): number => {
    while (widest[node] !== node) node = widest[node] = widest[widest[node]!]!;
    return node;
  };
  let leftSite = runoffCubicMeters[OCEAN] ?? 0;
  const over: number[] = [];
  for (let label = OCEAN; label <= leafCount; label++) {
    const runoff = runoffCubicMeters[label]!;
    if (!(runoff >= 0 && runoff < Infinity)) {
      throw new RangeError(`runoff of basin ${label} is ${runoff}`);
    }
    if (label === OCEAN) continue;
    water[label] = runoff;
    if (runoff > capacity[label]!) over.push(label);
  }
  while (over.length > 0) {
    const node = find(over.pop()!);
    const excess = water[node]! - capacity[node]!;
    if (!(excess > 0)) continue;
    const into = spillsInto[node]!;
    if (into <= OCEAN) {
      leftSite += excess;
      water[node] = capacity[node]!;
      continue;
    }
    const target = find(into);
    const above = parent[node]!;
    const sibling = above !== 0 && (target === left[above] || target === right[above]);
    if (sibling && water[target]! >= capacity[target]!) {
      water[above] = water[node]! + water[target]!;
      widest[node] = above;
      widest[target] = above;
      if (water[above]! > capacity[above]!) over.push(above);
      continue;
    }
    water[node] = capacity[node]!;
    water[target] = water[target]! + excess;
    if (water[target]! > capacity[target]!) over.push(target);
  }
  const levels = new Float64Array(leafCount + 1).fill(-Infinity);
  const levelByNode = new Float64Array(nodeCount + 1).fill(NaN);
  let standing = 0;
  for (let label = OCEAN + 1; label <= leafCount; label++) {
    const node = find(label);
    if (Number.isNaN(levelByNode[node]!)) {
      levelByNode[node] = levelOf(tree, storage, node, water[node]!);
      standing += water[node]!;
    }
    levels[label] = levelByNode[node]!;
  }
  return { levels, standingCubicMeters: standing, leftSiteCubicMeters: leftSite };
}
