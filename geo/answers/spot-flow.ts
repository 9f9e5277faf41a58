import type { FlowCatchments } from '../water/flow-lines.ts';
import { spotWays, type SpotWays } from '../water/spot-ways.ts';
import type { Work } from '../work.ts';
import type { SiteDefinition } from './definition.ts';
import type { ListedLowSpots } from './listed-low-spots.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import type { SurfaceClasses } from './surface-classes.ts';
import { waterGroundOf } from './water-ground.ts';
import { MOST_WAYS } from './ways-out.ts';

/** Catchments and longest ways of the spots that a way out is sought for: nothing of the rain. */
export const spotFlow: SiteDefinition = {
  name: 'spotFlow',
  per: 'site',
  shown: false,
  keep: 1,
  reads: [
    'answer:waterGround',
    'answer:lowSpotSurface',
    'answer:listedLowSpots',
    'answer:siteFlow',
  ],
  *compute(inputs): Work<SpotWays | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    const flow = inputs.answer('siteFlow') as FlowCatchments | null;
    if (!ground || !surface || !list || !flow) return null;
    const labels = list.spots.slice(0, MOST_WAYS).map(({ label }) => label);
    if (labels.length === 0) return { ways: [] };
    return yield* spotWays(ground.grid, surface.filled, flow, surface.labels, labels);
  },
};

/** What the catchment of a spot is covered with. */
interface SpotCover {
  /** Cells of the catchment by class of `surfaceClasses`. */
  readonly cellsByClass: Int32Array;
  /** Class where the notch begins, and where the longest way does. */
  readonly classAtSpot: number;
  readonly classAtHead: number;
}

/** Classes of surface in each spot's catchment, in the order of the list. */
export const spotCovers: SiteDefinition = {
  name: 'spotCovers',
  per: 'site',
  shown: false,
  keep: 2,
  reads: [
    'answer:spotFlow',
    'answer:surfaceClasses',
    'answer:lowSpotSurface',
    'answer:listedLowSpots',
  ],
  *compute(inputs): Work<readonly SpotCover[] | null> {
    const flow = inputs.answer('spotFlow') as SpotWays | null;
    const soils = inputs.answer('surfaceClasses') as SurfaceClasses | null;
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    if (!flow || !soils || !surface || !list) return null;
    const counts: Int32Array[] = [];
    for (const [k, { catchmentCells }] of flow.ways.entries()) {
      const cellsByClass = new Int32Array(soils.classes.length);
      for (const cell of catchmentCells) cellsByClass[soils.classOf[cell]!]!++;
      counts.push(cellsByClass);
      yield { share: (k + 1) / flow.ways.length, doing: 'seeing what catchments are covered with' };
    }
    return flow.ways.map(({ farthestCell }, k) => {
      const { deepestCell } = surface.spots[list.spots[k]!.label - 1]!;
      return {
        cellsByClass: counts[k]!,
        classAtSpot: soils.classOf[deepestCell]!,
        classAtHead: soils.classOf[farthestCell]!,
      };
    });
  },
};

export type SpotCovers = readonly SpotCover[];
