import { flowCatchments, type FlowCatchments } from '../water/flow-lines.ts';
import type { Work } from '../work.ts';
import type { SiteDefinition } from './definition.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { waterGroundOf } from './water-ground.ts';

/** What drains through every cell of the ground that the water runs over, filled. */
export const siteFlow: SiteDefinition = {
  name: 'siteFlow',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['answer:waterGround', 'answer:lowSpotSurface', 'answer:bareFlow'],
  *compute(inputs): Work<FlowCatchments | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    if (!ground || !surface) return null;
    // Nothing lies on it: it is the ground as surveyed.
    if (ground.carries.length === 0) return inputs.answer('bareFlow') as FlowCatchments | null;
    return yield* flowCatchments(ground.grid, surface.filled);
  },
};
