import type { PartHours, StandSeason } from '../../geo/wind/stand-season.ts';
import { directions16, figure } from './format.ts';

/** Whole hours of one season: those that work, of those that the record has. */
export interface WorkingHours {
  readonly works: number;
  readonly hours: number;
}

type BothParts = Readonly<Record<keyof PartHours, WorkingHours>>;

/** Index of 16 directions, or what has none. */
export type TableWind = number | 'calm' | 'variable';

export interface WindTable {
  readonly rows: readonly { readonly wind: TableWind; readonly hours: BothParts }[];
  readonly all: BothParts;
}

/**
 * A stand's season by wind, in whole hours of one of so many seasons. The rows add up to `all` to the
 * hour: what rounding takes from one is given to the row that is next to it by its remainder. Variable
 * wind has a row only where the record has any.
 */
export function windTable(
  { directions, calm, variable, ...total }: StandSeason,
  seasons: number,
): WindTable {
  const has = (hours: PartHours) => sum(hours.morning) + sum(hours.evening) > 0;
  const winds: [TableWind, PartHours][] = [...directions.entries(), ['calm', calm]];
  if (has(variable)) winds.push(['variable', variable]);
  const parts = { morning: partTable('morning'), evening: partTable('evening') };
  return {
    rows: winds.map(([wind], i) => ({
      wind,
      hours: { morning: parts.morning.rows[i]!, evening: parts.evening.rows[i]! },
    })),
    all: { morning: parts.morning.all, evening: parts.evening.all },
  };

  function partTable(part: keyof PartHours): { rows: WorkingHours[]; all: WorkingHours } {
    const of = winds.map(([, hours]) => hours[part]);
    const works = wholeHours(
      of.map((one) => one.works / seasons),
      total[part].works / seasons,
    );
    const not = wholeHours(
      of.map((one) => (sum(one) - one.works) / seasons),
      (sum(total[part]) - total[part].works) / seasons,
    );
    const whole = (i: number) => ({ works: works[i]!, hours: works[i]! + not[i]! });
    const rows = of.map((_, i) => whole(i));
    const all = { works: add(works), hours: add(works) + add(not) };
    return { rows, all };
  }
}

/** Whole numbers that add up to a rounded total, each less than 1 off its own (largest remainder). */
function wholeHours(values: readonly number[], total: number): number[] {
  const whole = values.map(Math.floor);
  const short = Math.max(0, Math.round(total) - add(whole));
  const byRemainder = values
    .map((value, i) => ({ i, rest: value - whole[i]! }))
    .sort((a, b) => b.rest - a.rest);
  for (const { i } of byRemainder.slice(0, short)) whole[i]!++;
  return whole;
}

function add(values: readonly number[]): number {
  return values.reduce((all, value) => all + value, 0);
}

function sum({ works, marginal, doesNot }: PartHours['morning']): number {
  return works + marginal + doesNot;
}

export function windName(wind: TableWind): string {
  return typeof wind === 'number' ? (directions16[wind] ?? '') : wind;
}

/** "20 of 63 h"; a dash where the record has none. */
export function hoursOf({ works, hours }: WorkingHours): string {
  return hours === 0 ? '–' : `${figure(works, 0)} of ${figure(hours, 0)} h`;
}
