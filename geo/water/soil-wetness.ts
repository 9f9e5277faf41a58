/** How wet the ground is when the rain begins: NEH 630's antecedent runoff conditions I, II, III. */
export type SoilWetness = 'dry' | 'average' | 'wet';

/**
 * Curve number of drier or wetter ground from the one of the tables. Formulas: Chow, Maidment &
 * Mays 1988, Applied Hydrology, eqs. 5.5.8 and 5.5.9 (from memory; they come within 2 of NEH 630
 * table 10-1). Held to 30–100, where the tables end. Throws RangeError outside 30–100.
 * Example: 75 is 55.8 on dry ground and 87.3 on wet.
 */
export function curveNumberWhen(curveNumber: number, wetness: SoilWetness): number {
  if (!(curveNumber >= 30 && curveNumber <= 100)) {
    throw new RangeError(`curve number ${curveNumber} is not within 30 to 100`);
  }
  if (wetness === 'average') return curveNumber;
  const moved =
    wetness === 'dry'
      ? (4.2 * curveNumber) / (10 - 0.058 * curveNumber)
      : (23 * curveNumber) / (10 + 0.13 * curveNumber);
  return Math.min(100, Math.max(30, moved));
}
