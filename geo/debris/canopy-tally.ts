import { ok, problem, type Result } from '../result.ts';
import type { CanopyTree } from './canopy-trees.ts';
import { badNumber } from './check-numbers.ts';
import { diameterOfHeight } from './height-diameter.ts';
import type { LowHigh } from './low-high.ts';
import type { SpeciesGroup } from './timber-mass.ts';

/** Trees of one class of height. */
export interface CanopyClass {
  readonly fromMeters: number;
  readonly toMeters: number;
  readonly stemsPerHectare: number;
  readonly meanHeightMeters: number;
  /** Of the mean tree, to be looked over; null where the group's curve has no such tree. */
  readonly suggestedDiameterMeters: LowHigh | null;
}

/** Trees of one height are about a quarter thinner and thicker (ours). */
const SCATTER = 0.25;

/**
 * Tree tops on a piece of ground as a tally to start from: stems a hectare by classes of height,
 * with diameters that the heights suggest for a species group. Not a tally: what stands under other
 * crowns is missing, so counts are a least (trade notes Q32: to a fifth of what shows).
 * Problems: `canopy-without-trees`, and values out of bounds.
 * Example: 40 tops of 20 m on 0.4 ha: 100 stems a hectare of 18 to 21 m.
 */
export function canopyTally(
  trees: readonly CanopyTree[],
  areaSquareMeters: number,
  group: SpeciesGroup,
  classMeters = 3,
): Result<CanopyClass[]> {
  const bad = badNumber({ 'area of the block': areaSquareMeters, 'width of a class': classMeters }, 0, 1e9, true); // prettier-ignore
  if (bad) return bad;
  if (trees.length === 0) {
    return problem(
      'canopy-without-trees',
      'No tree tops show in the canopy there.',
      'Count a strip instead, or check that the surface was flown in leaf.',
    );
  }
  const classes = new Map<number, number[]>();
  for (const { heightMeters } of trees) {
    const wrong = badNumber({ 'height of a tree': heightMeters }, 0, 130);
    if (wrong) return wrong;
    const key = Math.floor(heightMeters / classMeters);
    classes.set(key, [...(classes.get(key) ?? []), heightMeters]);
  }
  const rows: CanopyClass[] = [];
  for (const [key, heights] of [...classes].sort(([a], [b]) => a - b)) {
    const meanHeightMeters = heights.reduce((sum, h) => sum + h, 0) / heights.length;
    const diameter = diameterOfHeight(group, meanHeightMeters);
    if (!diameter.ok) return diameter;
    const likely = diameter.value;
    rows.push({
      fromMeters: key * classMeters,
      toMeters: (key + 1) * classMeters,
      stemsPerHectare: (heights.length * 10_000) / areaSquareMeters,
      meanHeightMeters,
      suggestedDiameterMeters: likely === null ? null : { low: likely * (1 - SCATTER), likely, high: likely * (1 + SCATTER) }, // prettier-ignore
    });
  }
  return ok(rows);
}
