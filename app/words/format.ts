import type { Settings } from '../../geo/plan/settings.ts';
import {
  acresFromSquareMeters,
  cubicYardsFromCubicMeters,
  feetFromMeters,
  inchesFromMeters,
  milesPerHourFromMetersPerSecond,
  squareFeetFromSquareMeters,
  yardsFromMeters,
} from '../../geo/frame/units.ts';

/**
 * Numbers at the edge: SI in, a figure and its unit out. No more digits than the survey can hold;
 * `about` is said wherever the survey's error moves the last digit shown.
 */
export interface Quantity {
  readonly about: boolean;
  readonly text: string;
  readonly unit: string;
}

export type UnitSystem = Settings['units'];

const NO_VALUE: Quantity = { about: false, text: 'not known', unit: '' };

/** "about 20 in": for sentences and for labels read aloud. */
export function spoken(quantity: Quantity): string {
  const joined = quantity.unit ? `${quantity.text} ${quantity.unit}` : quantity.text;
  return quantity.about ? `about ${joined}` : joined;
}

/** Fixed decimals, thousands parted by commas, a true minus sign; -0 is written 0. */
export function figure(value: number, decimals: number): string {
  const fixed = Math.abs(value).toFixed(decimals);
  const [whole, part] = fixed.split('.') as [string, string | undefined];
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ',');
  const sign = value < 0 && Number(fixed) !== 0 ? '\u2212' : '';
  return sign + grouped + (part === undefined ? '' : `.${part}`);
}

/** Acres to 0.01 under 10 and 0.1 above; square feet under 0.01 ac. Metric: ha, m² under 0.1 ha. */
export function areaQuantity(squareMeters: number | null, units: UnitSystem): Quantity {
  if (!isNumber(squareMeters)) return NO_VALUE;
  if (units === 'metric') {
    const hectares = squareMeters / 10_000;
    if (hectares < 0.1) return exact(figure(squareMeters, 0), 'm²');
    return exact(figure(hectares, hectares < 1 ? 3 : hectares < 100 ? 2 : 1), 'ha');
  }
  const acres = acresFromSquareMeters(squareMeters);
  if (acres < 0.01) {
    return exact(figure(squareFeetFromSquareMeters(squareMeters), 0), 'ft²');
  }
  return exact(figure(acres, acres < 100 ? 2 : 1), 'ac');
}

/** Lengths along the ground: whole feet; metres to 0.1 under 100. */
export function lengthQuantity(meters: number | null, units: UnitSystem): Quantity {
  if (!isNumber(meters)) return NO_VALUE;
  if (units === 'metric') return exact(figure(meters, Math.abs(meters) < 100 ? 1 : 0), 'm');
  return exact(figure(feetFromMeters(meters), 0), 'ft');
}

/** Shots and reach: whole yards; metric: metres. */
export function rangeQuantity(meters: number | null, units: UnitSystem): Quantity {
  if (!isNumber(meters)) return NO_VALUE;
  if (units === 'metric') return exact(figure(meters, 0), 'm');
  return exact(figure(yardsFromMeters(meters), 0), 'yd');
}

/** Heights above the datum: 0.1 ft, or whole feet where one standard error is a foot or more. */
export function elevationQuantity(
  meters: number | null,
  errorMeters: number | null,
  units: UnitSystem,
): Quantity {
  if (!isNumber(meters)) return NO_VALUE;
  const coarse = (errorMeters ?? 0) >= 0.3048;
  if (units === 'metric') {
    const decimals = coarse ? 0 : (errorMeters ?? 0.1) < 0.03 ? 2 : 1;
    return exact(figure(meters, decimals), 'm');
  }
  return exact(figure(feetFromMeters(meters), coarse ? 0 : 1), 'ft');
}

/** A difference of heights over a plot: feet to 0.1 under 10, else whole. */
export function fallQuantity(
  meters: number | null,
  errorMeters: number | null,
  units: UnitSystem,
): Quantity {
  if (!isNumber(meters)) return NO_VALUE;
  const inUnit = units === 'metric' ? (value: number) => value : feetFromMeters;
  const value = inUnit(meters);
  const error = inUnit(errorMeters ?? 0);
  const decimals = Math.abs(value) < 10 && error < 1 ? 1 : 0;
  return { about: error > 0, text: figure(value, decimals), unit: units === 'metric' ? 'm' : 'ft' };
}

/**
 * Depth of a low spot. The step is the smallest of 1, 2, 5, 10 in (or cm) that is not finer than a
 * quarter of the survey's standard error: 0.50 m on a 0.10 m survey reads "about 20 in".
 */
export function depthQuantity(
  meters: number | null,
  errorMeters: number | null,
  units: UnitSystem,
): Quantity {
  if (!isNumber(meters)) return NO_VALUE;
  const unit = units === 'metric' ? 'cm' : 'in';
  const inUnit = units === 'metric' ? (value: number) => value * 100 : inchesFromMeters;
  const value = inUnit(meters);
  const quarter = inUnit(errorMeters ?? 0) / 4;
  const step = [1, 2, 5, 10].find((s) => s >= quarter) ?? 20;
  const rounded = Math.round(value / step) * step;
  if (rounded === 0) return { about: false, text: `under ${step}`, unit };
  return { about: (errorMeters ?? 0) > 0, text: figure(rounded, 0), unit };
}

