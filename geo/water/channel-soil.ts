import type { ChannelSoil } from './permissible-speed.ts';

/**
 * The row of the permissible speeds for a soil by the texture in its name; the weakest where the
 * name says none, for a hydrologic group does not tell what water carries off.
 * Examples: "Merrow silt loam" is sandy or silty, "silty clay loam" clay loam, "clay" clay.
 */
export function channelSoilOf(name: string | null): ChannelSoil {
  const words = (name ?? '').toLowerCase();
  if (/\bclay loam\b/.test(words)) return 'clay-loam';
  return /\bclay\b/.test(words) && !/\bsandy clay\b/.test(words) ? 'clay' : 'sandy-or-silty';
}
