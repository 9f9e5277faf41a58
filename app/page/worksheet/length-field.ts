import { tape, type UnitSystem } from '../../words/format.ts';
import { bareLengthUnit, parseLength } from '../../words/parse-measure.ts';
import type { Reading } from '../fields.tsx';

/** A length as a tape reads it, written and read; a bare number is in the page's own unit. */
export function lengthField(
  meters: number,
  units: UnitSystem,
  [least, most]: readonly [number, number],
): { readonly shown: string; readonly read: (text: string) => Reading<number> } {
  return {
    shown: tape(meters, units),
    read(text) {
      const read = parseLength(text, bareLengthUnit(units, false));
      if (read !== null && read >= least && read <= most) return { value: read };
      return { wrong: `Write a length from ${tape(least, units)} to ${tape(most, units)}.` };
    },
  };
}
