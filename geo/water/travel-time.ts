/** How long the farthest rain takes to arrive. Source: USDA SCS, TR-55 (1986), ch. 3. */

import { requirePositive } from './require-positive.ts';

const FOOT = 0.3048;
const INCH = 0.0254;
/** Sheet flow runs no farther than 300 ft before it gathers (TR-55, 1986). */
const longestSheetMeters = 300 * FOOT;

/** Manning's n for water in a thin sheet (TR-55 table 3-1). */
export const sheetRoughness = {
  bare: 0.011,
  'fallow-no-residue': 0.05,
  'cultivated-little-residue': 0.06,
  'cultivated-much-residue': 0.17,
  'short-prairie-grass': 0.15,
  'dense-grass': 0.24,
  'woods-light-underbrush': 0.4,
  'woods-dense-underbrush': 0.8,
} as const;

/**
 * Hours of sheet flow: 0.007 (n L)^0.8 / (P2^0.5 s^0.4) with L in feet and P2, the rain of 24 hours
 * that comes every other year, in inches. Throws RangeError for values that are not above 0, or a
 * length over 300 ft. Example: dense grass, 100 ft at 1 %, 3.6 in: 0.30 h (TR-55 example 3-1).
 */
export function sheetFlowHours(
  lengthMeters: number,
  slopeRatio: number,
  roughness: number,
  twoYearRainMeters: number,
): number {
  requirePositive({ lengthMeters, slopeRatio, roughness, twoYearRainMeters });
  if (lengthMeters > longestSheetMeters * (1 + 1e-9)) {
    throw new RangeError(`sheet flow over ${lengthMeters} m`);
  }
  const feet = lengthMeters / FOOT;
  const inches = twoYearRainMeters / INCH;
  return (0.007 * (roughness * feet) ** 0.8) / (Math.sqrt(inches) * slopeRatio ** 0.4);
}

/**
 * Hours of shallow gathered flow over unpaved ground: 16.1345 s^0.5 feet a second.
 * Throws as above. Example: 1,400 ft at 1 %: 0.24 h (TR-55 example 3-1).
 */
export function shallowFlowHours(lengthMeters: number, slopeRatio: number): number {
  requirePositive({ lengthMeters, slopeRatio });
  return lengthMeters / FOOT / (16.1345 * Math.sqrt(slopeRatio)) / 3600;
}

/**
 * Time of concentration of a catchment, hours, from its longest way and mean slope along it: sheet
 * flow over the first 100 ft (NRCS practice since, 300 ft in 1986), shallow flow over the rest, and
 * never under the 0.1 h where TR-55's curves begin.
 */
export function concentrationHours(way: {
  readonly lengthMeters: number;
  readonly slopeRatio: number;
  readonly roughness: number;
  readonly twoYearRainMeters: number;
}): number {
  const { lengthMeters, slopeRatio, roughness, twoYearRainMeters } = way;
  const sheet = Math.min(lengthMeters, 100 * FOOT);
  const rest = lengthMeters - sheet;
  const hours =
    sheetFlowHours(sheet, slopeRatio, roughness, twoYearRainMeters) +
    (rest > 0 ? shallowFlowHours(rest, slopeRatio) : 0);
  return Math.max(0.1, hours);
}
