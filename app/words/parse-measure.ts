import { metersFromFeet, metersFromInches, metersFromYards } from '../../geo/frame/units.ts';
import type { UnitSystem } from './format.ts';

const FOOT = metersFromFeet(1);
const INCH = metersFromInches(1);
const YARD = metersFromYards(1);

/** Metres per unit, by every spelling that a person may type. */
const lengthUnits: Readonly<Record<string, number>> = {
  m: 1,
  meter: 1,
  meters: 1,
  metre: 1,
  metres: 1,
  cm: 0.01,
  mm: 0.001,
  ft: FOOT,
  foot: FOOT,
  feet: FOOT,
  "'": FOOT,
  '\u2032': FOOT,
  in: INCH,
  inch: INCH,
  inches: INCH,
  '"': INCH,
  '\u2033': INCH,
  yd: YARD,
  yard: YARD,
  yards: YARD,
};

/**
 * Reads a length as typed ("7 ft 6 in", 7'6", "7.5", "2.3 m") into metres; null when it is not one.
 * A bare number is in `bareUnit`; a bare number after feet is inches.
 */
export function parseLength(text: string, bareUnit: string): number | null {
  const cleaned = text
    .trim()
    .toLowerCase()
    .replace(/,/g, '')
    .replace(/about /, '');
  const part = /(\d+(?:\.\d+)?|\.\d+)\s*([a-z]+|['"\u2032\u2033])?\s*/gy;
  let meters = 0;
  let last = '';
  let end = 0;
  for (let found = part.exec(cleaned); found; found = part.exec(cleaned)) {
    const written = found[2] ?? (isFoot(last) ? 'in' : last === '' ? bareUnit : '');
    const factor = lengthUnits[written];
    if (factor === undefined) return null;
    meters += Number(found[1]) * factor;
    last = written;
    end = part.lastIndex;
  }
  return end === cleaned.length && last !== '' ? meters : null;
}

function isFoot(unit: string): boolean {
  return lengthUnits[unit] === FOOT;
}

/** Reads a plain number as typed, with or without a trailing word or sign; null when it is not one. */
export function parseNumber(text: string): number | null {
  const found = /^\s*([+\-\u2212]?(?:\d+(?:\.\d+)?|\.\d+))\s*[^\d]*$/.exec(text.replace(/,/g, ''));
  return found ? Number(found[1]!.replace('\u2212', '-')) : null;
}

/** Reads a bearing: "143", "143°", or one of eight compass words or letters. */
export function parseBearing(text: string): number | null {
  const named = bearingNames[text.trim().toLowerCase()];
  if (named !== undefined) return named;
  const degrees = parseNumber(text);
  return degrees !== null && degrees >= 0 && degrees <= 360 ? degrees % 360 : null;
}

const bearingNames: Readonly<Record<string, number>> = Object.fromEntries(
  [
    ['n', 'north'],
    ['ne', 'northeast'],
    ['e', 'east'],
    ['se', 'southeast'],
    ['s', 'south'],
    ['sw', 'southwest'],
    ['w', 'west'],
    ['nw', 'northwest'],
  ].flatMap((names, index) => names.map((name) => [name, index * 45])),
);

/** The unit that a bare length is read in. */
export function bareLengthUnit(units: UnitSystem, small: boolean): string {
  if (units === 'metric') return small ? 'cm' : 'm';
  return small ? 'in' : 'ft';
}
