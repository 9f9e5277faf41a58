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
  reads: ['answer:waterGround', 'answer:lowSpotSurface'],
  *compute(inputs): Work<FlowCatchments | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    if (!ground || !surface) return null;
    return yield* flowCatchments(ground.grid, surface.filled);
  },
};
