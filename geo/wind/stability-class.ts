/** Pasquill's classes of how the air mixes, from A (strongly) to F (hardly). */
export type StabilityClass = 'A' | 'B' | 'C' | 'D' | 'E' | 'F';

const LETTERS: readonly StabilityClass[] = ['A', 'B', 'C', 'D', 'E', 'F'];

/** A column of Pasquill's key. */
export type PasquillSky =
  'strong-sun' | 'moderate-sun' | 'slight-sun' | 'cloudy-night' | 'clear-night';

const PASQUILL_SPEEDS = [2, 3, 5, 6];
const PASQUILL: Readonly<Record<PasquillSky, readonly string[]>> = {
  'strong-sun': ['A', 'AB', 'B', 'C', 'C'],
  'moderate-sun': ['AB', 'B', 'BC', 'CD', 'D'],
  'slight-sun': ['B', 'C', 'C', 'D', 'D'],
  'cloudy-night': ['E', 'E', 'D', 'D', 'D'],
  'clear-night': ['F', 'F', 'E', 'D', 'D'],
};

/**
 * Pasquill's key of 1961 (handbook, section 7.1, C 36) for the wind at 10 m in m/s; a speed on an
 * edge belongs to the windier row. Two letters where the key stands between two classes. Night is
 * from 1 h before sunset to 1 h after sunrise, cloudy with more than 4/8 of low cloud; under an
 * overcast sky take D by day and night. Throws RangeError for a speed below 0 or not finite.
 */
export function pasquillKey(
  metersPerSecond: number,
  sky: PasquillSky,
): readonly [StabilityClass] | readonly [StabilityClass, StabilityClass] {
  expectSpeed(metersPerSecond);
  const row = PASQUILL_SPEEDS.filter((edge) => metersPerSecond >= edge).length;
  const [one, other] = PASQUILL[sky][row]! as unknown as [StabilityClass, StabilityClass?];
  return other === undefined ? [one] : [one, other];
}

/** What Turner's method asks of an hour. */
export interface TurnerHour {
  /** At 10 m. */
  readonly speedMetersPerSecond: number;
  readonly sunElevationDegrees: number;
  /** From 1 h before sunset to 1 h after sunrise. */
  readonly isNight: boolean;
  /** Share of the sky covered; NaN where it is not known. */
  readonly cloudShare: number;
  /** Height of the lowest broken or overcast layer; Infinity for none, NaN where not known. */
  readonly ceilingMeters: number;
}

const METERS_PER_FOOT = 0.3048;
const LOW_CEILING = 7000 * METERS_PER_FOOT;
const MIDDLE_CEILING = 16_000 * METERS_PER_FOOT;
/** Lower edges of the rows, m/s to one decimal. */
const TURNER_SPEEDS = [0.8, 1.9, 2.9, 3.4, 3.9, 4.9, 5.5, 6.0];
/** Columns: net radiation index 4, 3, 2, 1, 0, -1, -2. */
const TURNER: readonly (readonly number[])[] = [
  [1, 1, 2, 3, 4, 6, 7],
  [1, 2, 2, 3, 4, 6, 7],
  [1, 2, 3, 4, 4, 5, 6],
  [2, 2, 3, 4, 4, 5, 6],
  [2, 2, 3, 4, 4, 4, 5],
  [2, 3, 3, 4, 4, 4, 5],
  [3, 3, 4, 4, 4, 4, 5],
  [3, 3, 4, 4, 4, 4, 4],
  [3, 4, 4, 4, 4, 4, 4],
];

/**
 * Class by Turner's method: EPA-454/R-99-005 tables 6-4 to 6-6 (handbook, section 7.1, C 37); the
 * steps down for cloud over 5/10 under ceilings of 7,000 and 16,000 ft are from memory of the same
 * pages. Class 7 counts as F. Cloud that is not known counts as half the sky: no step down by day,
 * index -1 by night. Throws RangeError for a speed below 0 or not finite.
 * Example: sun 40 degrees up, clear, 3 m/s: index 3, class B.
 */
export function turnerClass(hour: TurnerHour): StabilityClass {
  return LETTERS[Math.min(turnerNumber(hour.speedMetersPerSecond, radiationIndex(hour)), 6) - 1]!;
}

/** The number of the class, 1 to 7, for a net radiation index from 4 to -2. */
export function turnerNumber(metersPerSecond: number, index: number): number {
  expectSpeed(metersPerSecond);
  const speed = Math.round(metersPerSecond * 10) / 10;
  const row = TURNER_SPEEDS.filter((edge) => speed >= edge).length;
  return TURNER[row]![4 - index]!;
}

/** Net radiation index, 4 to -2. */
export function radiationIndex(hour: TurnerHour): number {
  const { isNight, sunElevationDegrees, ceilingMeters } = hour;
  const cloud = Number.isNaN(hour.cloudShare) ? 0.5 : hour.cloudShare;
  const isOvercast = cloud >= 0.95;
  const isLow = ceilingMeters < LOW_CEILING;
  if (isOvercast && isLow) return 0;
  if (isNight) return cloud <= 0.4 ? -2 : -1;
  const bySun =
    sunElevationDegrees > 60 ? 4 : sunElevationDegrees > 35 ? 3 : sunElevationDegrees > 15 ? 2 : 1;
  if (cloud <= 0.5) return bySun;
  if (isLow) return Math.max(1, bySun - 2);
  if (ceilingMeters < MIDDLE_CEILING || isOvercast) return Math.max(1, bySun - 1);
  return bySun;
}

function expectSpeed(metersPerSecond: number): void {
  if (metersPerSecond >= 0 && metersPerSecond < Infinity) return;
  throw new RangeError(`stability class: ${metersPerSecond} m/s`);
}
