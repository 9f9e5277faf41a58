import { metersFromInches, inchesFromMeters } from '../../geo/frame/units.ts';
import { figure, type UnitSystem } from './format.ts';
import { bareLengthUnit, parseLength, parseNumber } from './parse-measure.ts';

/** The numbers of a tree tally as a cruiser writes them: inches, per acre, square feet per acre. */

const ACRES_PER_HECTARE = 2.4710538147;
/** Square metres a hectare in one square foot an acre. */
const BASAL_AREA = 0.09290304 * ACRES_PER_HECTARE;

type Reading = { readonly value: number } | { readonly wrong: string };

export function diameterText(meters: number, units: UnitSystem): string {
  const [value, unit] =
    units === 'metric' ? [meters * 100, 'cm'] : [inchesFromMeters(meters), 'in'];
  return `${figure(value, 1).replace(/\.0$/, '')} ${unit}`;
}

/** A bare number is inches or centimetres; 1 cm to 3 m, as the plan allows. */
export function readDiameter(text: string, units: UnitSystem): Reading {
  const meters = parseLength(text, bareLengthUnit(units, true));
  if (meters !== null && meters >= 0.01 && meters <= 3) {
    return { value: Math.round(meters * 1e5) / 1e5 };
  }
  return { wrong: units === 'metric' ? 'Write 1 to 300 cm.' : 'Write half an inch to 118 in.' };
}

export function stemsText(perHectare: number, units: UnitSystem): string {
  const perUnit = units === 'metric' ? perHectare : perHectare / ACRES_PER_HECTARE;
  return `${figure(perUnit, perUnit < 10 ? 1 : 0).replace(/\.0$/, '')} ${units === 'metric' ? 'per ha' : 'per ac'}`;
}

export function readStems(text: string, units: UnitSystem): Reading {
  const found = parseNumber(text.replace(/(stems|trees)?\s*(per|\/|an?)\s*(ac|acre|ha)\b/i, ''));
  const isMetric = /\bha\b/i.test(text) || (units === 'metric' && !/\bac/i.test(text));
  const perHectare = (found ?? -1) * (isMetric ? 1 : ACRES_PER_HECTARE);
  if (perHectare >= 0 && perHectare <= 1e6) return { value: Math.round(perHectare * 1000) / 1000 };
  return {
    wrong: `Write how many stand on ${units === 'metric' ? 'a hectare' : 'an acre'}, such as 120.`,
  };
}

export function shareText(share: number): string {
  return `${figure(share * 100, 0)} %`;
}

export function readShare(text: string): Reading {
  const percent = parseNumber(text);
  if (percent !== null && percent >= 0 && percent <= 100) return { value: percent / 100 };
  return { wrong: 'Write a share from 0 to 100 %.' };
}

/** Square feet an acre, or square metres a hectare; back in square metres a hectare. */
export function readBasalArea(text: string, units: UnitSystem): Reading {
  const found = parseNumber(text.replace(/(ft²|ft2|m²|m2|sq\s*ft)?\s*(per|\/|an?)?\s*(ac|acre|ha)?\s*$/i, '')); // prettier-ignore
  if (found !== null && found > 0 && found <= 500) {
    return { value: units === 'metric' ? found : found * BASAL_AREA };
  }
  return { wrong: 'Write basal area, such as 90.' };
}

export function basalAreaUnit(units: UnitSystem): string {
  return units === 'metric' ? 'm²/ha' : 'ft²/ac';
}

/** A new row begins at 8 in. */
export const NEW_DIAMETER = Math.round(metersFromInches(8) * 1e4) / 1e4;
