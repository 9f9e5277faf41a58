/**
 * Which stored values are no height, and the pass that makes them NaN. Forms met in surveys:
 * -9999, -999999, -3.4e38, NaN and the word "nan" (trade.md 3.1), values beyond any height with no
 * word said of them, and -9999 and its kin undeclared.
 */

/** No height is beyond this in any unit. */
export const HUGE = 1e30;
/** Stand-ins for no data that lie below any ground, taken as such where the file declares none. */
const USUAL_STAND_INS = [-9999, -32767, -32768, -99999, -999999];

export interface NoDataRule {
  /** As a float32, or null where none is declared (NaN and huge values are never heights). */
  readonly declared: number | null;
  readonly scale: number;
  readonly offset: number;
}

/** How often which rule struck. */
export interface NoDataTally {
  missing: number;
  huge: number;
  standIns: number;
}

/** GDAL_NODATA text to a number; null where there is none or it is no number. */
export function parseNoData(text: string | undefined): number | null {
  const word = text?.trim().toLowerCase() ?? '';
  if (word === '') return null;
  if (/^[+-]?(nan|1\.#q?nan|1\.#ind)/.test(word)) return NaN;
  if (/^[+-]?inf/.test(word)) return word.startsWith('-') ? -Infinity : Infinity;
  const value = Number(word);
  return Number.isNaN(value) ? null : value;
}

/**
 * Makes the no-data cells of a run NaN, counts them and applies scale and offset to the others.
 * In place; no allocation.
 */
export function scrubRun(
  data: Float32Array,
  from: number,
  count: number,
  rule: NoDataRule,
  tally: NoDataTally,
): void {
  const { scale, offset } = rule;
  const declared = rule.declared === null ? NaN : rule.declared;
  const floor = rule.declared === null ? -9998.5 : -HUGE;
  const plain = scale === 1 && offset === 0;
  const end = from + count;
  let missing = 0;
  for (let i = from; i < end; i++) {
    const v = data[i];
    if (v > floor && v < HUGE && v !== declared) {
      if (!plain) data[i] = v * scale + offset;
    } else if (isMissing(v, declared, rule.declared === null, tally)) {
      data[i] = NaN;
      missing++;
    } else if (!plain) data[i] = v * scale + offset;
  }
  tally.missing += missing;
}

function isMissing(v: number, declared: number, undeclared: boolean, tally: NoDataTally): boolean {
  if (Number.isNaN(v) || v === declared) return true;
  if (!(Math.abs(v) < HUGE)) {
    tally.huge++;
    return true;
  }
  if (undeclared && USUAL_STAND_INS.includes(v)) {
    tally.standIns++;
    return true;
  }
  return false;
}

/** Plain sentences for the record of the ground on what was taken as no data without being told. */
export function noDataNotes(rule: NoDataRule, tally: NoDataTally): string[] {
  const notes: string[] = [];
  if (tally.huge > 0 && !(Math.abs(rule.declared ?? 0) >= HUGE)) {
    notes.push(`${tally.huge} cells beyond ±1e30 were taken as no data.`);
  }
  if (tally.standIns > 0) {
    notes.push(
      `${tally.standIns} cells of -9999 or the like were taken as no data though the file does not say so.`,
    );
  }
  return notes;
}
