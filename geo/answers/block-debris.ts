import { debrisChoices } from '../debris/debris-choices.ts';
import { debrisMass, type DebrisMass } from '../debris/debris-mass.ts';
import { measurePolygon } from '../frame/geodesic.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import type { PlanFeature } from '../plan/feature.ts';
import type { Settings } from '../plan/settings.ts';
import type { Result } from '../result.ts';

export interface BlockDebris {
  readonly block: PlanFeature<'timber-block'>;
  /** On the ellipsoid. */
  readonly areaSquareMeters: number;
  readonly mass: Result<DebrisMass>;
}

/**
 * Dry debris of a timber block over its whole outline; null for one that stays standing, and for
 * an outline that encloses nothing or crosses itself.
 */
export function blockDebris(
  block: PlanFeature<'timber-block'>,
  settings: Settings,
): BlockDebris | null {
  const { geometry, properties } = block;
  if (properties.standing || geometry.type !== 'Polygon') return null;
  if (findOutlineFault(geometry.coordinates)) return null;
  const { areaSquareMeters } = measurePolygon(geometry.coordinates);
  if (!(areaSquareMeters > 0)) return null;
  const choices = debrisChoices(settings, properties);
  return { block, areaSquareMeters, mass: debrisMass(properties.tally, areaSquareMeters, choices) };
}
