import type { ReactElement } from 'react';
import { inchesFromMeters } from '../../../geo/frame/units.ts';
import type { ClearingState, GroundRecord } from '../../../geo/raster/ground-record.ts';
import { useSession } from '../../store/use-session.ts';
import { bareLengthUnit, parseLength } from '../../words/parse-measure.ts';
import { readSurveyDate } from '../../words/survey-date.ts';
import { ChoiceField, WrittenField, type Reading } from '../fields.tsx';
import { useServices } from '../services.ts';

const clearingChoices: readonly (readonly [ClearingState, string])[] = [
  ['unknown', 'not said'],
  ['before-clearing', 'before clearing'],
  ['after-clearing', 'after clearing'],
];

/** What the file did not say of its survey: when, before or after clearing, how good. */
export function SurveyFields({ record }: { readonly record: GroundRecord }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const error = record.verticalErrorMeters;
  const shownError =
    error === null
      ? ''
      : units === 'metric'
        ? `${Number((error * 100).toPrecision(3))} cm`
        : `${Number(inchesFromMeters(error).toPrecision(2))} in`;
  return (
    <>
      <WrittenField
        label="Surveyed on"
        shown={record.surveyedOn ?? ''}
        read={readDate}
        onValue={(surveyedOn) => services.describeGround(record.id, { surveyedOn })}
        help="year, or year-month-day"
      />
      <ChoiceField
        label="Measured"
        value={record.clearing}
        options={clearingChoices}
        onValue={(clearing) =>
          services.describeGround(record.id, { clearing: clearing as ClearingState })
        }
      />
      <WrittenField
        label="Vertical error"
        shown={shownError}
        read={(text) => readError(text, bareLengthUnit(units, true))}
        onValue={(verticalErrorMeters) =>
          services.describeGround(record.id, { verticalErrorMeters })
        }
        help={`${units === 'metric' ? 'centimeters' : 'inches'}: one standard error, from the survey report`}
      />
    </>
  );
}

function readDate(text: string): Reading<string | null> {
  const written = text.trim();
  return written === '' ? { value: null } : readSurveyDate(written);
}

function readError(text: string, bareUnit: string): Reading<number | null> {
  if (text.trim() === '') return { value: null };
  const meters = parseLength(text, bareUnit);
  if (meters === null || meters <= 0 || meters > 100) {
    return { wrong: 'Write a length, such as 4 in or 10 cm, or clear it.' };
  }
  return { value: meters };
}
