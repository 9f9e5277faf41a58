import type { LinearUnit } from './crs-types.ts';

/**
 * Units at the edge. Everything inside `geo/` is SI; this is the only module that knows a foot, an
 * acre or a pound. Factors are exact by definition: the international foot, yard and pound (1959
 * agreement: 0.9144 m and 0.45359237 kg), the US survey foot (1200/3937 m, for coordinates only),
 * the US gallon (231 cubic inches). Everywhere but in coordinates and heights "foot" and "acre"
 * are the international ones.
 */
const METERS_PER_FOOT = 0.3048;
const METERS_PER_US_SURVEY_FOOT = 1200 / 3937;
const METERS_PER_INCH = METERS_PER_FOOT / 12;
const METERS_PER_YARD = 3 * METERS_PER_FOOT;
const METERS_PER_MILE = 5280 * METERS_PER_FOOT;
const SQUARE_METERS_PER_ACRE = 43_560 * METERS_PER_FOOT ** 2;
const CUBIC_METERS_PER_CUBIC_FOOT = METERS_PER_FOOT ** 3;
const CUBIC_METERS_PER_CUBIC_YARD = METERS_PER_YARD ** 3;
const CUBIC_METERS_PER_GALLON = 231 * METERS_PER_INCH ** 3;
const KILOGRAMS_PER_POUND = 0.45359237;
const POUNDS_PER_TON = 2000;

const METERS_PER_UNIT: Readonly<Record<LinearUnit, number>> = {
  metre: 1,
  'us-survey-foot': METERS_PER_US_SURVEY_FOOT,
  'international-foot': METERS_PER_FOOT,
};

/** Metres in one unit of a coordinate or a height. 'us-survey-foot' gives 0.304800609601219… */
export function metersPerUnit(unit: LinearUnit): number {
  return METERS_PER_UNIT[unit];
}

/**
 * The linear unit that a file's factor means, or null when it is none of the three. The two feet
 * are 6.1e-7 m apart; files print the survey foot to as few as eight digits, so 1e-7 m decides.
 * 0.3048006 gives 'us-survey-foot'.
 */
export function unitFromFactor(metersPerOne: number): LinearUnit | null {
  for (const unit of Object.keys(METERS_PER_UNIT) as LinearUnit[]) {
    if (Math.abs(METERS_PER_UNIT[unit] - metersPerOne) < 1e-7) return unit;
  }
  return null;
}

/** Coordinates and heights: a value in `unit` to metres. 2,000,000 survey feet: 609601.2192 m. */
export function metersFrom(value: number, unit: LinearUnit): number {
  return value * METERS_PER_UNIT[unit];
}

/** Coordinates and heights: metres to a value in `unit`. */
export function metersTo(meters: number, unit: LinearUnit): number {
  return meters / METERS_PER_UNIT[unit];
}

/** International feet. 100 ft: 30.48 m. */
export const metersFromFeet = (feet: number): number => feet * METERS_PER_FOOT;
export const feetFromMeters = (meters: number): number => meters / METERS_PER_FOOT;

export const metersFromInches = (inches: number): number => inches * METERS_PER_INCH;
export const inchesFromMeters = (meters: number): number => meters / METERS_PER_INCH;

export const metersFromYards = (yards: number): number => yards * METERS_PER_YARD;
export const yardsFromMeters = (meters: number): number => meters / METERS_PER_YARD;

export const metersFromMiles = (miles: number): number => miles * METERS_PER_MILE;
export const milesFromMeters = (meters: number): number => meters / METERS_PER_MILE;

/** International acres. 1 ac: 4046.8564224 m². */
export const squareMetersFromAcres = (acres: number): number => acres * SQUARE_METERS_PER_ACRE;
export const acresFromSquareMeters = (squareMeters: number): number =>
  squareMeters / SQUARE_METERS_PER_ACRE;

export const squareMetersFromSquareFeet = (squareFeet: number): number =>
  squareFeet * METERS_PER_FOOT ** 2;
export const squareFeetFromSquareMeters = (squareMeters: number): number =>
  squareMeters / METERS_PER_FOOT ** 2;

export const cubicMetersFromCubicFeet = (cubicFeet: number): number =>
  cubicFeet * CUBIC_METERS_PER_CUBIC_FOOT;
export const cubicFeetFromCubicMeters = (cubicMeters: number): number =>
  cubicMeters / CUBIC_METERS_PER_CUBIC_FOOT;

/** 1 yd³: 0.764554857984 m³. */
export const cubicMetersFromCubicYards = (cubicYards: number): number =>
  cubicYards * CUBIC_METERS_PER_CUBIC_YARD;
export const cubicYardsFromCubicMeters = (cubicMeters: number): number =>
  cubicMeters / CUBIC_METERS_PER_CUBIC_YARD;

/** US gallons. 1 gal: 0.003785411784 m³. */
export const cubicMetersFromGallons = (gallons: number): number =>
  gallons * CUBIC_METERS_PER_GALLON;
export const gallonsFromCubicMeters = (cubicMeters: number): number =>
  cubicMeters / CUBIC_METERS_PER_GALLON;

/** 10 mph: 4.4704 m/s. */
export const metersPerSecondFromMilesPerHour = (milesPerHour: number): number =>
  (milesPerHour * METERS_PER_MILE) / 3600;
export const milesPerHourFromMetersPerSecond = (metersPerSecond: number): number =>
  (metersPerSecond * 3600) / METERS_PER_MILE;

export const kilogramsFromPounds = (pounds: number): number => pounds * KILOGRAMS_PER_POUND;
export const poundsFromKilograms = (kilograms: number): number => kilograms / KILOGRAMS_PER_POUND;

/** US short tons of 2,000 lb. 1 ton: 907.18474 kg. */
export const kilogramsFromTons = (tons: number): number =>
  tons * POUNDS_PER_TON * KILOGRAMS_PER_POUND;
export const tonsFromKilograms = (kilograms: number): number =>
  kilograms / (POUNDS_PER_TON * KILOGRAMS_PER_POUND);
