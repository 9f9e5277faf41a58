import { normalFlow, type NormalFlow } from './manning.ts';
import type { NotchSection } from './notch-section.ts';
import {
  grassSpeedOnSlope,
  notchRoughness,
  permissibleSpeed,
  type ChannelCover,
  type ChannelSoil,
} from './permissible-speed.ts';

export interface CoverVerdict extends NormalFlow {
  readonly cover: ChannelCover;
  readonly permissibleMetersPerSecond: number;
  readonly holds: boolean;
}

export interface NotchFlow {
  /** From bare to good grass: the notch at its own grade. */
  readonly inNotch: readonly CoverVerdict[];
  /** The poorest cover under which the notch holds; null when it washes even under good grass. */
  readonly holdsFrom: ChannelCover | null;
  /** Below the notch, on the ground's own slope in grass; null where the water has no slope. */
  readonly atOutlet: OutletVerdict | null;
}

export interface OutletVerdict extends NormalFlow {
  readonly slopeRatio: number;
  /** Null over 10 % of slope, where no speed is given for grass: it does not hold. */
  readonly permissibleMetersPerSecond: number | null;
  readonly holds: boolean;
}

const covers: readonly ChannelCover[] = ['bare', 'poor-grass', 'fair-grass', 'good-grass'];

/**
 * Whether a notch stands its peak flow: even depth and mean speed by Manning under each cover,
 * against the fastest speed that the soil bears so (sources with the tables). At the outlet the
 * water is taken to keep to the notch's own width on the slope of the ground below, in good grass:
 * speeds are on the high side there, for it spreads.
 * Throws RangeError as `normalFlow`, and for a section without grade, whose water has no speed.
 */
export function notchFlow(
  cubicMetersPerSecond: number,
  section: NotchSection,
  soil: ChannelSoil,
  outletSlopeRatio: number,
): NotchFlow {
  const inNotch = covers.map((cover): CoverVerdict => {
    const n = notchRoughness(cover);
    const flow = normalFlow(cubicMetersPerSecond, section, section.gradeRatio, n);
    const permissibleMetersPerSecond = permissibleSpeed(soil, cover);
    const holds = flow.metersPerSecond <= permissibleMetersPerSecond;
    return { ...flow, cover, permissibleMetersPerSecond, holds };
  });
  return {
    inNotch,
    holdsFrom: inNotch.find((verdict) => verdict.holds)?.cover ?? null,
    atOutlet: outletSlopeRatio > 0 ? outlet(cubicMetersPerSecond, section, soil, outletSlopeRatio) : null, // prettier-ignore
  };
}

function outlet(
  cubicMetersPerSecond: number,
  section: NotchSection,
  soil: ChannelSoil,
  slopeRatio: number,
): OutletVerdict {
  const flow = normalFlow(cubicMetersPerSecond, section, slopeRatio, notchRoughness('good-grass'));
  const permissibleMetersPerSecond = grassSpeedOnSlope(soil, slopeRatio);
  const holds =
    permissibleMetersPerSecond !== null && flow.metersPerSecond <= permissibleMetersPerSecond;
  return { ...flow, slopeRatio, permissibleMetersPerSecond, holds };
}
