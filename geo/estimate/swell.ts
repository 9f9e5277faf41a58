/**
 * How dirt changes in volume. Source: US Army FM 5-434 table 1-1 (from memory) and training tables
 * (handbook §4.4): of one in the bank, so many loose and so many compacted.
 */
export const dirtVolumes = {
  sand: { loose: 1.11, compacted: 0.95 },
  loam: { loose: 1.25, compacted: 0.9 },
  clay: { loose: 1.43, compacted: 0.9 },
  'blasted-rock': { loose: 1.5, compacted: 1.3 },
} as const;

/**
 * Swell of dirt by its densities in the bank and loose (any one unit).
 * Throws RangeError for a density not above 0.
 * Example: clay of 3,000 and 2,310 lb/yd³ swells by 29.9 %.
 */
export function swellOf(bankDensity: number, looseDensity: number): number {
  return ratio(bankDensity, looseDensity) - 1;
}

/** Bank volume over loose volume of dirt that swells so much. Example: 29.9 % gives 0.77. */
export function loadFactor(swell: number): number {
  if (!(swell > -1 && swell < Infinity)) throw new RangeError(`a swell of ${swell}`);
  return 1 / (1 + swell);
}

/**
 * Shrinkage by densities in the bank and compacted.
 * Example: clay of 3,000 and 3,750 lb/yd³ shrinks by 20 %.
 */
export function shrinkageOf(bankDensity: number, compactedDensity: number): number {
  return 1 - ratio(bankDensity, compactedDensity);
}

function ratio(a: number, b: number): number {
  for (const value of [a, b]) {
    if (!(value > 0 && value < Infinity)) throw new RangeError(`a density of ${value}`);
  }
  return a / b;
}
