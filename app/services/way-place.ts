import { bermFootprint, heapFootprint } from '../../geo/debris/footprint.ts';
import { zoneFrame } from '../../geo/frame/zone-frame.ts';
import { isKind, type PlanFeature } from '../../geo/plan/feature.ts';
import { ringsToPlane } from '../../geo/plan/construct/plan-plane.ts';
import { overlay } from '../../geo/plan/overlay/overlay.ts';

/**
 * Berms and brush piles that lie on a plot or clearing, if only in part: what is newly laid there
 * takes their place. What is locked, or stands there and was taped, stays.
 */
export function takenPlaceOf(
  place: PlanFeature,
  features: Readonly<Record<string, PlanFeature>>,
): readonly PlanFeature[] {
  if (place.geometry.type !== 'Polygon') return [];
  const [lng, lat] = place.geometry.coordinates[0]![0]!;
  const frame = zoneFrame(lng, lat);
  const ground = { rings: ringsToPlane(frame, place.geometry), rule: 'even-odd' } as const;
  return Object.values(features).filter((feature) => {
    if (feature.locked) return false;
    const layer = footprintOf(feature, frame);
    return layer !== null && overlay([ground, layer], ([a, b]) => a! && b!).length > 0;
  });
}

function footprintOf(feature: PlanFeature, frame: ReturnType<typeof zoneFrame>) {
  try {
    if (isKind(feature, 'berm')) return bermFootprint(feature, frame);
    if (isKind(feature, 'heap') && !feature.properties.taped) return heapFootprint(feature, frame);
    return null;
  } catch (error) {
    // The frame has no place for it: half a world away.
    if (error instanceof RangeError) return null;
    throw error;
  }
}
