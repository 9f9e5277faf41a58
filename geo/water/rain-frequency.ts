import type { RainTable } from '../plan/rain-table.ts';

export interface RainReturn {
  /** Once in so many years on average; the table's first or last where the rain lies beyond. */
  readonly returnYears: number;
  readonly beyond: 'below' | 'within' | 'above';
}

/**
 * Depth of the rain of a duration that comes once in `returnYears` on average, metres; null where
 * the table does not reach (nothing is drawn out beyond its numbers). Between durations the
 * logarithm of depth goes straight with the logarithm of duration, between return periods the
 * depth goes straight with the logarithm of years: the way such tables plot, common practice, no
 * source. Missing cells are passed over to the next known ones on either side.
 * Example: 1.70 in for 6 h and 2.45 in for 24 h once a year give 2.04 in for 12 h.
 */
export function rainDepth(
  table: RainTable,
  durationHours: number,
  returnYears: number,
): number | null {
  const known = depthsOfDuration(table, durationHours);
  const { years, depths } = known;
  if (years.length === 0 || !(returnYears >= years[0]!) || !(returnYears <= years.at(-1)!)) {
    return null;
  }
  const above = years.findIndex((year) => year >= returnYears);
  if (years[above] === returnYears) return depths[above]!;
  const t = Math.log(returnYears / years[above - 1]!) / Math.log(years[above]! / years[above - 1]!);
  return depths[above - 1]! + t * (depths[above]! - depths[above - 1]!);
}

/**
 * How often a rain of this depth (metres) in this time comes, or null where the table has no
 * number for that duration. Less than the table's most frequent rain is `below` (more often than
 * that), more than its rarest is `above`. Interpolated as `rainDepth` does; where two return
 * periods have the same depth, the more frequent one.
 * Example: 1.70 in in 6 h where that is the yearly depth gives 1 year, within.
 */
export function rainReturn(
  table: RainTable,
  durationHours: number,
  depthMeters: number,
): RainReturn | null {
  const { years, depths } = depthsOfDuration(table, durationHours);
  if (years.length === 0 || !(depthMeters >= 0)) return null;
  // A depth typed in inches and the table's own number may differ in the last digit.
  const near = depthMeters * (1 + 1e-9);
  if (near < depths[0]!) return { returnYears: years[0]!, beyond: 'below' };
  if (depthMeters > depths.at(-1)! * (1 + 1e-9)) {
    return { returnYears: years.at(-1)!, beyond: 'above' };
  }
  const above = depths.findIndex((depth) => depth * (1 + 1e-9) >= depthMeters);
  const rise = above > 0 ? depths[above]! - depths[above - 1]! : 0;
  if (rise <= 0) return { returnYears: years[above]!, beyond: 'within' };
  const t = Math.min(1, (depthMeters - depths[above - 1]!) / rise);
  const ratio = years[above]! / years[above - 1]!;
  return { returnYears: years[above - 1]! * ratio ** t, beyond: 'within' };
}

/** Return periods with a known depth for a duration, and those depths. */
function depthsOfDuration(
  table: RainTable,
  hours: number,
): { readonly years: number[]; readonly depths: number[] } {
  const years: number[] = [];
  const depths: number[] = [];
  for (const [column, year] of table.returnYears.entries()) {
    const depth = depthInColumn(table, column, hours);
    if (Number.isNaN(depth)) continue;
    years.push(year);
    // Known at different durations, neighbours may cross by a hair: never let rarer be less.
    depths.push(Math.max(depth, depths.at(-1) ?? 0));
  }
  return { years, depths };
}

function depthInColumn(table: RainTable, column: number, hours: number): number {
  let before = -1;
  for (const [row, duration] of table.durationsHours.entries()) {
    const depth = table.depthMeters[row]![column]!;
    if (Number.isNaN(depth)) continue;
    // Sixty minutes and one hour are the same duration.
    if (Math.abs(duration - hours) <= 1e-9 * hours) return depth;
    if (duration > hours) {
      if (before < 0) return NaN;
      const shorter = table.durationsHours[before]!;
      const less = table.depthMeters[before]![column]!;
      const t = Math.log(hours / shorter) / Math.log(duration / shorter);
      return less * (depth / less) ** t;
    }
    before = row;
  }
  return NaN;
}
