import type { Trial, TrialSize } from '../store/shape-state.ts';
import { areaQuantity, lengthQuantity, spoken, type UnitSystem } from './format.ts';

/** What a change that is tried comes to: "2 parts: 1.92 ac and 1.19 ac." */
export function trialLine({ sizes, of }: Trial, units: UnitSystem): string {
  const made = Object.values(sizes);
  const written = made.map((size) => sizeWords(size, units));
  const all = written.length > 1 ? `${written.length} parts: ` : '';
  const shown = written.slice(0, 6);
  const more = written.length > 6 ? ` and ${written.length - 6} more` : '';
  const listed = more
    ? `${shown.join(', ')}${more}`
    : shown.length > 1
      ? `${shown.slice(0, -1).join(', ')} and ${shown[shown.length - 1]}`
      : shown[0];
  return `${all}${listed ?? 'Nothing'}${cornersWords(made, Object.keys(of).length)}.`;
}

function sizeWords({ areaSquareMeters, lengthMeters }: TrialSize, units: UnitSystem): string {
  if (areaSquareMeters !== null) return spoken(areaQuantity(areaSquareMeters, units));
  if (lengthMeters !== null) return spoken(lengthQuantity(lengthMeters, units));
  return 'a point';
}

/** Said of one shape alone, where the number of its corners tells something. */
function cornersWords(made: readonly TrialSize[], sources: number): string {
  const [only, ...others] = made;
  if (!only || others.length > 0 || sources !== 1 || only.corners < 2) return '';
  return `, ${only.corners} corners`;
}
