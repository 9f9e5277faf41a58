import type { Work } from '../work.ts';
import { waterGroundOf } from './water-ground.ts';
import type { LowSpot } from './answers.ts';
import type { GroundInUse, SiteDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding, listedDepth } from './ground-inputs.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { surveyQuality, type SurveySaid } from './survey-quality.ts';

/** A listed low spot and its label in the surface. */
interface ListedSpot extends LowSpot {
  readonly label: number;
}

/** Hollows that the set limits would list, but shallower than the survey's error. */
export interface LeftOutSpots {
  readonly count: number;
  readonly errorMeters: number;
  /** Else it is assumed from the cell size. */
  readonly errorIsStated: boolean;
}

export interface ListedLowSpots {
  readonly spots: readonly ListedSpot[];
  readonly minDepthMeters: number;
  readonly minAreaSquareMeters: number;
  readonly leftOut: LeftOutSpots;
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
    const { listMinDepthMeters, listMinAreaSquareMeters } = inputs.settings;
    return yield* listSpots(ground, surface, listMinDepthMeters, listMinAreaSquareMeters);
  },
};

/** What the list goes by. */
export interface ListingGround extends Pick<GroundInUse, 'grid' | 'frame'> {
  /** Of the survey: its error and cells. */
  readonly record: SurveySaid;
}

/**
 * Spots at or over both limits (metres, square metres), and none shallower than the survey's error,
 * stated or assumed; by volume, named P1, P2 … The one rule of page and command line.
 */
export function* listSpots(
  { grid, frame, record }: ListingGround,
  surface: LowSpotSurface,
  setDepthMeters: number,
  minAreaSquareMeters: number,
): Work<ListedLowSpots> {
  const { verticalErrorMeters, verticalErrorIsStated } = surveyQuality(record);
  const minDepthMeters = listedDepth(setDepthMeters, record);
  const listed: ListedSpot[] = [];
  let count = 0;
  for (const [i, spot] of surface.spots.entries()) {
    if (i % 1024 === 1023) yield { share: i / surface.spots.length, doing: 'listing low spots' };
    if (spot.maxDepthMeters < setDepthMeters || spot.areaSquareMeters < minAreaSquareMeters) {
      continue;
    }
    if (spot.maxDepthMeters < minDepthMeters) {
      count++;
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
  const leftOut = { count, errorMeters: verticalErrorMeters, errorIsStated: verticalErrorIsStated };
  return { spots: listed, minDepthMeters, minAreaSquareMeters, leftOut };
}

/** What is said of hollows that the survey's error hides: urgent where nobody stated that error. */
export function leftOutFindings({ count, errorMeters, errorIsStated }: LeftOutSpots): Finding[] {
  if (count === 0) return [];
  const values = { depthMeters: errorMeters, count };
  return [
    errorIsStated
      ? finding('note', 'low-spots-within-error', [], values)
      : finding('caution', 'low-spots-error-assumed', [], values),
  ];
}
