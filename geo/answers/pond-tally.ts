import type { StormGround } from '../water/storm.ts';

/** Water in each low spot: by label, from 1; index 0 is nobody. */
export interface PondTally {
  readonly cells: Float64Array;
  /** Summed depths, metres: times the cell's area, the volume. */
  readonly depthSums: Float64Array;
  /** Greatest depth, metres. */
  readonly depths: Float64Array;
}

/**
 * Adds up what stands in the low spots 1 to `most`. `spots` gives the spot of each cell, `levels`
 * the height of the water by basin, -Infinity for none.
 */
export function pondTally(
  { z, labels, hollowCells }: StormGround,
  spots: Int32Array,
  levels: Float64Array,
  most: number,
): PondTally {
  const cells = new Float64Array(most + 1);
  const depthSums = new Float64Array(most + 1);
  const depths = new Float64Array(most + 1);
  for (let i = 0; i < hollowCells.length; i++) {
    const cell = hollowCells[i]!;
    const spot = spots[cell]!;
    const depth = levels[labels[cell]!]! - z[cell]!;
    if (!(depth > 0) || spot > most) continue;
    cells[spot]!++;
    depthSums[spot] = depthSums[spot]! + depth;
    if (depth > depths[spot]!) depths[spot] = depth;
  }
  return { cells, depthSums, depths };
}
