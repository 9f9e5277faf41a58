import type { WindStation } from '../../plan/wind-record.ts';
import type { Problem } from '../../result.ts';
import type { DateOrder } from './read-time.ts';

/** Types of opening a wind record: what the user may choose, and how an opening can end. */

export type WindLayout =
  | 'metar-archive'
  | 'global-hourly'
  | 'isd-fixed'
  | 'local-climatological'
  | 'hourly-pipe'
  | 'fire-weather'
  | 'columns';

export type SpeedUnit = 'm/s' | 'km/h' | 'mph' | 'kt';
export type DirectionUnit = 'degrees' | 'tens-of-degrees';

/** Which column of a table holds what, counted from 0; null where there is none. */
export interface WindColumns {
  /** Date and time together, or the date alone where `clock` is another column. */
  readonly time: number;
  readonly clock: number | null;
  readonly direction: number;
  readonly speed: number;
  readonly gust: number | null;
}

/** What the user has said of a record that does not say it itself. */
export interface WindChoices {
  readonly columns?: WindColumns;
  readonly speedUnit?: SpeedUnit;
  readonly directionUnit?: DirectionUnit;
  /** Of dates with slashes that fit both. */
  readonly dateOrder?: DateOrder;
  /** Hours by which the record's clock is ahead of UTC, all year: -5 for Eastern Standard Time. */
  readonly utcOffsetHours?: number;
}

/** The head of a table, for choosing its columns. */
export interface WindPreview {
  readonly names: readonly string[] | null;
  readonly rows: readonly (readonly string[])[];
  /** Null where nothing in the table looks like it. */
  readonly guess: { readonly [K in keyof WindColumns]: WindColumns[K] | null };
  readonly speedUnit: SpeedUnit | null;
  /** One plain sentence: what the guess rests on. */
  readonly reason: string;
}

export interface WindAsked {
  readonly kind: 'ask';
  readonly question: 'columns' | 'date-order' | 'speed-unit' | 'direction-unit' | 'utc-offset';
  /** One plain sentence: why it must be asked. */
  readonly why: string;
  readonly layout: WindLayout;
  readonly preview?: WindPreview;
}

export type OpenedWind =
  | {
      readonly kind: 'opened';
      readonly layout: WindLayout;
      readonly stations: readonly WindStation[];
      /** Plain sentences on how the file was taken. */
      readonly notes: readonly string[];
    }
  | WindAsked
  | { readonly kind: 'refused'; readonly problem: Problem };
