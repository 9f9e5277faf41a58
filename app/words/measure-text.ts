import { inchesFromMeters, metersFromInches } from '../../geo/frame/units.ts';
import { bearing, figure, tape, type UnitSystem } from './format.ts';
import { bareLengthUnit, parseBearing, parseLength, parseNumber } from './parse-measure.ts';
import type { PropertyWords } from './property-words.ts';

/** A number of a feature as it is written in its field, and read back from it. */

export function measureText(value: number, words: PropertyWords, units: UnitSystem): string {
  switch (words.measure) {
    case 'tape':
      return tape(value, units);
    case 'bearing':
      return bearing(value);
    case 'ksat':
      return `${plain(ksatShown(value, units))} ${ksatUnit(units)}`;
    case 'percent':
      return `${plain(value * 100)} %`;
    default:
      return words.unit ? `${plain(value)} ${words.unit}` : plain(value);
  }
}

/** Null when the text is no such measure. */
export function measureFrom(text: string, words: PropertyWords, units: UnitSystem): number | null {
  switch (words.measure) {
    case 'tape':
      return parseLength(text, bareLengthUnit(units, false));
    case 'bearing':
      return parseBearing(text.replace(/^\s*(?:nw|ne|sw|se|n|e|s|w)\s+(?=\d)/i, ''));
    case 'ksat': {
      const shown = parseNumber(text.replace(/(in|mm)\s*\/\s*h\s*$/i, ''));
      return shown === null ? null : ksatFrom(shown, units);
    }
    case 'percent': {
      const shown = parseNumber(text);
      return shown === null ? null : shown / 100;
    }
    default:
      return parseNumber(words.unit ? text.replace(words.unit, '') : text);
  }
}

/** What to type instead, when a text is no such measure. */
export function measureHint(words: PropertyWords, units: UnitSystem): string {
  switch (words.measure) {
    case 'tape':
      return units === 'metric'
        ? 'Write a length, such as 2.3 m.'
        : 'Write a length, such as 7 ft 6 in.';
    case 'bearing':
      return 'Write degrees from 0 to 360, or a direction such as SE.';
    default:
      return 'Write a number.';
  }
}

function ksatUnit(units: UnitSystem): string {
  return units === 'metric' ? 'mm/h' : 'in/h';
}

function ksatShown(metersPerSecond: number, units: UnitSystem): number {
  const perHour = metersPerSecond * 3600;
  return units === 'metric' ? perHour * 1000 : inchesFromMeters(perHour);
}

function ksatFrom(shown: number, units: UnitSystem): number {
  return (units === 'metric' ? shown / 1000 : metersFromInches(shown)) / 3600;
}

function plain(value: number): string {
  return Number.isInteger(value) ? figure(value, 0) : String(Number(value.toPrecision(4)));
}
