import type { SunParts } from './sun-parts.ts';

/** Fewer seasons than this say little of a place's wind; five or more are better (trade notes, Q23). */
export const FEWEST_SEASONS = 3;

export interface RecordLength {
  /** Seasons of which at least nine days in ten have rows. */
  readonly wholeSeasons: number;
  /** Seasons with rows on fewer days, by the year they began. */
  readonly partSeasons: readonly number[];
  readonly isShort: boolean;
}

/** How many seasons a record covers, and whether they are too few to go by. */
export function recordLength({ daysBySeason }: SunParts, fewest = FEWEST_SEASONS): RecordLength {
  const entries = [...daysBySeason];
  const partSeasons = entries.filter(([, { days, of }]) => days < 0.9 * of).map(([year]) => year);
  const wholeSeasons = entries.length - partSeasons.length;
  return { wholeSeasons, partSeasons, isShort: wholeSeasons < fewest };
}
