import type { Kind } from '../../geo/plan/kinds.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { ShapeWish } from '../services/shape-service.ts';
import type { UnitSystem } from './format.ts';
import { bareLengthUnit, parseBearing, parseLength, parseNumber } from './parse-measure.ts';
import type { ShapeChangeName } from './shape-changes.ts';

/** The changes of shape that are told by numbers; the others are drawn. */
export type FormName = Exclude<ShapeChangeName, 'split' | 'hole'>;

/** What stands in the form of a change. */
export interface ShapeNumbers {
  readonly distanceMeters: number;
  /** True. */
  readonly bearingDegrees: number;
  readonly clockwiseDegrees: number;
  readonly side: 'left' | 'right';
  readonly way: 'out' | 'in';
  readonly kind: Kind;
}

/** What a form begins with, in the page's units: short words, so that they can be typed over. */
export function firstNumbers(form: FormName, units: UnitSystem): ShapeNumbers & { text: string } {
  const [feet, meters] = firstDistance[form];
  const text = units === 'metric' ? `${meters} m` : `${feet} ft`;
  return {
    text,
    distanceMeters: parseLength(text, 'm') ?? 0,
    bearingDegrees: 0,
    clockwiseDegrees: 15,
    side: 'right',
    way: 'out',
    kind: 'no-go',
  };
}

const firstDistance: Readonly<Record<FormName, readonly [feet: number, meters: number]>> = {
  grow: [10, 3],
  strip: [25, 8],
  beside: [20, 6],
  simplify: [3, 1],
  move: [50, 15],
  turn: [0, 0],
};

/** What is asked of the worker for the numbers of a form. */
export function shapeWish(
  form: FormName,
  feature: Pick<PlanFeature, 'kind'>,
  numbers: ShapeNumbers,
): ShapeWish {
  const { distanceMeters, bearingDegrees, clockwiseDegrees, side, way, kind } = numbers;
  const itself = { into: 'itself' } as const;
  switch (form) {
    case 'grow': {
      const grown = way === 'in' ? -distanceMeters : distanceMeters;
      return { construction: { make: 'buffer', distanceMeters: grown }, becoming: itself };
    }
    case 'strip':
      return { construction: { make: 'buffer', distanceMeters }, becoming: { into: 'new', kind } };
    case 'beside':
      return {
        construction: { make: 'offset', distanceMeters, side },
        becoming: { into: 'new', kind: feature.kind },
      };
    case 'simplify':
      return {
        construction: { make: 'simplify', toleranceMeters: distanceMeters },
        becoming: itself,
      };
    case 'move':
      return { construction: { make: 'move', distanceMeters, bearingDegrees }, becoming: itself };
    case 'turn':
      return { construction: { make: 'rotate', clockwiseDegrees }, becoming: itself };
  }
}

/** A site is no larger: what is more was mistyped. */
const mostMeters = 10_000;

export function readDistance(
  text: string,
  units: UnitSystem,
): { value: number } | { wrong: string } {
  const meters = parseLength(text, bareLengthUnit(units, false));
  if (meters !== null && meters > 0 && meters <= mostMeters) return { value: meters };
  const example = units === 'metric' ? '7.5 m' : '25 ft';
  return { wrong: `Write a length above zero, such as ${example}, and under six miles.` };
}

export function readBearing(text: string): { value: number } | { wrong: string } {
  const degrees = parseBearing(text);
  return degrees === null
    ? { wrong: 'Write degrees from 0 to 360, or a direction such as SE.' }
    : { value: degrees };
}

export function readTurn(text: string): { value: number } | { wrong: string } {
  const degrees = parseNumber(text);
  return degrees !== null && Math.abs(degrees) <= 360
    ? { value: degrees }
    : { wrong: 'Write degrees from −360 to 360; minus turns to the left.' };
}
