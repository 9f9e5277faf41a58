import { readRainTable } from '../../geo/formats/rain-table.ts';
import type { Conditions } from '../../geo/plan/conditions.ts';
import type { RainTable } from '../../geo/plan/rain-table.ts';
import { rainDepth, rainReturn } from '../../geo/water/rain-frequency.ts';
import { figure, rainQuantity, spoken, type UnitSystem } from './format.ts';

/** How often a rain comes here, from the rainfall table of the plan. */

let last: { readonly text: string; readonly table: RainTable | null } = { text: '', table: null };

/** The plan's table; null where there is none, or what is kept cannot be read. */
export function rainTableOf(text: string): RainTable | null {
  if (text === '') return null;
  if (last.text !== text) {
    const read = readRainTable('rainfall table', text);
    last = { text, table: read.ok ? read.value : null };
  }
  return last.table;
}

/** "about a yearly rain here", "about a 7-year rain here"; null where the table does not reach. */
export function oftenText(table: RainTable, rain: Conditions['rain']): string | null {
  const found = rainReturn(table, rain.durationHours, rain.depthMeters);
  if (!found || rain.depthMeters === 0) return null;
  const years = found.returnYears;
  if (found.beyond === 'above') return `more than a ${figure(years, 0)}-year rain here`;
  if (found.beyond === 'below')
    return `comes oftener than every ${years === 1 ? 'year' : `${figure(years, 0)} years`} here`;
  if (years < 1.5) return 'about a yearly rain here';
  return `about a ${figure(years, years < 2.5 ? 1 : 0).replace(/\.0$/, '')}-year rain here`;
}

/** The table's rains of one duration, to choose from: years, depth, words. */
export function rainsOf(table: RainTable, durationHours: number, units: UnitSystem) {
  return table.returnYears.flatMap((years) => {
    const depthMeters = rainDepth(table, durationHours, years);
    if (depthMeters === null) return [];
    const often = years === 1 ? 'every year' : `once in ${years} years`;
    return [{ years, depthMeters, words: `${often}: ${spoken(rainQuantity(depthMeters, units))}` }];
  });
}
