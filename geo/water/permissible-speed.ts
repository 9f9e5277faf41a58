export type ChannelSoil = 'sandy-or-silty' | 'clay-loam' | 'clay';
export type ChannelCover = 'bare' | 'poor-grass' | 'fair-grass' | 'good-grass';

const FOOT = 0.3048;

type Row = Readonly<Record<ChannelCover, number>>;
const row = (bare: number, poor: number, fair: number, good: number): Row => ({
  bare,
  'poor-grass': poor,
  'fair-grass': fair,
  'good-grass': good,
});

/**
 * Feet a second. Rows: sand, silt, sandy loam and silty loam; sandy clay loam and silty clay loam;
 * clay. Source: Minnesota Stormwater Manual, "Maximum runoff velocity (feet per second) for a berm
 * based on soil type" (public page of the state's pollution control agency).
 */
const feetPerSecond: Readonly<Record<ChannelSoil, Row>> = {
  'sandy-or-silty': row(1.5, 1.5, 2, 3),
  'clay-loam': row(2, 2.5, 3, 4),
  clay: row(2.5, 3, 4, 5),
};

/**
 * Manning's n of a notch. Source: Chow 1959, table 5-6, excavated earth, from memory: newly made
 * 0.016–0.020, winding and sluggish with grass and some weeds 0.025–0.033, with dense weeds
 * 0.030–0.040. Thin water in tall grass is rougher still: these give its speed on the safe side,
 * and its depth too low.
 */
const roughness: Row = row(0.02, 0.025, 0.03, 0.035);

/** Fastest mean speed that a soil under a cover bears, metres a second. Bare silt loam: 1.5 ft/s. */
export function permissibleSpeed(soil: ChannelSoil, cover: ChannelCover): number {
  return feetPerSecond[soil][cover] * FOOT;
}

/** Manning's n of a notch under a cover. */
export function notchRoughness(cover: ChannelCover): number {
  return roughness[cover];
}

/**
 * Fastest mean speed for a stand of mixed grasses on a slope, metres a second; null over 10 %,
 * where none is given. Source: USDA SCS, TP-61 *Handbook of Channel Design for Soil and Water
 * Conservation*, grass mixtures: 5 and 4 ft/s to 5 %, 4 and 3 ft/s to 10 % (erosion-resistant and
 * easily eroded soils), as printed in a county's code. Clay counts as resistant.
 */
export function grassSpeedOnSlope(soil: ChannelSoil, slopeRatio: number): number | null {
  if (!(slopeRatio >= 0)) throw new RangeError(`a slope of ${slopeRatio}`);
  if (slopeRatio > 0.1) return null;
  return ((slopeRatio > 0.05 ? 4 : 5) - (soil === 'clay' ? 0 : 1)) * FOOT;
}
