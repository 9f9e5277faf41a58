import type { WindRecord } from '../geo/plan/wind-record.ts';

export interface WindRow {
  readonly time: string | number;
  /** NaN or left out: calm or variable. */
  readonly from?: number;
  readonly speed: number;
  readonly cloud?: number;
}

/** A record from rows, times as ISO or in Unix seconds. */
export function windRecord(rows: readonly WindRow[]): WindRecord {
  const column = (of: (row: WindRow) => number) => Float32Array.from(rows, of);
  return {
    count: rows.length,
    timeSeconds: Float64Array.from(rows, ({ time }) =>
      typeof time === 'number' ? time : Date.parse(time) / 1000,
    ),
    fromDegrees: column(({ from }) => from ?? NaN),
    speedMetersPerSecond: column(({ speed }) => speed),
    gustMetersPerSecond: column(() => NaN),
    cloudShare: column(({ cloud }) => cloud ?? NaN),
    ceilingMeters: column(() => NaN),
  };
}
