import { expect, test } from 'vitest';
import { parseGroundRecord } from '../../geo/raster/parse-records.ts';
import { readSurveyDate } from '../../app/words/survey-date.ts';
import { ground } from '../document-rig.ts';

test.each([
  ['2024', '2024'],
  [' 2024-3-8 ', '2024-03-08'],
  ['2024-02-29', '2024-02-29'],
])('%s is a survey date, and the plan takes it', (typed, value) => {
  expect(readSurveyDate(typed)).toEqual({ value });
  expect(parseGroundRecord({ ...ground('a'.repeat(64)), surveyedOn: value }).ok).toBe(true);
});

test.each(['2024-03', '2023-02-29', '2024-13-01', '24-03-18', 'March 2024', '2024-03-00'])(
  '%s is none, and the sentence says what is',
  (typed) => {
    expect(readSurveyDate(typed)).toEqual({
      wrong: 'Write a year, such as 2024, or year-month-day, such as 2024-03-18.',
    });
  },
);
