import type { SpeedUnit } from './wind-opening.ts';
import type { FieldRow } from './field-row.ts';

/** What became of a row. */
export type Fate = 'kept' | 'missing' | 'suspect' | 'out-of-range' | 'bad-time' | 'summary';

/** How a report ranks within its hour: the routine one is kept before the others. */
export const ROUTINE = 0;
export const SYNOPTIC = 1;
export const SPECIAL = 2;

/** One row as decoded, used over and over. */
export interface Sighting {
  /** Unix seconds as the record's clock reads. */
  seconds: number;
  /** True where the text itself named its zone, so that `seconds` is UTC. */
  zoned: boolean;
  /** NaN: variable or calm. */
  fromDegrees: number;
  speedMetersPerSecond: number;
  gustMetersPerSecond: number;
  cloudShare: number;
  ceilingMeters: number;
  rank: number;
  /** Where the station's name stands in the bytes of the row; equal where there is none. */
  stationStart: number;
  stationEnd: number;
}

export interface StationPlace {
  readonly name: string | null;
  readonly longitude: number | null;
  readonly latitude: number | null;
  readonly elevationMeters: number | null;
}

/** One layout's way from a line to a sighting. */
export interface WindDecoder {
  /** Code of the letter between fields; null for fixed columns. */
  readonly delimiter: number | null;
  /** Last field that has to be looked at. */
  readonly lastColumn: number;
  /** What the clock of the record reads, where its times do not name a zone. */
  readonly clock: 'utc' | 'local' | 'unknown';
  read(row: FieldRow, seen: Sighting): Fate;
  /** Where the row's station stands, asked once a station. */
  place(row: FieldRow): StationPlace;
}

/** Metres a second in one unit: the knot is 1852 m an hour, the mile 1609.344 m, both exact. */
export const METERS_PER_SECOND: Readonly<Record<SpeedUnit, number>> = {
  'm/s': 1,
  'km/h': 1 / 3.6,
  mph: 0.44704,
  kt: 1852 / 3600,
};

/** Our own bar, no source: faster than this is a slip of units or digits. */
const MOST_METERS_PER_SECOND = 90;

/**
 * Puts direction (degrees, NaN for none) and speed into `seen`, north as 360. Calm has no direction.
 * `withoutDirection` says what wind without a direction is in this layout.
 */
export function takeWind(
  seen: Sighting,
  degrees: number,
  metersPerSecond: number,
  withoutDirection: 'variable' | 'missing',
): Fate {
  seen.fromDegrees = NaN;
  seen.speedMetersPerSecond = metersPerSecond;
  if (Number.isNaN(metersPerSecond)) return 'missing';
  if (metersPerSecond < 0 || metersPerSecond > MOST_METERS_PER_SECOND) return 'out-of-range';
  if (metersPerSecond === 0) return 'kept';
  if (Number.isNaN(degrees)) return withoutDirection === 'variable' ? 'kept' : 'missing';
  if (degrees < 0 || degrees > 360) return 'out-of-range';
  seen.fromDegrees = degrees === 0 ? 360 : degrees;
  return 'kept';
}

/** Quality codes of the integrated surface data that mean suspect or wrong (2, 3, 6, 7). */
export function isSuspect(code: number): boolean {
  return code === 50 || code === 51 || code === 54 || code === 55;
}

export const NOWHERE: StationPlace = {
  name: null,
  longitude: null,
  latitude: null,
  elevationMeters: null,
};

/** A place of three fields; degrees out of their range are not believed. */
export function placeOf(
  name: string | null,
  longitude: number,
  latitude: number,
  elevationMeters: number,
): StationPlace {
  const known =
    Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90 && !(longitude === 0 && latitude === 0);
  const high = elevationMeters > -500 && elevationMeters < 9000;
  return {
    name: name === '' ? null : name,
    longitude: known ? longitude : null,
    latitude: known ? latitude : null,
    elevationMeters: high ? elevationMeters : null,
  };
}
