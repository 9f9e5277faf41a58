import { expect, test } from 'vitest';
import { canonicalJson } from '../../geo/plan/canonical-json.ts';

// RFC 8785 (JSON Canonicalization Scheme); its examples are given here from memory.

test('section 3.2.2: numbers and strings in their one form', () => {
  const given = JSON.parse(
    '{"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],' +
      ' "string": "\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/", "literals": [null, true, false]}',
  ) as unknown;
  expect(canonicalJson(given)).toBe(
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],' +
      '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  );
});

test('section 3.2.3: keys in the order of their UTF-16 code units', () => {
  const given = {
    '\u20ac': 'Euro Sign',
    '\r': 'Carriage Return',
    '\ufb33': 'Hebrew Letter Dalet With Dagesh',
    '1': 'One',
    '\ud83d\ude00': 'Emoji: Grinning Face',
    '\u0080': 'Control',
    '\u00f6': 'Latin Small Letter O With Diaeresis',
  };
  expect(Object.values(JSON.parse(canonicalJson(given)) as object).length).toBe(7);
  expect([...canonicalJson(given).matchAll(/:"([A-Z]\w+)/g)].map((found) => found[1])).toEqual([
    'Carriage',
    'One',
    'Control',
    'Latin',
    'Euro',
    'Emoji',
    'Hebrew',
  ]);
});

test('appendix B: minus zero is zero, and what is no JSON is refused', () => {
  expect(canonicalJson(-0)).toBe('0');
  for (const none of [NaN, Infinity, undefined, () => 1, [undefined]]) {
    expect(() => canonicalJson(none)).toThrow(RangeError);
  }
});

test('with indent it is the same value, and lists of numbers stay on a line', () => {
  const value = { b: [1, 2], a: [{ c: 1 }], d: {}, e: [], gone: undefined };
  const text = canonicalJson(value, 2);
  expect(text).toBe(
    '{\n  "a": [\n    {\n      "c": 1\n    }\n  ],\n  "b": [1,2],\n  "d": {},\n  "e": []\n}',
  );
  expect(canonicalJson(JSON.parse(text))).toBe(canonicalJson(value));
});
