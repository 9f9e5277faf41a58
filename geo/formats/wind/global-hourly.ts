import { isSuspect, placeOf, ROUTINE, SPECIAL, SYNOPTIC, takeWind } from './decoder.ts';
import type { Fate, Sighting, StationPlace, WindDecoder } from './decoder.ts';
import type { FieldRow } from './field-row.ts';
import { readTime } from './read-time.ts';
import { shareOfEighths } from './sky.ts';

const COMMA = 44;

/**
 * Global hourly CSV of the integrated surface data: quoted fields, `DATE` in UTC, `WND` as
 * "direction, quality, type, speed in tenths of m/s, quality" (trade notes, section 3.5, S31):
 * direction 999 and speed 9999 are missing, type C is calm, V variable, 9 with speed 0 calm; quality
 * 2, 3, 6 and 7 suspect. `OC1` is the gust ("speed in tenths, quality", 9999 missing), `CIG` the
 * ceiling (22000 none, 99999 missing), the first two digits of `GF1` the eighths of sky covered
 * (99 missing). Summaries of day and month (SOD, SOM) are no reports.
 * @param names of the columns, upper case
 */
export class GlobalHourly implements WindDecoder {
  readonly clock = 'utc';
  readonly delimiter = COMMA;
  readonly lastColumn: number;
  private readonly at: Readonly<Record<string, number>>;
  private readonly timesTen: boolean;

  constructor(names: readonly string[], tens: boolean) {
    const wanted = ['STATION', 'DATE', 'REPORT_TYPE', 'WND', 'OC1', 'CIG', 'GF1'];
    const places = ['NAME', 'LATITUDE', 'LONGITUDE', 'ELEVATION'];
    this.at = Object.fromEntries([...wanted, ...places].map((n) => [n, names.indexOf(n)]));
    this.lastColumn = Math.max(...Object.values(this.at));
    this.timesTen = tens;
  }

  read(row: FieldRow, seen: Sighting): Fate {
    const { at } = this;
    seen.stationStart = row.start(at.STATION!);
    seen.stationEnd = row.end(at.STATION!);
    readTime(row.bytes, row.start(at.DATE!), row.end(at.DATE!), seen);
    if (Number.isNaN(seen.seconds)) return 'bad-time';
    const type = row.text(at.REPORT_TYPE!).trim();
    if (/^SO[DM]$/.test(type)) return 'summary';
    seen.rank = rankOfReport(type);
    const ceiling = row.digitsIn(row.start(at.CIG!), row.start(at.CIG!) + 5);
    seen.ceilingMeters = ceilingOf(row.length(at.CIG!) < 5 ? NaN : ceiling);
    const [gust, gustEnd] = [row.start(at.OC1!), row.end(at.OC1!)];
    seen.gustMetersPerSecond =
      gustEnd - gust < 4 ? NaN : tenthsOf(row.digitsIn(gust, gust + 4), 9999);
    const sky = row.start(at.GF1!);
    seen.cloudShare = row.length(at.GF1!) < 2 ? NaN : shareOfEighths(row.digitsIn(sky, sky + 2));
    // "ddd,q,t,ssss,q" stands at fixed places.
    const from = row.start(at.WND!);
    if (row.length(at.WND!) < 14) return 'missing';
    return takeSurfaceWind(
      row,
      seen,
      [from, from + 4, from + 6, from + 8, from + 13],
      this.timesTen,
    );
  }

  place(row: FieldRow): StationPlace {
    const { NAME, LATITUDE, LONGITUDE, ELEVATION } = this.at;
    return placeOf(
      NAME! < 0 ? null : row.text(NAME!),
      row.number(LONGITUDE!),
      row.number(LATITUDE!),
      row.number(ELEVATION!),
    );
  }
}

/** FM-12 is synoptic, FM-16 special; FM-15 (METAR) and whatever else is routine. */
export function rankOfReport(type: string): number {
  if (/FM-?16|SPECI|SAOSP/.test(type)) return SPECIAL;
  return /FM-?1[234]|SYNOP/.test(type) ? SYNOPTIC : ROUTINE;
}

/** Metres of a ceiling in the codes of the integrated surface data. */
export function ceilingOf(code: number): number {
  if (Number.isNaN(code) || code === 99_999) return NaN;
  return code >= 22_000 ? Infinity : code;
}

/** Tenths to wholes; NaN for the code that means missing. */
export function tenthsOf(code: number, missing: number): number {
  return code === missing ? NaN : code / 10;
}

/** Places in the bytes: direction, its quality, type, speed, its quality. */
type WindPlaces = readonly [number, number, number, number, number];

export function takeSurfaceWind(
  row: FieldRow,
  seen: Sighting,
  [direction, directionQuality, type, speed, speedQuality]: WindPlaces,
  timesTen: boolean,
): Fate {
  const { bytes } = row;
  const letter = String.fromCharCode(bytes[type]!);
  const metersPerSecond = tenthsOf(row.digitsIn(speed, speed + 4), 9999);
  if (letter === 'C') return takeWind(seen, NaN, 0, 'missing');
  if (Number.isNaN(metersPerSecond)) return takeWind(seen, NaN, NaN, 'missing');
  if (isSuspect(bytes[speedQuality]!)) return 'suspect';
  const code = row.digitsIn(direction, direction + 3);
  const degrees = code === 999 || letter === 'V' ? NaN : code * (timesTen ? 10 : 1);
  if (!Number.isNaN(degrees) && isSuspect(bytes[directionQuality]!)) return 'suspect';
  return takeWind(seen, degrees, metersPerSecond, letter === 'V' ? 'variable' : 'missing');
}
