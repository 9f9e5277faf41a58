import type { RainTable } from '../plan/rain-table.ts';
import type { RainType } from './peak-flow.ts';
import { rainDepth, rainReturn } from './rain-frequency.ts';

/** Hours of the columns below. */
const HOURS = [0.5, 1, 2, 3, 6, 12, 24] as const;

/**
 * Share of a day's rain that its heaviest hours bring, by type: each day nests the shorter storms of
 * the same rarity (TR-55 appendix B). Widest windows of TR-20's half-hour mass curves, from memory
 * and as two public programs list them; type II is within 6 % of the closed form of Haan, Barfield &
 * Hayes 1994, eq. 3.7.
 */
const shares: Readonly<Record<RainType, readonly number[]>> = {
  I: [0.212, 0.28, 0.37, 0.435, 0.572, 0.757, 1],
  IA: [0.115, 0.17, 0.252, 0.317, 0.468, 0.68, 1],
  II: [0.38, 0.452, 0.537, 0.595, 0.707, 0.841, 1],
  III: [0.202, 0.404, 0.5, 0.568, 0.704, 0.856, 1],
};

/**
 * Share of the day's rain in its heaviest `hours`: straight on logarithms between the columns, and
 * on down from the first two; 1 from a day on. Throws RangeError for hours not above 0.
 * Example: type II, 6 h: 0.707.
 */
export function dayShare(hours: number, rainType: RainType): number {
  if (!(hours > 0)) throw new RangeError(`rain of ${hours} h`);
  if (hours >= 24) return 1;
  const next = Math.max(
    1,
    HOURS.findIndex((one) => one > hours),
  );
  const [from, to] = [shares[rainType][next - 1]!, shares[rainType][next]!];
  const t = Math.log(hours / HOURS[next - 1]!) / Math.log(HOURS[next]! / HOURS[next - 1]!);
  return from * (to / from) ** t;
}

export interface RainInHours {
  readonly meters: number;
  readonly by: 'table' | 'day-shares';
}

/**
 * Depth in other hours of a rain as rare as the one that falls: by the place's own table, kept to
 * its first or last return period beyond its ends; else by the shares of TR-55's day. More rain in
 * the same time is never less in other hours.
 * Example: 1.70 in in 6 h, where that and 2.45 in in 24 h come yearly, is 2.45 in in 24 h.
 */
export function rainInHours(
  storm: { readonly depthMeters: number; readonly durationHours: number },
  hours: number,
  table: RainTable | null,
  rainType: RainType,
): RainInHours {
  const { depthMeters, durationHours } = storm;
  const found = table && rainReturn(table, durationHours, depthMeters);
  const ratioOf = (years: number): number | null => {
    const here = table && rainDepth(table, durationHours, years);
    const there = table && rainDepth(table, hours, years);
    return here !== null && there !== null && here > 0 ? there / here : null;
  };
  if (table && found) {
    const years = [found.returnYears, ...nearestFirst(table.returnYears, found.returnYears)];
    const known = years.map(ratioOf).find((ratio) => ratio !== null);
    if (known !== undefined && known !== null) return { meters: depthMeters * known, by: 'table' };
  }
  const ratio = dayShare(hours, rainType) / dayShare(durationHours, rainType);
  return { meters: depthMeters * ratio, by: 'day-shares' };
}

/** Where the table has gaps, the nearest return period that it knows in both times stands in. */
function nearestFirst(years: readonly number[], to: number): number[] {
  return years.toSorted((a, b) => Math.abs(Math.log(a / to)) - Math.abs(Math.log(b / to)));
}
