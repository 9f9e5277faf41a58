import { flowCatchments, type FlowCatchments } from '../water/flow-lines.ts';
import { fillBasins, findBasins } from '../water/fill-basins.ts';
import type { Work } from '../work.ts';
import type { SiteDefinition } from './definition.ts';

/** What drains through every cell of the ground as surveyed: no edit of a berm makes it stale. */
export const bareFlow: SiteDefinition = {
  name: 'bareFlow',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['raster:ground'],
  *compute(inputs): Work<FlowCatchments | null> {
    const ground = inputs.raster('ground');
    if (!ground) return null;
    const filled = yield* fillBasins(ground.grid, yield* findBasins(ground.grid));
    return yield* flowCatchments(ground.grid, filled);
  },
};
