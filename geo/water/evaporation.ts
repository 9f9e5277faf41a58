/**
 * Evaporation from shallow ponds through the year, per cent of a year's by month. Source: Molnau,
 * Kpordze & Craine 1992, ASAE paper PNW 92-111, region 2, as its public page prints it. From one
 * northern state: its shape only is used, and a place's own twelve figures take its place.
 */
const percentOfYear = [0.5, 1.5, 3, 8, 12, 15, 19, 17, 11, 6, 4, 3] as const;
const days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

/** First and last month of the growing season, 1 to 12; the last may come before the first. */
export type GrowingSeason = readonly [number, number];

/** Whether a month (1 to 12) lies in the season, its ends included. */
export function isGrowing(month: number, [first, last]: GrowingSeason): boolean {
  return first <= last ? month >= first && month <= last : month >= first || month <= last;
}

/**
 * Evaporation a day for each month, from the figure of a growing-season day: months by the shape
 * above, scaled so that the season's mean is that figure. In the unit of `growingDay`.
 * Throws RangeError for months outside 1 to 12 or a figure below 0.
 * Example: 3.0 mm over April to October is 4.5 mm in July and 1.0 mm in November.
 */
export function evaporationByMonth(growingDay: number, season: GrowingSeason): number[] {
  if (!(growingDay >= 0 && growingDay < Infinity)) throw new RangeError(`${growingDay} a day`);
  for (const month of season) {
    if (!(Number.isInteger(month) && month >= 1 && month <= 12)) throw new RangeError(`month ${month}`); // prettier-ignore
  }
  const scale =
    growingDay /
    growingMean(
      percentOfYear.map((one, i) => one / days[i]!),
      season,
    );
  return percentOfYear.map((one, i) => (one / days[i]!) * scale);
}

/** Mean over the growing season's days of twelve monthly figures a day. */
export function growingMean(byMonth: readonly number[], season: GrowingSeason): number {
  let sum = 0;
  let count = 0;
  for (const [i, perDay] of byMonth.entries()) {
    if (!isGrowing(i + 1, season)) continue;
    sum += perDay * days[i]!;
    count += days[i]!;
  }
  return sum / count;
}
