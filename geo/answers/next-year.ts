import { drawnVolume } from '../debris/burn-remnant.ts';
import { bermFootprint, heapFootprint } from '../debris/footprint.ts';
import { secondYear, usualPasses, type Burned, type SecondYear } from '../estimate/second-year.ts';
import type { Dozer } from '../estimate/dirt-minutes.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { frameMetersPerGroundMeter, planeArea } from '../plan/construct/plan-plane.ts';
import { overlay } from '../plan/overlay/overlay.ts';
import type { Settings } from '../plan/settings.ts';
import { firstPosition } from './first-position.ts';
import { burns } from './takings.ts';

/** Share of the volume either way of the likely one that burns: 75 to 95 % about 90 % or so. */
const BURNS_EITHER_WAY = 0.1;

export function dozerOf(settings: Settings): Dozer {
  return {
    bladeLoadCubicMeters: settings.dozerBladeLoadCubicMeters,
    bladeWidthMeters: settings.dozerBladeWidthMeters,
    operator: settings.dozerOperator,
  };
}

/**
 * What the year after brings where some of these berms and heaps burn; null where none does. The
 * share that burns is of the whole volume, as for the acres of next fall.
 */
export function nextYearOf(
  features: readonly PlanFeature<'berm' | 'heap'>[],
  settings: Settings,
): SecondYear | null {
  const burned = features.filter(burns).flatMap((feature) => burnedOf(feature) ?? []);
  if (burned.length === 0) return null;
  const likely = settings.burnConsumedShare;
  const made = secondYear(burned, {
    consumption: {
      low: Math.max(0, likely - BURNS_EITHER_WAY),
      likely,
      high: Math.min(1, likely + BURNS_EITHER_WAY / 2),
    },
    soilShare: 0,
    maxHeightMeters: settings.bermMaxHeightMeters,
    dozer: dozerOf(settings),
    passes: usualPasses,
  });
  return made.ok ? made.value : null;
}

function burnedOf(feature: PlanFeature<'berm' | 'heap'>): Burned | null {
  const cubicMeters = drawnVolume(feature);
  const [lng, lat] = firstPosition(feature);
  const frame = zoneFrame(lng, lat);
  const layer = isKind(feature, 'berm') ? bermFootprint(feature, frame) : heapFootprint(feature as PlanFeature<'heap'>, frame); // prettier-ignore
  if (cubicMeters === null || !layer) return null;
  const scale = frameMetersPerGroundMeter(frame, layer.rings[0]![0]!);
  const parts = overlay([layer], ([inside]) => inside!);
  const groundSquareMeters = parts.reduce((sum, part) => sum + planeArea(part), 0) / scale ** 2;
  // A quarter of a windrow's length is the mean way to its middle.
  const pushMeters = feature.geometry.type === 'LineString' ? lineLengthMeters(feature.geometry.coordinates) / 4 : 0; // prettier-ignore
  return { cubicMeters, groundSquareMeters, pushMeters };
}
