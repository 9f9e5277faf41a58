import { METERS_PER_SECOND, placeOf, takeWind } from './decoder.ts';
import type { Fate, Sighting, StationPlace, WindDecoder } from './decoder.ts';
import type { FieldRow } from './field-row.ts';
import { rankOfReport } from './global-hourly.ts';
import { readTime } from './read-time.ts';
import { isCeiling, shareOfEighths } from './sky.ts';
import type { SpeedUnit } from './wind-opening.ts';

const COMMA = 44;
const METERS_PER_FOOT = 0.3048;
const LETTER_S = 115;

/**
 * Local climatological data as CSV: `DATE` in the station's standard time without a zone,
 * `HourlyWindDirection` in degrees (000 calm, VRB variable), `HourlyWindSpeed` and
 * `HourlyWindGustSpeed`, a flag `s` behind a value for suspect, blank for missing (trade notes,
 * section 3.5; whole miles an hour in the older form). `HourlySkyConditions` is a list of
 * `layer:eighths hundreds-of-feet`, the last one the whole sky (from memory of its documentation).
 * @param names of the columns, lower case
 */
export class LocalClimatological implements WindDecoder {
  readonly clock = 'local';
  readonly delimiter = COMMA;
  readonly lastColumn: number;
  private readonly at: Readonly<Record<string, number>>;
  private readonly scale: number;
  private readonly timesTen: boolean;

  constructor(names: readonly string[], unit: SpeedUnit, tens: boolean) {
    const wanted = ['station', 'date', 'report_type', 'reporttype', 'reporttpye'];
    const hourly = ['direction', 'speed', 'gustspeed'].map((part) => `hourlywind${part}`);
    const rest = ['hourlyskyconditions', 'name', 'station_name', 'latitude', 'longitude'];
    const all = [...wanted, ...hourly, ...rest, 'elevation'];
    this.at = Object.fromEntries(all.map((name) => [name, names.indexOf(name)]));
    this.lastColumn = Math.max(...Object.values(this.at));
    this.scale = METERS_PER_SECOND[unit];
    this.timesTen = tens;
  }

  read(row: FieldRow, seen: Sighting): Fate {
    const { at } = this;
    seen.stationStart = row.start(at.station!);
    seen.stationEnd = row.end(at.station!);
    readTime(row.bytes, row.start(at.date!), row.end(at.date!), seen);
    if (Number.isNaN(seen.seconds)) return 'bad-time';
    const type = row.text(Math.max(at.report_type!, at.reporttype!, at.reporttpye!)).trim();
    if (/^SO[DM]$/.test(type)) return 'summary';
    seen.rank = rankOfReport(type);
    this.readSky(row.text(at.hourlyskyconditions!), seen);
    seen.gustMetersPerSecond = this.flagged(row, at.hourlywindgustspeed!) * this.scale;
    const [direction, speed] = [at.hourlywinddirection!, at.hourlywindspeed!];
    const isVariable = row.first(direction) === 86;
    const degrees = this.flagged(row, direction) * (this.timesTen ? 10 : 1);
    const metersPerSecond = this.flagged(row, speed) * this.scale;
    if (this.isFlagged(row, speed) || this.isFlagged(row, direction)) return 'suspect';
    return takeWind(
      seen,
      isVariable ? NaN : degrees,
      metersPerSecond,
      isVariable ? 'variable' : 'missing',
    );
  }

  private isFlagged(row: FieldRow, field: number): boolean {
    return row.length(field) > 1 && row.bytes[row.end(field) - 1] === LETTER_S;
  }

  /** A number with or without a letter behind it. */
  private flagged(row: FieldRow, field: number): number {
    let end = row.end(field);
    while (end > row.start(field) && row.bytes[end - 1]! > 57) end--;
    return row.numberIn(row.start(field), end);
  }

  private readSky(text: string, seen: Sighting): void {
    seen.cloudShare = NaN;
    seen.ceilingMeters = NaN;
    for (const [, , eighths, feet] of text.matchAll(/([A-Z]{2,3}):(\d\d)(?:\s+(\d+))?/g)) {
      const share = shareOfEighths(Number(eighths));
      if (Number.isNaN(share)) continue;
      seen.cloudShare = Math.max(Number.isNaN(seen.cloudShare) ? 0 : seen.cloudShare, share);
      if (Number.isNaN(seen.ceilingMeters)) seen.ceilingMeters = Infinity;
      if (!isCeiling(share) || feet === undefined) continue;
      seen.ceilingMeters = Math.min(seen.ceilingMeters, Number(feet) * 100 * METERS_PER_FOOT);
    }
  }

  place(row: FieldRow): StationPlace {
    const { name, station_name, latitude, longitude, elevation } = this.at;
    const called = Math.max(name!, station_name!);
    return placeOf(
      called < 0 ? null : row.text(called),
      row.number(longitude!),
      row.number(latitude!),
      row.number(elevation!),
    );
  }
}
