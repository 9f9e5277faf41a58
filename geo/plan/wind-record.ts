/**
 * Wind at one station, one row an hour at most, in order of time. Plain typed arrays, so a record
 * goes to a worker and into a cache without a copy of objects.
 */
export interface WindRecord {
  readonly count: number;
  /** Unix seconds, UTC, rising. */
  readonly timeSeconds: Float64Array;
  /** Where it blows from, degrees true, above 0 to 360; NaN where it is calm or variable. */
  readonly fromDegrees: Float32Array;
  /** Mean speed, m/s; exactly 0 is calm. */
  readonly speedMetersPerSecond: Float32Array;
  /** Gust, m/s; NaN where none was reported. */
  readonly gustMetersPerSecond: Float32Array;
  /** Share of the sky that is covered, 0 to 1; NaN where it was not reported. */
  readonly cloudShare: Float32Array;
  /** Height of the lowest broken or overcast layer, m; Infinity for none, NaN where not reported. */
  readonly ceilingMeters: Float32Array;
}

/** What became of the rows of a record, for the user to see. */
export interface WindTally {
  /** Rows of data read for this station. */
  readonly rows: number;
  readonly kept: number;
  readonly calm: number;
  /** Wind without a direction. */
  readonly variable: number;
  /** Rows whose wind is missing by the layout's own codes. */
  readonly missing: number;
  /** Rows that the file's quality codes call suspect or wrong. */
  readonly suspect: number;
  /** Rows with a direction above 360 or a speed no anemometer gives. */
  readonly outOfRange: number;
  readonly unreadableTime: number;
  /** Daily and monthly summaries between the reports. */
  readonly summaries: number;
  /** Rows at the same minute as another. */
  readonly duplicates: number;
  /** Special reports, left out for another of their hour. */
  readonly specials: number;
  /** Synoptic reports, the same. */
  readonly synoptics: number;
  /** Other rows of an hour that already has one. */
  readonly moreInHour: number;
  /** The usual step between rows, hours. */
  readonly stepHours: number;
  /** Breaks longer than the usual step and shorter than 60 days. */
  readonly gaps: number;
  readonly gapHours: number;
  readonly longestGapHours: number;
}

/** A station with its record. What the file does not say is null. */
export interface WindStation {
  readonly id: string;
  readonly name: string | null;
  readonly longitude: number | null;
  readonly latitude: number | null;
  readonly elevationMeters: number | null;
  readonly record: WindRecord;
  readonly tally: WindTally;
}
