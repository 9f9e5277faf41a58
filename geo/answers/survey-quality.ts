import type { GroundRecord } from '../raster/ground-record.ts';
import type { SurveyGrade, SurveyQuality } from './answers.ts';

/** What is known of a survey that its quality hangs on. */
export type SurveySaid = Pick<
  GroundRecord,
  'sourceCellMeters' | 'place' | 'verticalErrorMeters' | 'surveyedOn' | 'clearing'
>;

/**
 * How good the survey behind an answer is, in the trade's words (trade notes Q41, §7). The limits
 * are common practice, no source: survey-grade takes a stated error of at most 3 cm, cells of at
 * most half a metre and a date; planning-grade a stated or assumed error of at most 0.2 m, cells of
 * at most 3 m and a date; anything else has to be walked first.
 */
export function surveyQuality(record: SurveySaid): SurveyQuality {
  const cellMeters = Math.max(record.sourceCellMeters, record.place.cellWidth);
  const stated = record.verticalErrorMeters !== null;
  const error = record.verticalErrorMeters ?? assumedErrorMeters(cellMeters);
  return {
    grade: gradeOf(record, stated, error, cellMeters),
    surveyedOn: record.surveyedOn,
    clearing: record.clearing,
    verticalErrorMeters: error,
    verticalErrorIsStated: stated,
    cellMeters,
  };
}

function gradeOf(record: SurveySaid, stated: boolean, error: number, cell: number): SurveyGrade {
  const dated = record.surveyedOn !== null;
  if (stated && error <= 0.03 && cell <= 0.5 && dated && record.clearing !== 'before-clearing') {
    return 'survey-grade';
  }
  return dated && error <= 0.2 && cell <= 3 ? 'planning-grade' : 'walk-it-first';
}

/**
 * One standard error where nobody stated it. 0.10 m is the open-ground limit that US lidar of
 * quality level 2 is bought to (from memory); the coarser steps are common practice, no source.
 */
function assumedErrorMeters(cellMeters: number): number {
  if (cellMeters <= 1.5) return 0.1;
  if (cellMeters <= 5) return 0.5;
  return 1.5;
}
