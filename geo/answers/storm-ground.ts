import { depressionTree } from '../water/depression-tree.ts';
import { hollowStorage } from '../water/hollow-storage.ts';
import { hollowCellsOf, type StormGround } from '../water/storm.ts';
import type { Grid } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import { waterGroundOf } from './water-ground.ts';
import type { SiteDefinition } from './definition.ts';
import { spotBoxes } from './low-spot-outline.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';

export interface StormGroundInUse extends StormGround {
  /** Left, top, right, bottom cell of each spot. */
  readonly boxes: Int32Array;
  /** By basin label: label of the low spot that it is part of; 0 for none. */
  readonly spotOf: Int32Array;
}

/** The hierarchy of hollows and what each holds: whatever does not depend on the storm. */
export const stormGround: SiteDefinition = {
  name: 'stormGround',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['answer:lowSpotSurface', 'answer:waterGround'],
  *compute(inputs): Work<StormGroundInUse | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    if (!ground || !surface) return null;
    return yield* makeStormGround(ground.grid, surface);
  },
};

/** The hierarchy and storage of a ground with its basins and low spots. */
export function* makeStormGround(grid: Grid, surface: LowSpotSurface): Work<StormGroundInUse> {
  const { labels, levels, passes, count } = surface.basins;
  const tree = depressionTree(passes, count);
  const area = grid.cellGroundAreaSquareMeters;
  const hollowCells = yield* hollowCellsOf(grid.data, labels, levels);
  const storage = yield* hollowStorage(grid.data, labels, hollowCells, tree, area);
  const spotOf = new Int32Array(count + 1);
  for (const cell of hollowCells) spotOf[labels[cell]!] = surface.labels[cell]!;
  const boxes = yield* spotBoxes(surface.labels, grid.width, surface.spots.length);
  return {
    ...{ z: grid.data, labels, tree, storage, hollowCells, cellAreaSquareMeters: area },
    ...{ boxes, spotOf },
  };
}
