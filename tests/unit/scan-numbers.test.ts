import { expect, test } from 'vitest';
import { parseNumber } from '../../geo/formats/scan-numbers.ts';
import { seeded } from '../seeded.ts';

const parse = (text: string) => parseNumber(new TextEncoder().encode(text), 0, text.length);

// Outside reference: ECMAScript's own decimal conversion, which rounds to nearest (ECMA-262 §7.1.4.1).
test('numbers of up to 15 digits are the nearest double, longer ones within 3 units of the last place', () => {
  const random = seeded(11);
  for (let i = 0; i < 20_000; i++) {
    const digits = 1 + Math.floor(random() * 24);
    let text = random() < 0.5 ? '-' : '';
    const point = Math.floor(random() * (digits + 1));
    for (let d = 0; d < digits; d++) {
      if (d === point) text += '.';
      text += Math.floor(random() * 10);
    }
    const expected = Number(text);
    const error = Math.abs(parse(text) - expected);
    const unit = Math.abs(expected) * 2 ** -52;
    expect(error, text).toBeLessThanOrEqual(digits <= 15 ? 0 : 3 * unit);
  }
});

test('a float32 printed in full comes back as itself', () => {
  const random = seeded(12);
  for (let i = 0; i < 20_000; i++) {
    const value = Math.fround((random() - 0.5) * 10 ** Math.floor(random() * 6));
    expect(Math.fround(parse(String(value)))).toBe(value);
    expect(Math.fround(parse(value.toFixed(20)))).toBe(value);
  }
});

test('words and texts', () => {
  for (const word of ['nan', 'NaN', '-nan', '1.#QNAN', '-1.#IND']) expect(parse(word)).toBeNaN();
  for (const bad of [
    '',
    '-',
    '.',
    '+.',
    'x',
    '1.2.3',
    '1e',
    '--1',
    '0x10',
    '1,5',
    'inf',
    '1e999',
  ]) {
    expect(parse(bad), bad).toBe(Infinity);
  }
  expect(parse('+.5')).toBe(0.5);
  expect(parse('5.')).toBe(5);
  expect(parse('1.5D+02')).toBe(150);
});
