import { METERS_PER_SECOND, NOWHERE, placeOf, ROUTINE, SPECIAL, takeWind } from './decoder.ts';
import type { Fate, Sighting, StationPlace, WindDecoder } from './decoder.ts';
import type { FieldRow } from './field-row.ts';
import { metarWind } from './metar-wind.ts';
import { readTime } from './read-time.ts';
import { isCeiling, shareOfSkyWord } from './sky.ts';

const METERS_PER_FOOT = 0.3048;

/**
 * The public archive of airport reports as CSV: `station,valid,…,drct,sknt,gust,skyc1…,skyl1…`, one
 * report a row, knots, degrees true, UTC; `M`, `null` or nothing where a value is missing; calm is
 * 0 and 0; a direction of M with wind is variable (trade notes, section 3.5). Where direction or
 * speed is not among the columns the report itself (`metar`) is read.
 * @param names of the columns, lower case
 */
export class MetarArchive implements WindDecoder {
  readonly clock = 'utc';
  readonly lastColumn: number;
  readonly delimiter: number;
  private readonly at: Readonly<Record<string, number>>;
  private readonly layers: readonly (readonly [cover: number, height: number])[];
  private readonly timesTen: boolean;

  constructor(names: readonly string[], delimiter: number, tens: boolean) {
    this.delimiter = delimiter;
    this.timesTen = tens;
    const wanted = ['station', 'valid', 'drct', 'sknt', 'gust', 'metar', 'report_type'];
    const places = [...wanted, 'lon', 'lat', 'elevation', 'elev'];
    this.at = Object.fromEntries(places.map((name) => [name, names.indexOf(name)]));
    if (this.at.valid! < 0) this.at = { ...this.at, valid: names.indexOf('valid(utc)') };
    this.layers = [1, 2, 3, 4]
      .map((n) => [names.indexOf(`skyc${n}`), names.indexOf(`skyl${n}`)] as const)
      .filter(([cover]) => cover >= 0);
    this.lastColumn = Math.max(...Object.values(this.at), ...this.layers.flat());
  }

  read(row: FieldRow, seen: Sighting): Fate {
    const { at } = this;
    seen.stationStart = row.start(at.station!);
    seen.stationEnd = row.end(at.station!);
    readTime(row.bytes, row.start(at.valid!), row.end(at.valid!), seen);
    if (Number.isNaN(seen.seconds)) return 'bad-time';
    seen.rank = this.rank(row);
    this.readSky(row, seen);
    const hasColumns = at.drct! >= 0 && at.sknt! >= 0;
    if (!hasColumns) return this.fromReport(row, seen);
    seen.gustMetersPerSecond = row.number(at.gust!) * METERS_PER_SECOND.kt;
    const degrees = row.number(at.drct!) * (this.timesTen ? 10 : 1);
    return takeWind(seen, degrees, row.number(at.sknt!) * METERS_PER_SECOND.kt, 'variable');
  }

  private fromReport(row: FieldRow, seen: Sighting): Fate {
    const wind = metarWind(row.text(this.at.metar!));
    if (!wind) return 'missing';
    seen.gustMetersPerSecond = wind.gustMetersPerSecond;
    return takeWind(seen, wind.fromDegrees, wind.speedMetersPerSecond, 'variable');
  }

  /** 3 is a routine report, 4 a special one; 1 is one of the five-minute values. */
  private rank(row: FieldRow): number {
    const type = row.number(this.at.report_type!);
    return Number.isNaN(type) || type === 3 ? ROUTINE : SPECIAL;
  }

  private readSky(row: FieldRow, seen: Sighting): void {
    seen.cloudShare = NaN;
    seen.ceilingMeters = NaN;
    for (const [cover, height] of this.layers) {
      if (row.length(cover) < 2) continue;
      const share = shareOfSkyWord(row.text(cover));
      if (Number.isNaN(share)) continue;
      seen.cloudShare = Math.max(Number.isNaN(seen.cloudShare) ? 0 : seen.cloudShare, share);
      if (Number.isNaN(seen.ceilingMeters)) seen.ceilingMeters = Infinity;
      if (!isCeiling(share)) continue;
      const meters = row.number(height) * METERS_PER_FOOT;
      if (meters < seen.ceilingMeters) seen.ceilingMeters = meters;
    }
  }

  place(row: FieldRow): StationPlace {
    const { lon, lat, elevation, elev } = this.at;
    if (lon! < 0 || lat! < 0) return NOWHERE;
    const meters = row.number(elevation! >= 0 ? elevation! : elev!);
    return placeOf(null, row.number(lon!), row.number(lat!), meters);
  }
}
