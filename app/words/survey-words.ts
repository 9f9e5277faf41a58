import type { SurveyGrade, SurveyQuality } from '../../geo/answers/answers.ts';
import type { LinearUnit } from '../../geo/frame/crs-types.ts';
import type { ClearingState, GroundRecord } from '../../geo/raster/ground-record.ts';
import { surveyDate } from './clock.ts';
import { errorQuantity, lengthQuantity, spoken, type UnitSystem } from './format.ts';

export const gradeWords: Readonly<Record<SurveyGrade, string>> = {
  'survey-grade': 'survey grade',
  'planning-grade': 'planning grade',
  'walk-it-first': 'walk it first',
};

export const clearingWords: Readonly<Record<ClearingState, string>> = {
  'before-clearing': 'before clearing',
  'after-clearing': 'after clearing',
  unknown: 'not said',
};

export const linearUnitWords: Readonly<Record<LinearUnit, string>> = {
  metre: 'meters',
  'us-survey-foot': 'US survey feet',
  'international-foot': 'international feet',
};

/** "2024 survey, before clearing": what a number rests on, in one breath. */
export function surveyLine(survey: SurveyQuality): string {
  const date = survey.surveyedOn ? `${survey.surveyedOn.slice(0, 4)} survey` : 'undated survey';
  return survey.clearing === 'unknown' ? date : `${date}, ${clearingWords[survey.clearing]}`;
}

/** "Mar 19, 2024, before clearing": the same with the whole date, where there is room. */
export function surveyWhen(survey: SurveyQuality): string {
  const date = survey.surveyedOn ? surveyDate(survey.surveyedOn) : 'no date said';
  return survey.clearing === 'unknown' ? date : `${date}, ${clearingWords[survey.clearing]}`;
}

/** What holds the survey's grade down, each as one sentence with its way out. */
export function surveyLimits(
  survey: SurveyQuality,
  record: GroundRecord | undefined,
  units: UnitSystem,
): readonly string[] {
  const lines: string[] = [];
  if (survey.clearing === 'before-clearing') {
    lines.push('Measured before clearing: shoot it again after stumping, before any cut.');
  }
  if (survey.clearing === 'unknown') lines.push('Set whether it is from before or after clearing.');
  if (survey.surveyedOn === null) lines.push('Set the survey date: nobody has said it.');
  if (!survey.verticalErrorIsStated) {
    const error = spoken(errorQuantity(survey.verticalErrorMeters, units));
    const cell = spoken(lengthQuantity(survey.cellMeters, units));
    lines.push(
      `Vertical error of ${error} is assumed from cells of ${cell}; set it if you know it.`,
    );
  }
  if (record?.vertical.datum === 'ellipsoid') {
    lines.push(
      'Heights are above the ellipsoid, tens of feet off sea level: only differences hold.',
    );
  }
  return lines;
}
