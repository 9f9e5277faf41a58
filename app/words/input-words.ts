import type { Basis } from '../../geo/answers/finding.ts';
import {
  areaQuantity,
  bearing,
  figure,
  lengthQuantity,
  rangeQuantity,
  shareQuantity,
  slopeQuantity,
  spoken,
  volumeQuantity,
  windSpeedQuantity,
  type UnitSystem,
} from './format.ts';
import { horsepower } from './machine-words.ts';
import {
  cubicYardsFromCubicMeters,
  feetFromMeters,
  inchesFromMeters,
} from '../../geo/frame/units.ts';

/** The inputs of an answer as lines: the key's words, and its value in the units of the page. */
export function inputWords(
  inputs: Basis['inputs'],
  units: UnitSystem,
): readonly { readonly label: string; readonly text: string }[] {
  return Object.entries(inputs).map(([key, value]) => ({
    label: labelOf(key),
    text: value === null ? 'not known' : textOf(key, value, units),
  }));
}

/**
 * A sentence of a basis as it is read: `{stepMeters}` in it stands for the input of that name, said in
 * the units of the page and no finer than one would say it.
 */
export function basisText(text: string, { inputs }: Basis, units: UnitSystem): string {
  return text.replace(/\{(\w+)\}/g, (_, key: string) => {
    const value = inputs[key] ?? null;
    if (value === null) return 'not known';
    const isLength = typeof value === 'number' && unitEndings.exec(key)?.[1] === 'Meters';
    if (!isLength || isRange(key) || value < 0.3) return textOf(key, value, units);
    return spoken(lengthQuantity(value, units));
  });
}

/** A basis with its sentences as they are read. */
export function basisSaid(basis: Basis, units: UnitSystem): Basis {
  const said = (text: string) => basisText(text, basis, units);
  return {
    ...basis,
    method: basis.method.map(said),
    source: said(basis.source),
    confidence: said(basis.confidence),
  };
}

/** Shots, scent and sight are said in yards, like everywhere on the page. */
function isRange(key: string): boolean {
  return /^(range|farthestShot|earthWithin|othersWithin)Meters$/.test(key);
}

const unitEndings =
  /(SquareMeters|CubicMeters|MetersPerSecond|Meters|Kilowatts|Degrees|Hours|Share|Slope|RiseOverRun|Count)$/;

function labelOf(key: string): string {
  const bare = key.replace(
    /(SquareMeters|CubicMeters|MetersPerSecond|Meters|Kilowatts|Degrees|Hours)$/,
    '',
  );
  const spaced = (bare || key).replace(/([a-z0-9])([A-Z])/g, '$1 $2').toLowerCase();
  return spaced.charAt(0).toUpperCase() + spaced.slice(1);
}

function textOf(key: string, value: number | string, units: UnitSystem): string {
  if (typeof value === 'string') return value;
  switch (unitEndings.exec(key)?.[1]) {
    case 'SquareMeters':
      return spoken(areaQuantity(value, units));
    case 'CubicMeters':
      return smallVolume(value, units);
    case 'MetersPerSecond':
      return spoken(windSpeedQuantity(value, units));
    case 'Meters':
      if (isRange(key)) return spoken(rangeQuantity(value, units));
      return shortLength(value, units);
    case 'Kilowatts':
      return units === 'metric' ? `${figure(value, 0)} kW` : horsepower(value * 1000);
    case 'Degrees':
      return bearing(value);
    case 'Hours':
      return `${figure(value, 0)} h`;
    case 'Share':
      return spoken(shareQuantity(value));
    case 'Slope':
    case 'RiseOverRun':
      return spoken(slopeQuantity(value));
    default:
      return Number.isInteger(value) ? figure(value, 0) : String(Number(value.toPrecision(4)));
  }
}

/** A blade's load is a few yards, a site's water thousands. */
function smallVolume(cubicMeters: number, units: UnitSystem): string {
  const size = units === 'metric' ? cubicMeters : cubicYardsFromCubicMeters(cubicMeters);
  if (size >= 10 || size < 0.1) return spoken(volumeQuantity(cubicMeters, units));
  return `${figure(size, 1)} ${units === 'metric' ? 'm³' : 'yd³'}`;
}

/** Inputs may be inches or miles long, so that the digits follow the size. */
function shortLength(meters: number, units: UnitSystem): string {
  const size = Math.abs(meters);
  if (units === 'metric') {
    return size < 1 ? `${figure(meters * 100, size < 0.1 ? 1 : 0)} cm` : `${figure(meters, 1)} m`;
  }
  if (size < 0.6) return `${figure(inchesFromMeters(meters), 1)} in`;
  const feet = feetFromMeters(meters);
  return Math.abs(feet) < 100 ? `${figure(feet, 1)} ft` : spoken(lengthQuantity(meters, units));
}
