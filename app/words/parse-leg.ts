import { findDirection } from '../../geo/plan/construct/read-direction.ts';
import type { UnitSystem } from './format.ts';
import { bareLengthUnit, parseBearing, parseLength } from './parse-measure.ts';

/** A run from one point to the next, as it is typed while drawing. */
export interface TypedLeg {
  readonly lengthMeters: number;
  /** Clockwise from true north; null goes on the way the pointer shows. */
  readonly bearingDegrees: number | null;
}

/**
 * "200 ft N45E", "200, 143", "61 m S 45-30 W", "200 ft": a length with or without its unit, then a
 * direction or none. A bare length is in feet, or metres where the plan is metric. Null when it is
 * no such run, or has no length. Examples: "200 ft N45E" is 60.96 m at 45°; "100, 143" 30.48 m at 143°.
 */
export function parseLeg(text: string, units: UnitSystem): TypedLeg | null {
  // "1,200 ft": a comma with three digits behind it and no blank parts thousands.
  const { length, direction } = parted(text.trim().replace(/(\d),(?=\d{3}(?!\d))/g, '$1'));
  const lengthMeters = parseLength(length, bareLengthUnit(units, false));
  if (lengthMeters === null || !(lengthMeters > 0)) return null;
  if (direction === '') return { lengthMeters, bearingDegrees: null };
  const bearingDegrees = readDirection(direction);
  return bearingDegrees === null ? null : { lengthMeters, bearingDegrees };
}

/** A direction in any of the ways that deeds and people write it; null when it is none. */
export function readDirection(text: string): number | null {
  // "45 W" is neither degrees nor a bearing of a deed.
  const plain = /^[\d.\s]+°?\s*$|^[a-z]+$/i.test(text.trim()) ? parseBearing(text) : null;
  if (plain !== null) return plain;
  const found = findDirection(text.trim());
  const isWhole = found?.start === 0 && found.end === text.trim().length;
  return isWhole && Number.isFinite(found.value) ? found.value : null;
}

/** What stands before a comma, "@" or the first letter of a direction, and the rest. */
function parted(text: string): { length: string; direction: string } {
  const mark =
    /[,;@]\s*(?=\S)|\s+(?=(?:[nsew]|north|south|east|west|due|az|bearing)[\s\d.ew]|(?:[nsew]|[ns][ew]|north\w*|south\w*|east|west)$)/i;
  const at = mark.exec(text);
  if (at)
    return { length: text.slice(0, at.index), direction: text.slice(at.index + at[0].length) };
  // "200 ft 143°": what follows a unit and a blank and has a degree sign.
  const degrees = /\s+(?=[\d.]+\s*°)/.exec(text);
  if (!degrees) return { length: text, direction: '' };
  return {
    length: text.slice(0, degrees.index),
    direction: text.slice(degrees.index + degrees[0].length),
  };
}
