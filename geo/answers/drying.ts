import { evaporationByMonth, growingMean, isGrowing } from '../water/evaporation.ts';
import { hoursToDry } from '../water/infiltration.ts';
import type { Inputs, SiteDefinition } from './definition.ts';

/** What takes standing water away in the month of the storm. */
export interface Drying {
  /** 1 to 12, of the hour under the map (UTC). */
  readonly month: number;
  readonly evaporationMetersPerDay: number;
  /** Mean of the growing season, by which a wet place is judged. */
  readonly growingMetersPerDay: number;
  readonly inGrowingSeason: boolean;
  readonly waterTableUp: boolean;
}

/** Evaporation of the storm's month: the hours of a day change nothing. */
export const drying: SiteDefinition = {
  name: 'drying',
  per: 'site',
  shown: false,
  reads: [
    'condition:hourUtc',
    'setting:evaporationMetersPerDay',
    'setting:evaporationByMonth',
    'setting:growingSeason',
    'setting:waterTableUp',
  ],
  compute({ settings, conditions }): { done: Drying } {
    const season = settings.growingSeason;
    const byMonth =
      settings.evaporationByMonth ?? evaporationByMonth(settings.evaporationMetersPerDay, season);
    const month = Number(conditions.hourUtc.slice(5, 7));
    return {
      done: {
        month,
        evaporationMetersPerDay: byMonth[month - 1]!,
        growingMetersPerDay: growingMean(byMonth, season),
        inGrowingSeason: isGrowing(month, season),
        waterTableUp: settings.waterTableUp,
      },
    };
  },
  seenAs: (value) => JSON.stringify(value),
};

export function dryingOf(inputs: Inputs): Drying {
  return inputs.answer('drying') as Drying;
}

/**
 * Hours that so deep a pond stands in the storm's month, or in the growing season; null where
 * nothing takes it away.
 */
export function dryHours(
  { evaporationMetersPerDay, growingMetersPerDay, waterTableUp }: Drying,
  depth: number,
  intake: number,
  when: 'storm' | 'growing-season' = 'storm',
): number | null {
  const perDay = when === 'storm' ? evaporationMetersPerDay : growingMetersPerDay;
  const hours = hoursToDry(depth, waterTableUp ? 0 : intake, perDay);
  return Number.isFinite(hours) ? hours : null;
}
