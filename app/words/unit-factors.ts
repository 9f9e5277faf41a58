/** Factors for showing SI in US customary units, built from the exact definitions. */
const foot = 0.3048;
const inch = 0.0254;
const yard = 0.9144;
// The acre shown is the international one; the US survey acre differs by 4 parts in a million.
const acre = 43_560 * foot * foot;

export const perMeter = {
  feet: 1 / foot,
  inches: 1 / inch,
  yards: 1 / yard,
  squareFeetPerSquareMeter: 1 / (foot * foot),
  acresPerSquareMeter: 1 / acre,
  cubicYardsPerCubicMeter: 1 / (yard * yard * yard),
  milesPerHourPerMeterPerSecond: 3600 / 1609.344,
} as const;
