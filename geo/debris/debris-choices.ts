import type { PropertiesOf } from '../plan/kinds.ts';
import type { Settings } from '../plan/settings.ts';
import type { DebrisChoices } from './debris-mass.ts';
import { usualPiling, type Piling } from './debris-volume.ts';

/** What a plan says of its debris, for the kernels: the likely figure, and the usual doubt about it. */

/** As far about 0.7 as 0.5 and 0.9 lie: common practice, no source. */
const ROOTS_EITHER_WAY = 0.2;
const BRITTLE_MORE = 0.3;
/** More soil than that in a pile is a spoil heap. */
const MOST_SOIL = 0.6;

type MassSettings = Pick<Settings, 'rootShare' | 'brittleTops'>;

/**
 * Choices for the mass of one timber block.
 * Example: a root share of 0.7 is 0.5 to 0.9, a brittle-tops factor of 1 is 1 to 1.3.
 */
export function debrisChoices(
  { rootShare, brittleTops }: MassSettings,
  { stumps, tops, countErrorShare }: PropertiesOf<'timber-block'>,
): DebrisChoices {
  return {
    stumps,
    tops,
    countErrorShare,
    rootShare: {
      low: Math.max(0, rootShare - ROOTS_EITHER_WAY),
      likely: rootShare,
      high: Math.min(1, rootShare + ROOTS_EITHER_WAY),
    },
    brittleTops: {
      low: Math.max(1, brittleTops - BRITTLE_MORE),
      likely: brittleTops,
      high: brittleTops + BRITTLE_MORE,
    },
  };
}

type PilingSettings = Pick<Settings, 'packingRatio' | 'pileSoilShare' | 'truckLoadCubicMeters'>;

/**
 * How the debris is piled: low and high stand to the likely figure as those of `usualPiling` do.
 * Example: a packing ratio of 0.15 is 0.10 to 0.20, a soil share of 0.10 is 0.05 to 0.25.
 */
export function pilingChoices({
  packingRatio,
  pileSoilShare,
  truckLoadCubicMeters,
}: PilingSettings): Piling {
  const { packing, soilShare } = usualPiling;
  return {
    packing: {
      low: (packingRatio * packing.low) / packing.likely,
      likely: packingRatio,
      high: (packingRatio * packing.high) / packing.likely,
    },
    soilShare: {
      low: (pileSoilShare * soilShare.low) / soilShare.likely,
      likely: pileSoilShare,
      high: Math.min(MOST_SOIL, (pileSoilShare * soilShare.high) / soilShare.likely),
    },
    truckLoadCubicMeters,
  };
}
