import type { PlantableTaking } from '../../geo/answers/answers.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import { kindWords } from './kind-words.ts';
import { parseNumber } from './parse-measure.ts';

/** What took a piece of a plot: "Berm", "Steeper than 10 %". */
export function takingWords(
  reason: PlantableTaking['reason'],
  settings: Pick<Settings, 'tooSteepSlope'>,
): string {
  return reason === 'too-steep'
    ? `Steeper than ${slopeText(settings.tooSteepSlope)}`
    : kindWords[reason].one;
}

/** "10 %", "12.5 %": a limit as it was set, to a tenth. */
export function slopeText(riseOverRun: number): string {
  return `${Number((riseOverRun * 100).toFixed(1))} %`;
}

/** Reads a slope as typed in percent; the limits are those of the setting. */
export function readSlope(text: string): { value: number } | { wrong: string } {
  const percent = parseNumber(text);
  if (percent === null || percent < 1 || percent > 200) {
    return { wrong: 'Write a slope from 1 to 200 %.' };
  }
  return { value: percent / 100 };
}
