import { overviews } from '../raster/overviews.ts';
import type { Work } from '../work.ts';
import type { GroundInUse, SiteDefinition } from './definition.ts';

/** Cells are joined by twos until they are so wide: lines of sight and fire gain nothing by finer ones (ours). */
export const COARSE_METERS = 0.6;

/** The ground that stands see and shoot over: the survey, or its means where its cells are finer than 2 ft. */
export const sightGround: SiteDefinition = {
  name: 'sightGround',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['raster:ground'],
  *compute(inputs): Work<GroundInUse | null> {
    const ground = inputs.raster('ground');
    if (!ground) return null;
    const { grid } = ground;
    const cell = Math.min(grid.cellWidth, grid.cellHeight);
    const halvings = Math.ceil(Math.log2(COARSE_METERS / cell));
    if (!(halvings > 0)) return ground;
    const side = Math.ceil(Math.max(grid.width, grid.height) / 2 ** halvings);
    const levels = yield* overviews(grid, Math.max(1, side));
    return { ...ground, grid: levels.at(-1) ?? grid };
  },
};
