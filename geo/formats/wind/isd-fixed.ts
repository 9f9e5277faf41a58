import { placeOf } from './decoder.ts';
import type { Fate, Sighting, StationPlace, WindDecoder } from './decoder.ts';
import type { FieldRow } from './field-row.ts';
import { ceilingOf, rankOfReport, takeSurfaceWind, tenthsOf } from './global-hourly.ts';
import { secondsOfDay } from './read-time.ts';
import { shareOfEighths } from './sky.ts';
import { asciiText } from '../scan-numbers.ts';

/** Places counted from 0, where the published layout counts columns from 1. */
const [STATION, STATION_END, DATE, CLOCK, LATITUDE, LONGITUDE] = [4, 15, 15, 23, 28, 34] as const;
const [TYPE, TYPE_END, ELEVATION, ELEVATION_END] = [41, 46, 46, 51] as const;
const [WIND, CEILING, ADDITIONAL] = [60, 70, 105] as const;

/**
 * Integrated surface data in fixed columns: station 5 to 15, date and time in UTC 16 to 27, place
 * in thousandths of a degree 29 to 41, report type 42 to 46, wind direction 61 to 63, its quality
 * 64, type 65, speed in tenths of m/s 66 to 69, quality 70, ceiling 71 to 75 (trade notes, section
 * 3.5, S31, and the public format document). Gust and eighths of sky are looked for in the
 * additional data (`OC1`, `GF1`). Missing codes as in the CSV form.
 */
export class IsdFixed implements WindDecoder {
  readonly clock = 'utc';
  readonly delimiter = null;
  readonly lastColumn = 0;
  private readonly timesTen: boolean;

  constructor(tens: boolean) {
    this.timesTen = tens;
  }

  read(row: FieldRow, seen: Sighting): Fate {
    const { from, to } = row;
    seen.zoned = true;
    seen.stationStart = from + STATION;
    seen.stationEnd = from + STATION_END;
    if (to - from < WIND + 10) {
      seen.stationStart = seen.stationEnd = from;
      return 'bad-time';
    }
    const digits = (start: number, length: number) =>
      row.digitsIn(from + start, from + start + length);
    const [hour, minute] = [digits(CLOCK, 2), digits(CLOCK + 2, 2)];
    const date = secondsOfDay(digits(DATE, 4), digits(DATE + 4, 2), digits(DATE + 6, 2));
    seen.seconds = hour < 24 && minute < 60 ? date + 3600 * hour + 60 * minute : NaN;
    if (Number.isNaN(seen.seconds)) return 'bad-time';
    const type = asciiText(row.bytes, from + TYPE, from + TYPE_END).trim();
    if (/^SO[DM]$/.test(type)) return 'summary';
    seen.rank = rankOfReport(type);
    seen.ceilingMeters = ceilingOf(digits(CEILING, 5));
    this.readAdditional(row, seen);
    const wind = from + WIND;
    return takeSurfaceWind(
      row,
      seen,
      [wind, wind + 3, wind + 4, wind + 5, wind + 9],
      this.timesTen,
    );
  }

  private readAdditional(row: FieldRow, seen: Sighting): void {
    seen.gustMetersPerSecond = NaN;
    seen.cloudShare = NaN;
    const start = row.from + ADDITIONAL;
    if (row.to <= start + 3) return;
    const text = asciiText(row.bytes, start, row.to);
    const end = text.search(/REM|EQD|QNN/);
    const data = end < 0 ? text : text.slice(0, end);
    const gust = /OC1(\d{4})\d/.exec(data);
    if (gust) seen.gustMetersPerSecond = tenthsOf(Number(gust[1]), 9999);
    const sky = /GF1(\d\d)\d\d/.exec(data);
    if (sky) seen.cloudShare = shareOfEighths(Number(sky[1]));
  }

  place({ bytes, from }: FieldRow): StationPlace {
    const signed = (start: number, end: number) =>
      Number(asciiText(bytes, from + start, from + end));
    return placeOf(
      null,
      signed(LONGITUDE, TYPE) / 1000,
      signed(LATITUDE, LONGITUDE) / 1000,
      signed(ELEVATION, ELEVATION_END),
    );
  }
}
