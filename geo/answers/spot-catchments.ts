import { hollowCatchments, outermostOf } from '../water/hollow-catchments.ts';
import type { SurfaceCount } from '../water/storm.ts';
import type { StormGroundInUse } from './storm-ground.ts';

/** By label of the low spots 1 to `most`: cells that drain into each, over other hollows too. */
export function spotCatchments(
  { spotOf, tree }: StormGroundInUse,
  { cells, classCount }: SurfaceCount,
  most: number,
): Float64Array {
  const own = new Float64Array(tree.leafCount + 1);
  for (let i = 0; i < cells.length; i++) {
    const label = Math.floor(i / classCount);
    own[label] = own[label]! + cells[i]!;
  }
  const byNode = hollowCatchments(tree, own);
  const outermost = outermostOf(tree);
  const catchment = new Float64Array(most + 1);
  for (let label = 2; label <= tree.leafCount; label++) {
    const spot = spotOf[label]!;
    const node = outermost[label]!;
    if (spot === 0 || spot > most) continue;
    catchment[spot] = Math.max(catchment[spot]!, byNode[node]!);
  }
  return catchment;
}
