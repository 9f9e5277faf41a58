import { expect, test } from 'vitest';
import { findingLines } from '../../app/page/worksheet/finding-lines.ts';
import type { Finding } from '../../geo/answers/finding.ts';

/** Findings as lines of the panel: one wording once, and keys that React can tell apart. */

const washes = (spots: string, speed: number, about: readonly string[] = []): Finding => ({
  level: 'caution',
  about,
  code: 'notch-washes',
  values: { spots, speedMetersPerSecond: speed, permissibleMetersPerSecond: 1 },
});

const nobody = () => [];

test('two findings of one code about nothing in particular are two lines with keys of their own', () => {
  const lines = findingLines([washes('P1', 2), washes('P2', 2)], 'us', nobody);
  expect(lines.map(({ lead }) => lead)).toEqual([
    expect.stringContaining('P1'),
    expect.stringContaining('P2'),
  ]);
  expect(new Set(lines.map(({ key }) => key)).size).toBe(2);
});

test('a key holds while the values of its finding change', () => {
  const keys = (speed: number) =>
    findingLines([washes('P1', speed), washes('P2', speed)], 'us', nobody).map(({ key }) => key);
  expect(keys(3)).toEqual(keys(2));
});

test('what reads the same is said once; another name or level is another line', () => {
  const twice = [washes('P1', 2, ['a']), washes('P1', 2, ['b'])];
  expect(findingLines(twice, 'us', nobody)).toHaveLength(1);
  const named = findingLines(twice, 'us', ({ about }) => about);
  expect(named.map(({ lead }) => lead[0])).toEqual(['a', 'b']);
  const milder: Finding = { ...twice[0]!, level: 'note' };
  expect(findingLines([milder, twice[0]!], 'us', nobody).map(({ level }) => level)).toEqual([
    'caution',
    'note',
  ]);
});
