import { normalFlow } from './manning.ts';
import type { NotchSection } from './notch-section.ts';
import { notchRoughness, permissibleSpeed, type ChannelCover, type ChannelSoil } from './permissible-speed.ts'; // prettier-ignore

const FOOT = 0.3048;
/** Wider than this it is no notch, feet. */
const WIDEST = 60;

/**
 * The least bottom, in whole feet and no narrower than the notch's own, at which a flow keeps under
 * the permissible speed of a cover and runs no deeper than `mostDepthMeters`; metres. Null where
 * 60 ft do not do.
 * Throws RangeError as `normalFlow`.
 */
export function widerBottomMeters(
  cubicMetersPerSecond: number,
  section: NotchSection,
  soil: ChannelSoil,
  cover: ChannelCover,
  mostDepthMeters: number,
): number | null {
  const fastest = permissibleSpeed(soil, cover);
  for (let feet = Math.ceil(section.bottomWidthMeters / FOOT - 1e-9); feet <= WIDEST; feet++) {
    const channel = { ...section, bottomWidthMeters: feet * FOOT };
    const flow = normalFlow(cubicMetersPerSecond, channel, section.gradeRatio, notchRoughness(cover)); // prettier-ignore
    if (flow.metersPerSecond <= fastest && flow.depthMeters <= mostDepthMeters) return feet * FOOT;
  }
  return null;
}
