import { milesFromMeters } from '../frame/units.ts';

/** Lowest whole mile an hour of forces 1 to 12 (handbook, section 7.4). */
const LOWEST_MPH = [1, 4, 8, 13, 19, 25, 32, 39, 47, 55, 64, 73];
const NAMES = [
  'calm',
  'light air',
  'light breeze',
  'gentle breeze',
  'moderate breeze',
  'fresh breeze',
  'strong breeze',
  'near gale',
  'gale',
  'strong gale',
  'storm',
  'violent storm',
  'hurricane force',
] as const;

export interface Beaufort {
  readonly force: number;
  readonly name: (typeof NAMES)[number];
}

/**
 * Force on the Beaufort scale by the table in whole miles an hour, as the weather service prints it.
 * Throws RangeError for a speed below 0 or not finite. Example: 2 m/s (4.5 mph) is 2, light breeze.
 */
export function beaufort(metersPerSecond: number): Beaufort {
  if (!(metersPerSecond >= 0 && metersPerSecond < Infinity)) {
    throw new RangeError(`beaufort: ${metersPerSecond} m/s`);
  }
  const mph = Math.round(milesFromMeters(metersPerSecond * 3600));
  const force = LOWEST_MPH.filter((lowest) => mph >= lowest).length;
  return { force, name: NAMES[force]! };
}
