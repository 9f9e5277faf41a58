import { expect, test } from 'vitest';
import { isLeftUndone, isStopped } from '../../app/store/left-undone.ts';

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
