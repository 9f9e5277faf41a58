import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { kindNames } from '../../geo/plan/kinds.ts';
import { inputWords } from '../../app/words/input-words.ts';
import { findingCodes, inOrder, sentenceOf } from '../../app/words/findings.ts';
import { kindBehind, kindWords } from '../../app/words/kind-words.ts';
import { editableProperties } from '../../app/words/property-schema.ts';
import { hasChoiceWords, hasPropertyWords } from '../../app/words/property-words.ts';

describe.each(kindNames)('%s', (kind) => {
  it('has words for itself, for every property and for every choice', () => {
    expect(kindWords[kind].one).not.toBe('');
    for (const { key, editor } of editableProperties(kind)) {
      expect(hasPropertyWords(key), key).toBe(true);
      if (editor.edit !== 'choice') continue;
      expect(editor.options.length).toBeGreaterThan(0);
      for (const option of editor.options) expect(hasChoiceWords(option), option).toBe(true);
    }
  });
});

it('says a kind behind a name that does not say it', () => {
  expect(kindBehind('High edge', 'Berm')).toBe('berm');
  expect(kindBehind('Edge berm', 'Berm')).toBe('');
  expect(kindBehind('Brush pile 12', 'Brush pile')).toBe('');
});

it('reads editors off the schema', () => {
  const of = (key: string) => editableProperties('stand').find((p) => p.key === key)?.editor;
  expect(of('facingDegrees')).toEqual({ edit: 'number', nullable: true });
  expect(of('seatHeightMeters')).toEqual({ edit: 'number', nullable: false });
  expect(of('weapon')).toEqual({
    edit: 'choice',
    options: ['bow', 'shotgun', 'rifle'],
    nullable: true,
  });
});

describe('findings', () => {
  it('has a sentence for every code that the answers use', () => {
    const used = new Set<string>();
    for (const file of readdirSync('geo/answers')) {
      const text = readFileSync(`geo/answers/${file}`, 'utf8');
      for (const found of text.matchAll(/finding\(\s*'(?:stop|caution|note)',\s*'([a-z-]+)'/g)) {
        used.add(found[1]!);
      }
    }
    expect(used.size).toBeGreaterThan(5);
    expect([...used].filter((code) => !findingCodes.includes(code))).toEqual([]);
  });
  it('says depth and acres with no more digits than the survey holds', () => {
    const { lead, rest } = sentenceOf(
      {
        level: 'caution',
        about: ['a'],
        code: 'plot-low-spot',
        values: { maxDepthMeters: 0.5, areaSquareMeters: 2428, verticalErrorMeters: 0.1 },
      },
      'us',
    );
    expect(lead).toBe('Look at the low spots before you seed.');
    expect(rest).toContain('about 20 in deep over 0.60 ac');
  });
  it('says a code without a sentence rather than hide it', () => {
    const said = sentenceOf(
      { level: 'stop', about: [], code: 'never-heard-of', values: { depthMeters: 2 } },
      'us',
    );
    expect(said).toEqual({ lead: 'Never heard of.', rest: 'depthMeters: 2' });
  });
  it('writes every code without a hole where a value is missing', () => {
    for (const code of findingCodes) {
      const { lead, rest } = sentenceOf({ level: 'note', about: [], code, values: {} }, 'us');
      expect(`${lead} ${rest}`, code).not.toMatch(/undefined|null|NaN/);
    }
  });
  it('puts stops first and keeps the order within a level', () => {
    const finding = (level: 'stop' | 'caution' | 'note', code: string) => ({
      level,
      code,
      about: [],
      values: {},
    });
    const order = inOrder([
      finding('note', 'a'),
      finding('caution', 'b'),
      finding('stop', 'c'),
      finding('caution', 'd'),
    ]);
    expect(order.map((f) => f.code)).toEqual(['c', 'b', 'd', 'a']);
  });
});

it('writes the inputs of an answer by the unit in their key', () => {
  const lines = inputWords(
    {
      slopeWindowMeters: 5,
      verticalErrorMeters: 0.1,
      cellsInside: 12586,
      coveredShare: 0.985,
      surveyedOn: null,
    },
    'us',
  );
  // 5 m = 16.4 ft and 0.1 m = 3.9 in, from 0.3048 and 0.0254 by hand.
  expect(lines).toEqual([
    { label: 'Slope window', text: '16.4 ft' },
    { label: 'Vertical error', text: '3.9 in' },
    { label: 'Cells inside', text: '12,586' },
    { label: 'Covered share', text: '99 %' },
    { label: 'Surveyed on', text: 'not known' },
  ]);
});
