import { STAND_GAP_METERS } from '../debris/gap-needs.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import type { PlanFeature } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { shapeDistance } from '../plan/shape-distance.ts';
import type { SiteDefinition } from './definition.ts';
import { inFrame } from './ground-inputs.ts';
import { lineInFrame } from './plan-on-ground.ts';

/** A map's metre may be up to 0.1 % off the ground's; so is the reach. */
const REACH_METERS = STAND_GAP_METERS[1] * 1.002;

/**
 * Where the wind comes from, degrees, as far as the gaps of berms hang on it: null while it is variable
 * and while no stand is near enough to a berm for a gap of its own. How hard it blows changes nothing,
 * and a wind turned where no stand is near makes no gap stale.
 */
export const gapWind: SiteDefinition = {
  name: 'gapWind',
  per: 'site',
  shown: false,
  first: true,
  keep: 1,
  reads: ['condition:wind', 'features:berm', 'features:stand'],
  compute(inputs): { done: number | null } {
    const { fromDegrees } = inputs.conditions.wind;
    const stands = inputs.features('stand');
    const isNear = inputs.features('berm').some((berm) => stands.some((one) => near(berm, one)));
    return { done: isNear ? fromDegrees : null };
  },
  seenAs: (value) => String(value),
};

function near(berm: PlanFeature, { geometry }: PlanFeature): boolean {
  if (berm.geometry.type !== 'LineString' || geometry.type !== 'Point') return false;
  const [lng, lat] = berm.geometry.coordinates[0]!;
  const frame = zoneFrame(lng, lat);
  const line = lineInFrame({ frame }, berm);
  const seat = inFrame(frame, geometry.coordinates);
  if (!line || !seat) return false;
  const at = { kind: 'point', paths: [[seat as XY]] } as const;
  return shapeDistance({ kind: 'line', paths: [line] }, at).meters <= REACH_METERS;
}
