import { rangeQuantity, spoken, tape, type UnitSystem } from '../../words/format.ts';
import { bareLengthUnit, parseLength } from '../../words/parse-measure.ts';
import type { Reading } from '../fields.tsx';

/** A length as a tape reads it, written and read; a bare number is in the page's own unit. */
export function lengthField(
  meters: number,
  units: UnitSystem,
  [least, most]: readonly [number, number],
): { readonly shown: string; readonly read: (text: string) => Reading<number> } {
  return fieldOf(meters, [least, most], bareLengthUnit(units, false), (one) => tape(one, units));
}

/** The same for shots, in yards or metres. */
export function rangeField(
  meters: number,
  units: UnitSystem,
  [least, most]: readonly [number, number],
): ReturnType<typeof lengthField> {
  const said = (one: number) => spoken(rangeQuantity(one, units));
  return fieldOf(meters, [least, most], units === 'metric' ? 'm' : 'yd', said);
}

function fieldOf(
  meters: number,
  [least, most]: readonly [number, number],
  bareUnit: string,
  said: (meters: number) => string,
): ReturnType<typeof lengthField> {
  return {
    shown: said(meters),
    read(text) {
      const read = parseLength(text, bareUnit);
      if (read !== null && read >= least && read <= most) return { value: read };
      return { wrong: `Write a length from ${said(least)} to ${said(most)}.` };
    },
  };
}
