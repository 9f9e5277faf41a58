import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { Work } from '../work.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import { fingerprint } from './fingerprint.ts';
import { carriedKinds, isRaised, planOnGround } from './plan-on-ground.ts';

/** The surface that rain falls on, and what of the plan it carries. */
export interface WaterGround extends GroundInUse {
  readonly carries: readonly PlanFeature[];
}

/**
 * The ground that the water answers stand on: as surveyed, or with what is drawn laid on it and
 * cut into it. While it is taken as surveyed, no berm that is moved makes anything stale.
 */
export const waterGround: SiteDefinition = {
  name: 'waterGround',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['raster:ground', 'setting:waterOn', ...carriedKinds.map((k) => `features:${k}` as const)],
  *compute(inputs): Work<WaterGround | null> {
    const ground = inputs.raster('ground');
    if (!ground) return null;
    if (inputs.settings.waterOn === 'as-surveyed') return { ...ground, carries: [] };
    const carries = carriedOf(inputs);
    yield { share: 0.5, doing: 'laying the plan on the ground' };
    return { ...ground, grid: { ...ground.grid, data: planOnGround(ground, carries) }, carries };
  },
  seenAs(value) {
    const of = value as WaterGround | null;
    if (!of) return 'none';
    const { id, place } = of.record;
    return `${id}@${fingerprint(place)}+${of.carries.map(fingerprint).join(',')}`;
  },
};

/** Everything drawn that changes the ground under the water, by id. */
export function carriedOf(inputs: Inputs): PlanFeature[] {
  return carriedKinds
    .flatMap((kind) => inputs.features(kind))
    .filter((one) => isRaised(one) || isCut(one))
    .toSorted((a, b) => (a.id < b.id ? -1 : 1));
}

function isCut(one: PlanFeature): boolean {
  return isKind(one, 'ditch') || isKind(one, 'culvert') || isKind(one, 'outlet');
}

/**
 * The ground under the water, with what is known of its survey now (who uses that reads `record:ground`):
 * another date or error leaves the ground itself as it is, so what it was made with may be out of date.
 * Null without ground.
 */
export function waterGroundOf(inputs: Inputs): WaterGround | null {
  const made = inputs.answer('waterGround') as WaterGround | null;
  const ground = inputs.raster('ground');
  return made && ground && { ...made, record: ground.record };
}
