/**
 * Share of the sky for the words of an aviation report: FEW 1 to 2 eighths, SCT 3 to 4, BKN 5 to 7,
 * OVC 8, VV sky hidden (FMH-1, table of sky cover); the middle of each. NaN for any other word.
 */
export function shareOfSkyWord(word: string): number {
  switch (word.slice(0, 3).toUpperCase()) {
    case 'CLR':
    case 'SKC':
    case 'NSC':
    case 'NCD':
    case 'CAV':
      return 0;
    case 'FEW':
      return 1.5 / 8;
    case 'SCT':
      return 3.5 / 8;
    case 'BKN':
      return 6 / 8;
    case 'OVC':
    case 'OVX':
    case 'VV':
      return 1;
    default:
      return NaN;
  }
}

/** A layer that is a ceiling: broken, overcast or hidden sky. */
export const isCeiling = (share: number): boolean => share >= 5 / 8;

/** Share of the sky for eighths; 9 is a sky hidden from sight, which counts as covered. NaN else. */
export function shareOfEighths(eighths: number): number {
  if (eighths === 9) return 1;
  return eighths >= 0 && eighths <= 8 ? eighths / 8 : NaN;
}
