import { expect, test } from 'vitest';
import { isLeftUndone, isOutOfDate, isStopped, isWorkedOn } from '../../app/store/left-undone.ts';

/** What looks out of date after a stop is decided in one place, from the worker's own list. */

const stopped = { left: new Set(['storm', 'plantable/A', 'bermHolds/berm']) };

test('nothing is left while nothing is stopped, nor when a stop left nothing', () => {
  expect(isStopped({ left: null })).toBe(false);
  expect(isStopped({ left: new Set() })).toBe(true);
  for (const left of [null, new Set<string>()]) {
    expect(isLeftUndone({ left }, { site: ['storm'], features: ['plantable'] })).toBe(false);
  }
});

test('one of the answers shown is enough, and others are not meant', () => {
  expect(isLeftUndone(stopped, { site: ['debris', 'storm'] })).toBe(true);
  expect(isLeftUndone(stopped, { site: ['debris', 'siting'] })).toBe(false);
  expect(isLeftUndone(stopped, {})).toBe(false);
});

test('of a feature its own answers count, without an id those of every one', () => {
  expect(isLeftUndone(stopped, { features: ['plantable', 'plotGround'], id: 'A' })).toBe(true);
  expect(isLeftUndone(stopped, { features: ['plantable'], id: 'B' })).toBe(false);
  expect(isLeftUndone(stopped, { features: ['bermHolds'] })).toBe(true);
  expect(isLeftUndone(stopped, { features: ['damming'] })).toBe(false);
});

test('out of date is only what has an older answer to show', () => {
  const answer = {} as never;
  const nothing = { ...stopped, site: {}, answers: {} };
  expect(isOutOfDate(nothing, { site: ['storm'], features: ['plantable', 'bermHolds'] })).toBe(false); // prettier-ignore
  const shown = { ...stopped, site: { storm: answer, debris: answer }, answers: { A: { plantable: answer }, B: { plantable: answer } } }; // prettier-ignore
  expect(isOutOfDate(shown, { site: ['storm'] })).toBe(true);
  expect(isOutOfDate(shown, { site: ['debris'], features: ['bermHolds'] })).toBe(false);
  expect(isOutOfDate(shown, { features: ['plantable'] })).toBe(true);
  expect(isOutOfDate(shown, { features: ['plantable'], id: 'A' })).toBe(true);
  expect(isOutOfDate(shown, { features: ['plantable'], id: 'B' })).toBe(false);
});

test('the id of a feature may hold a slash', () => {
  const left = new Set(['plantable/north/2']);
  expect(isLeftUndone({ left }, { features: ['plantable'], id: 'north/2' })).toBe(true);
  expect(isLeftUndone({ left }, { features: ['plantable'] })).toBe(true);
});

test('what is worked out now is told from other work, by name and by feature', () => {
  const at = (key: string) => ({ working: { share: 0.4, doing: 'looking', key } });
  expect(isWorkedOn(at('siting'), { site: ['siting'] })).toBe(true);
  expect(isWorkedOn(at('storm'), { site: ['siting'] })).toBe(false);
  expect(isWorkedOn(at('lettingGaps/berm'), { features: ['lettingGaps'], id: 'berm' })).toBe(true);
  expect(isWorkedOn(at('lettingGaps/berm'), { features: ['lettingGaps'], id: 'other' })).toBe(
    false,
  );
  expect(isWorkedOn(at('clearingWays/plot'), { features: ['clearingWays'] })).toBe(true);
  expect(isWorkedOn({ working: null }, { site: ['siting'] })).toBe(false);
});
