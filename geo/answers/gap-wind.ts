import { STAND_GAP_METERS } from '../debris/gap-needs.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import type { PlanFeature } from '../plan/feature.ts';
import type { Kind } from '../plan/kinds.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { shapeDistance, type PlaneShape } from '../plan/shape-distance.ts';
import type { Inputs, SiteDefinition } from './definition.ts';
import { firstPosition } from './first-position.ts';
import { inFrame, ringsInFrame } from './ground-inputs.ts';
import { lineInFrame } from './plan-on-ground.ts';

/** A map's metre may be up to 0.1 % off the ground's; so is the reach. */
const REACH_METERS = STAND_GAP_METERS[1] * 1.002;

/**
 * Where the wind comes from, degrees, as far as the gaps of drawn berms hang on it: null while it is
 * variable and while no stand is near enough to a berm for a gap of its own. How hard it blows changes
 * nothing, and a wind turned where no stand is near makes no gap stale.
 */
export const gapWind = windNear('gapWind', ['berm']);

/** The same for the berms that may be laid along or inside a plot or clearing. */
export const wayWind = windNear('wayWind', ['plot', 'clearing']);

function windNear(name: string, kinds: readonly Kind[]): SiteDefinition {
  return {
    name,
    per: 'site',
    shown: false,
    first: true,
    keep: 1,
    reads: [
      'condition:wind',
      ...kinds.map((kind) => `features:${kind}` as const),
      'features:stand',
    ],
    compute(inputs: Inputs): { done: number | null } {
      const { fromDegrees } = inputs.conditions.wind;
      const stands = inputs.features('stand');
      const places = kinds.flatMap((kind) => inputs.features(kind));
      const isNear = places.some((place) => stands.some((one) => near(place, one)));
      return { done: isNear ? fromDegrees : null };
    },
    seenAs: (value) => String(value),
  };
}

function near(place: PlanFeature, { geometry }: PlanFeature): boolean {
  if (geometry.type !== 'Point') return false;
  const [lng, lat] = firstPosition(place);
  const frame = zoneFrame(lng, lat);
  const shape = shapeOf(place, frame);
  const seat = inFrame(frame, geometry.coordinates);
  if (!shape || !seat) return false;
  return shapeDistance(shape, { kind: 'point', paths: [[seat as XY]] }).meters <= REACH_METERS;
}

function shapeOf(place: PlanFeature, frame: ReturnType<typeof zoneFrame>): PlaneShape | null {
  if (place.geometry.type === 'Polygon') {
    const rings = ringsInFrame(place, frame);
    return rings && { kind: 'area', paths: rings };
  }
  const line = lineInFrame({ frame }, place);
  return line && { kind: 'line', paths: [line] };
}
