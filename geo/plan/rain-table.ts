/** How much rain comes how often at a place: depth by duration and return period. */
export interface RainTable {
  /** Rising, hours. */
  readonly durationsHours: readonly number[];
  /** Rising: once in so many years on average (average recurrence interval). */
  readonly returnYears: readonly number[];
  /** By duration, then by return period; NaN where the table has no number. */
  readonly depthMeters: readonly (readonly number[])[];
  /** What the file calls itself, such as an atlas with volume and version. */
  readonly sourceName: string;
  /** Unit of the file's numbers. */
  readonly unitsFound: 'inches' | 'millimeters';
  /** Every heavy rain counted, or only the heaviest of each year. */
  readonly series: 'partial-duration' | 'annual-maximum' | 'not-said';
  readonly missingCells: number;
}
