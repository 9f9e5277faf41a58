import type { Grid } from '../raster/grid.ts';
import { fillBasins, findBasins, type Basins } from '../water/fill-basins.ts';
import { findLowSpots, type FilledSpots } from '../water/low-spots.ts';
import type { Work } from '../work.ts';
import { waterGroundOf } from './water-ground.ts';
import type { SiteDefinition } from './definition.ts';

/** The filled ground and which cell lies in which low spot: what the low-spot answers stand on. */
export interface LowSpotSurface extends FilledSpots {
  readonly filled: Float32Array;
  readonly basins: Basins;
}

export const lowSpotSurface: SiteDefinition = {
  name: 'lowSpotSurface',
  per: 'site',
  reads: ['answer:waterGround'],
  shown: false,
  // Two arrays as large as the ground: one is enough.
  keep: 1,
  *compute(inputs): Work<LowSpotSurface | null> {
    const ground = waterGroundOf(inputs);
    if (!ground) return null;
    return yield* makeLowSpotSurface(ground.grid);
  },
};

/** Basins, filled ground and low spots of a grid. */
export function* makeLowSpotSurface(grid: Grid): Work<LowSpotSurface> {
  const basins = yield* findBasins(grid);
  const filled = yield* fillBasins(grid, basins);
  return { filled, basins, ...(yield* findLowSpots(grid, filled)) };
}