/** Stated or assumed error of heights: 0.1 in under 10 in. */
export function errorQuantity(meters: number | null, units: UnitSystem): Quantity {
  if (!isNumber(meters)) return NO_VALUE;
  if (units === 'metric') return exact(figure(meters * 100, meters < 0.1 ? 1 : 0), 'cm');
  const inches = inchesFromMeters(meters);
  return exact(figure(inches, inches < 10 ? 1 : 0), 'in');
}

/** Water or earth: two significant figures, always "about". */
export function volumeQuantity(cubicMeters: number | null, units: UnitSystem): Quantity {
  if (!isNumber(cubicMeters)) return NO_VALUE;
  const unit = units === 'metric' ? 'm³' : 'yd³';
  const value = units === 'metric' ? cubicMeters : cubicYardsFromCubicMeters(cubicMeters);
  if (value < 1) return { about: false, text: 'under 1', unit };
  return { about: true, text: figure(significant(value, 2), 0), unit };
}

/** Slope as percent: 0.1 under 10 %, whole above. */
export function slopeQuantity(riseOverRun: number | null): Quantity {
  if (!isNumber(riseOverRun)) return NO_VALUE;
  const percent = riseOverRun * 100;
  return exact(figure(percent, percent < 9.95 ? 1 : 0), '%');
}

export function shareQuantity(share: number): Quantity {
  return exact(figure(share * 100, 0), '%');
}

export function windSpeedQuantity(metersPerSecond: number, units: UnitSystem): Quantity {
  if (units === 'metric') return exact(figure(metersPerSecond, 1), 'm/s');
  return exact(figure(milesPerHourFromMetersPerSecond(metersPerSecond), 0), 'mph');
}

export function rainQuantity(meters: number, units: UnitSystem): Quantity {
  if (units === 'metric') return exact(figure(meters * 1000, 0), 'mm');
  return exact(figure(inchesFromMeters(meters), 2), 'in');
}

/** Feet and inches, as a tape reads: 3.6576 m is "12 ft", 2.286 m is "7 ft 6 in". Metric: metres. */
export function tape(meters: number, units: UnitSystem): string {
  if (units === 'metric') return `${trimZeros(figure(meters, 2))} m`;
  const inches = Math.round(inchesFromMeters(meters));
  const feet = Math.trunc(inches / 12);
  const rest = inches - feet * 12;
  if (feet === 0) return `${rest} in`;
  return rest === 0 ? `${figure(feet, 0)} ft` : `${figure(feet, 0)} ft ${rest} in`;
}

/** Station along a line: hundreds of feet, plus, feet ("1+25"). Metric: "0+038" by thousands. */
export function station(meters: number, units: UnitSystem): string {
  const base = units === 'metric' ? 1000 : 100;
  const whole = Math.round(units === 'metric' ? meters : feetFromMeters(meters));
  const digits = units === 'metric' ? 3 : 2;
  return `${Math.floor(whole / base)}+${String(whole % base).padStart(digits, '0')}`;
}

/** "36.14030° N 74.99630° W": five decimals are about a metre. */
export function coordinate(longitude: number, latitude: number): string {
  const northSouth = latitude < 0 ? 'S' : 'N';
  const eastWest = longitude < 0 ? 'W' : 'E';
  return `${Math.abs(latitude).toFixed(5)}° ${northSouth} ${Math.abs(longitude).toFixed(5)}° ${eastWest}`;
}

const compass8 = ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'] as const;
const words8 = [
  'north',
  'northeast',
  'east',
  'southeast',
  'south',
  'southwest',
  'west',
  'northwest',
] as const;

export function compassLetters(degrees: number): string {
  return compass8[octant(degrees)]!;
}

export function compassWord(degrees: number): string {
  return words8[octant(degrees)]!;
}

/** Sixteen directions, clockwise from north. */
export const directions16 = ['N', 'NNE', 'NE', 'ENE', 'E', 'ESE', 'SE', 'SSE', 'S', 'SSW', 'SW', 'WSW', 'W', 'WNW', 'NW', 'NNW'] as const; // prettier-ignore

/** "WNW 289°": to the nearest of sixteen, where two bearings must be told apart. */
export function bearing16(degrees: number): string {
  const whole = ((Math.round(degrees) % 360) + 360) % 360;
  return `${directions16[Math.round(whole / 22.5) % 16]!} ${whole}°`;
}

/** "SE 143°" */
export function bearing(degrees: number): string {
  const whole = ((Math.round(degrees) % 360) + 360) % 360;
  return `${compassLetters(degrees)} ${whole}°`;
}

function octant(degrees: number): number {
  return ((Math.round(degrees / 45) % 8) + 8) % 8;
}

function exact(text: string, unit: string): Quantity {
  return { about: false, text, unit };
}

function isNumber(value: number | null | undefined): value is number {
  return value !== null && value !== undefined && Number.isFinite(value);
}

function significant(value: number, digits: number): number {
  return Number(value.toPrecision(digits));
}

function trimZeros(text: string): string {
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}
