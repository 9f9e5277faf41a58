import { readDay } from '../../app/words/wind-words.ts';
import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { tape } from '../../app/words/format.ts';
import { measureFrom, measureText } from '../../app/words/measure-text.ts';
import { parseBearing, parseLength, parseNumber } from '../../app/words/parse-measure.ts';
import { propertyWords } from '../../app/words/property-words.ts';

describe('lengths as people type them', () => {
  // By definition: 1 ft = 0.3048 m, 1 in = 0.0254 m, 1 yd = 0.9144 m.
  it.each([
    ['7 ft 6 in', 2.286],
    ['7\'6"', 2.286],
    ["7' 6", 2.286],
    ['7.5 ft', 2.286],
    ['7.5', 2.286],
    ['90 in', 2.286],
    ['2.5 yd', 2.286],
    ['2.286 m', 2.286],
    ['228.6 cm', 2.286],
    ['1,000 ft', 304.8],
    [' about 20 in ', 0.508],
  ])('%s', (text, meters) => {
    expect(parseLength(text, 'ft')).toBeCloseTo(meters, 9);
  });
  it.each(['', 'ft', 'seven', '7 furlongs', '7 ft 6 in or so', '-3 ft', '5 5 5'])(
    'refuses %j',
    (text) => {
      expect(parseLength(text, 'ft')).toBeNull();
    },
  );
  it('reads back every whole inch that the tape writes', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 12_000 }), (inches) => {
        const meters = inches * 0.0254;
        expect(parseLength(tape(meters, 'us'), 'ft')).toBeCloseTo(meters, 9);
      }),
      { seed: 41, numRuns: 500 },
    );
  });
});

describe('bearings', () => {
  it.each([
    ['SE', 135],
    ['northwest', 315],
    ['143', 143],
    ['143°', 143],
    ['360', 0],
  ])('%s', (text, degrees) => {
    expect(parseBearing(text)).toBe(degrees);
  });
  it.each(['', 'up', '361', '-5'])('refuses %j', (text) => {
    expect(parseBearing(text)).toBeNull();
  });
});

it('reads numbers with a comma, a minus or a unit behind, and nothing else', () => {
  expect(parseNumber('1,250 lb')).toBe(1250);
  expect(parseNumber('\u22123.5')).toBe(-3.5);
  expect(parseNumber('6.2')).toBe(6.2);
  expect(parseNumber('')).toBeNull();
  expect(parseNumber('6.2.1')).toBeNull();
});

describe('a field reads back what it shows', () => {
  it.each([
    ['stand', 'facingDegrees', 261, 'W 261°'],
    ['stand', 'seatHeightMeters', 3.6576, '12 ft'],
    ['power-line', 'kilovolts', 14.4, '14.4 kV'],
    ['ditch', 'sideSlopeRun', 6, '6 : 1'],
    // 2.5e-6 m/s is 9 mm/h, 0.3543 in/h.
    ['soil-area', 'surfaceKsatMetersPerSecond', 2.5e-6, '0.3543 in/h'],
  ] as const)('%s %s', (kind, key, value, text) => {
    const words = propertyWords(kind, key);
    expect(measureText(value, words, 'us')).toBe(text);
    const back = measureFrom(text, words, 'us')!;
    expect(Math.abs(back - value)).toBeLessThanOrEqual(Math.abs(value) * 2e-4);
  });
});

it('reads a day of the year as it is written here', () => {
  for (const text of ['Oct 1', 'october 1', '1 Oct', '10/1']) expect(readDay(text)).toEqual({ value: [10, 1] }); // prettier-ignore
  expect(readDay('Jan 15')).toEqual({ value: [1, 15] });
  for (const text of ['', 'Feb 30', '13/1', 'soon']) expect(readDay(text)).toHaveProperty('wrong');
});
