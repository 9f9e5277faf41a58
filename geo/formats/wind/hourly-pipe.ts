import { isSuspect, placeOf, takeWind } from './decoder.ts';
import type { Fate, Sighting, StationPlace, WindDecoder } from './decoder.ts';
import type { FieldRow } from './field-row.ts';
import { rankOfReport } from './global-hourly.ts';
import { readTime, secondsOfDay } from './read-time.ts';
import { isCeiling, shareOfEighths } from './sky.ts';

const PIPE = 124;

/**
 * The pipe-separated hourly successor of the integrated surface data: time in UTC in columns Year
 * to Minute or in one column DATE, `wind_direction` in degrees, `wind_speed` and `wind_gust` in m/s,
 * each with its measurement code (C calm, V variable, both with direction 999), quality code (2, 3,
 * 6, 7 suspect) and report type; blank is missing. `sky_cover_1` to `_3` are `layer:eighths`,
 * `sky_cover_baseht_1` to `_3` metres (public documentation of the layout, partly from memory).
 * @param names of the columns, lower case
 */
export class HourlyPipe implements WindDecoder {
  readonly clock = 'utc';
  readonly delimiter = PIPE;
  readonly lastColumn: number;
  private readonly at: Readonly<Record<string, number>>;
  private readonly layers: readonly (readonly [cover: number, height: number])[];
  private readonly timesTen: boolean;

  constructor(names: readonly string[], tens: boolean) {
    const wind = ['direction', 'speed', 'gust'].map((part) => `wind_${part}`);
    const codes = ['wind_direction', 'wind_speed'].flatMap((column) =>
      ['measurement_code', 'quality_code', 'report_type'].map((code) => `${column}_${code}`),
    );
    const about = ['station_id', 'station', 'station_name', 'latitude', 'longitude', 'elevation'];
    const when = ['year', 'month', 'day', 'hour', 'minute', 'date'];
    const all = [...wind, ...codes, ...about, ...when];
    this.at = Object.fromEntries(all.map((name) => [name, names.indexOf(name)]));
    this.layers = [1, 2, 3]
      .map(
        (n) => [names.indexOf(`sky_cover_${n}`), names.indexOf(`sky_cover_baseht_${n}`)] as const,
      )
      .filter(([cover]) => cover >= 0);
    this.lastColumn = Math.max(...Object.values(this.at), ...this.layers.flat());
    this.timesTen = tens;
  }

  read(row: FieldRow, seen: Sighting): Fate {
    const { at } = this;
    const station = Math.max(at.station_id!, at.station!);
    seen.stationStart = row.start(station);
    seen.stationEnd = row.end(station);
    this.readTime(row, seen);
    if (Number.isNaN(seen.seconds)) return 'bad-time';
    const type = row.text(at.wind_speed_report_type!);
    if (/SO[DM]/.test(type)) return 'summary';
    seen.rank = rankOfReport(type);
    this.readSky(row, seen);
    seen.gustMetersPerSecond = row.number(at.wind_gust!);
    if (isSuspect(this.onlyLetter(row, at.wind_speed_quality_code!))) return 'suspect';
    const measured = row.first(at.wind_direction_measurement_code!);
    const isCalm = measured === 67 || row.first(at.wind_speed_measurement_code!) === 67;
    if (isCalm && row.length(at.wind_speed!) > 0) return takeWind(seen, NaN, 0, 'missing');
    const isVariable = measured === 86;
    const degrees = row.number(at.wind_direction!);
    const has = !isVariable && degrees !== 999 && !Number.isNaN(degrees);
    if (has && isSuspect(this.onlyLetter(row, at.wind_direction_quality_code!))) return 'suspect';
    return takeWind(
      seen,
      has ? degrees * (this.timesTen ? 10 : 1) : NaN,
      row.number(at.wind_speed!),
      isVariable ? 'variable' : 'missing',
    );
  }

  /** Quality codes of other sources than the integrated surface data have more than one letter. */
  private onlyLetter(row: FieldRow, field: number): number {
    return row.length(field) === 1 ? row.first(field) : 0;
  }

  private readTime(row: FieldRow, seen: Sighting): void {
    const { at } = this;
    if (at.date! >= 0) {
      readTime(row.bytes, row.start(at.date!), row.end(at.date!), seen);
      return;
    }
    seen.zoned = true;
    const [hour, minute] = [row.number(at.hour!), at.minute! < 0 ? 0 : row.number(at.minute!)];
    const date = secondsOfDay(row.number(at.year!), row.number(at.month!), row.number(at.day!));
    const onClock = hour >= 0 && hour < 24 && minute >= 0 && minute < 60;
    seen.seconds = onClock ? date + 3600 * hour + 60 * minute : NaN;
  }

  private readSky(row: FieldRow, seen: Sighting): void {
    seen.cloudShare = NaN;
    seen.ceilingMeters = NaN;
    for (const [cover, height] of this.layers) {
      const eighths = /:(\d\d)/.exec(row.text(cover));
      const share = eighths ? shareOfEighths(Number(eighths[1])) : NaN;
      if (Number.isNaN(share)) continue;
      seen.cloudShare = Math.max(Number.isNaN(seen.cloudShare) ? 0 : seen.cloudShare, share);
      if (Number.isNaN(seen.ceilingMeters)) seen.ceilingMeters = Infinity;
      const meters = row.number(height);
      if (isCeiling(share) && meters < seen.ceilingMeters) seen.ceilingMeters = meters;
    }
  }

  place(row: FieldRow): StationPlace {
    const { station_name, latitude, longitude, elevation } = this.at;
    return placeOf(
      station_name! < 0 ? null : row.text(station_name!),
      row.number(longitude!),
      row.number(latitude!),
      row.number(elevation!),
    );
  }
}
