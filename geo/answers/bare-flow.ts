import { flowCatchments } from '../water/flow-lines.ts';
import { fillBasins, findBasins } from '../water/fill-basins.ts';
import type { Work } from '../work.ts';
import type { SiteDefinition } from './definition.ts';
import { isRaised } from './plan-on-ground.ts';

/** What drains through every cell of the ground as surveyed, square metres; NaN without data. */
export interface BareFlow {
  readonly areaSquareMeters: Float64Array;
}

/** Whether anything drawn stands in the way of water. */
export const anyDam: SiteDefinition = {
  name: 'anyDam',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['features:berm', 'features:heap', 'features:structure'],
  compute(inputs): { done: boolean } {
    const drawn = (['berm', 'heap', 'structure'] as const).flatMap((kind) => inputs.features(kind));
    return { done: drawn.some(isRaised) };
  },
  seenAs: String,
};

/** Flow over the ground as surveyed: no edit of a berm makes it stale. */
export const bareFlow: SiteDefinition = {
  name: 'bareFlow',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['raster:ground', 'answer:anyDam'],
  *compute(inputs): Work<BareFlow | null> {
    const ground = inputs.raster('ground');
    if (!ground || inputs.answer('anyDam') !== true) return null;
    const filled = yield* fillBasins(ground.grid, yield* findBasins(ground.grid));
    const { areaSquareMeters } = yield* flowCatchments(ground.grid, filled);
    return { areaSquareMeters };
  },
};
