/**
 * How much a dozer moves. Sources: maker's performance handbook, dozing section, and US Army
 * FM 5-434 (2000) ch. 2: production is the uncorrected most an hour times a factor for each thing
 * that is not as in the base case (a full hour, power shift, 0.05 min lost at each turn).
 */

/** By operator, track machine. */
export const operatorFactors = { excellent: 1, average: 0.75, poor: 0.6 } as const;

/** Minutes worked of an hour. */
export const hourFactors = { fifty: 0.83, forty: 0.67 } as const;

/** Lost at each end of a push, hours. */
const TURN_HOURS = 0.05 / 60;
/** Loaded ahead 2 mph, empty astern 3.5 mph: common practice, no source. */
const AHEAD_METERS_PER_HOUR = 2 * 1609.344;
const ASTERN_METERS_PER_HOUR = 3.5 * 1609.344;

/**
 * Production after its factors, in the unit of `most`. Throws RangeError for a value not above 0.
 * Example: 300 yd³ an hour × 0.92 × 0.75 × 0.80 × 1.20 × 0.83 × 1.15 = 190 (FM 5-434).
 */
export function correctedProduction(most: number, factors: readonly number[]): number {
  for (const value of [most, ...factors]) {
    if (!(value > 0 && value < Infinity))
      throw new RangeError(`a production or factor of ${value}`);
  }
  return factors.reduce((product, factor) => product * factor, most);
}

/**
 * Uncorrected most, loose cubic metres an hour: blade loads, each pushed so far and backed home.
 * Throws RangeError for a load or distance not above 0.
 * Example: 2.5 yd³ over 100 ft: 2.5 / (0.0095 + 0.0054 + 0.0008) h = 159 yd³ an hour.
 */
export function pushedPerHour(bladeLoadCubicMeters: number, pushMeters: number): number {
  for (const value of [bladeLoadCubicMeters, pushMeters]) {
    if (!(value > 0 && value < Infinity)) throw new RangeError(`a load or push of ${value}`);
  }
  const ahead = pushMeters / AHEAD_METERS_PER_HOUR;
  return bladeLoadCubicMeters / (ahead + pushMeters / ASTERN_METERS_PER_HOUR + TURN_HOURS);
}

/**
 * Square metres bladed an hour in so many passes, by a blade of which an eighth overlaps.
 * Source of the form: passes × area / (speed × effective width); 2 mph, common practice.
 */
export function bladedPerHour(bladeWidthMeters: number, passes: number): number {
  for (const value of [bladeWidthMeters, passes]) {
    if (!(value > 0 && value < Infinity)) throw new RangeError(`a width or passes of ${value}`);
  }
  return (AHEAD_METERS_PER_HOUR * bladeWidthMeters * 0.875) / passes;
}
