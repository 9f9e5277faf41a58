import type { Work } from '../work.ts';
import { waterGroundOf } from './water-ground.ts';
import type { LowSpot } from './answers.ts';
import type { GroundInUse, SiteDefinition } from './definition.ts';
import { listedDepthMeters } from './ground-inputs.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';

/** A listed low spot and its label in the surface. */
interface ListedSpot extends LowSpot {
  readonly label: number;
}

export interface ListedLowSpots {
  readonly spots: readonly ListedSpot[];
  readonly minDepthMeters: number;
  readonly minAreaSquareMeters: number;
}

/** The low spots that are deep and large enough to be named: what the site and its plots share. */
export const listedLowSpots: SiteDefinition = {
  name: 'listedLowSpots',
  per: 'site',
  shown: false,
  reads: [
    'answer:lowSpotSurface',
    'answer:waterGround',
    'record:ground',
    'setting:listMinDepthMeters',
    'setting:listMinAreaSquareMeters',
  ],
  *compute(inputs): Work<ListedLowSpots | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    if (!ground || !surface) return null;
    const minDepthMeters = listedDepthMeters(inputs, ground);
    const minAreaSquareMeters = inputs.settings.listMinAreaSquareMeters;
    const spots = yield* listSpots(ground, surface, minDepthMeters, minAreaSquareMeters);
    return { spots, minDepthMeters, minAreaSquareMeters };
  },
};

/** Spots at or over both limits (metres, square metres), by volume, named P1, P2 … */
export function* listSpots(
  ground: Pick<GroundInUse, 'grid' | 'frame'>,
  surface: LowSpotSurface,
  minDepthMeters: number,
  minAreaSquareMeters: number,
): Work<ListedSpot[]> {
  const { grid, frame } = ground;
  const listed: ListedSpot[] = [];
  for (const [i, spot] of surface.spots.entries()) {
    if (i % 1024 === 1023) yield { share: i / surface.spots.length, doing: 'listing low spots' };
    if (spot.maxDepthMeters < minDepthMeters || spot.areaSquareMeters < minAreaSquareMeters) {
      continue;
    }
    const row = Math.floor(spot.deepestCell / grid.width);
    const column = spot.deepestCell - row * grid.width;
    listed.push({
      id: `P${listed.length + 1}`,
      label: i + 1,
      areaSquareMeters: spot.areaSquareMeters,
      volumeCubicMeters: spot.volumeCubicMeters,
      maxDepthMeters: spot.maxDepthMeters,
      spillElevationMeters: spot.spillElevationMeters,
      deepestAt: frame.toLngLat(
        grid.west + (column + 0.5) * grid.cellWidth,
        grid.north - (row + 0.5) * grid.cellHeight,
      ),
    });
  }
  return listed;
}
