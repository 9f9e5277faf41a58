import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { oftenText, rainsOf, rainTableOf } from '../../app/words/rain-often.ts';

const inch = 0.0254;
const table = rainTableOf(readFileSync('fixtures/demo/rain.csv', 'utf8'))!;
const often = (inches: number, hours: number) =>
  oftenText(table, { depthMeters: inches * inch, durationHours: hours, soil: 'average' });

test('how often a rain comes, by the demo’s table (trade notes §6.5)', () => {
  expect(often(1.7, 6)).toBe('about a yearly rain here');
  expect(often(2.05, 6)).toBe('about a 2-year rain here');
  expect(often(4.32, 24)).toBe('about a 10-year rain here');
  expect(often(9, 24)).toBe('more than a 25-year rain here');
  expect(often(0.5, 6)).toBe('comes oftener than every year here');
  expect(often(0, 6)).toBeNull();
});

test('the rains of a duration to choose from', () => {
  expect(rainsOf(table, 24, 'us').map(({ words }) => words)).toEqual([
    'every year: 2.45 in',
    'once in 2 years: 2.92 in',
    'once in 5 years: 3.68 in',
    'once in 10 years: 4.32 in',
    'once in 25 years: 5.27 in',
  ]);
});

test('no table, or a text that is none, is no table', () => {
  expect(rainTableOf('')).toBeNull();
  expect(rainTableOf('depth,years\n1,2')).toBeNull();
});
