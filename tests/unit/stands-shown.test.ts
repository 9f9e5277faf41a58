import { expect, test } from 'vitest';
import { fadedOf } from '../../app/services/faded-shown.ts';
import { standParts, standShapes } from '../../app/services/stands-shown.ts';
import { session, type Session } from '../../app/store/session.ts';

/** Where stands could go, as the map draws them: the one that was asked to be shown stands out. */

const one = [-75, 36] as const;
const two = [-75.001, 36] as const;
const before: Session = {
  ...session.getInitialState(),
  openSection: 'stands',
  settings: { ...session.getInitialState().settings, wantsSiting: true },
  site: { siting: { value: { plots: [{ plotId: 'A', places: [{ at: one }, { at: two }] }] } } as never }, // prettier-ignore
};

test('the square that is shown is marked, and it alone; the map is told', () => {
  expect(standShapes(before).places.map(({ isShown }) => isShown)).toEqual([false, false]);
  const shown: Session = { ...before, shownPlace: two };
  expect(standShapes(shown).places.map(({ isShown }) => isShown)).toEqual([false, true]);
  expect(standParts.some((part) => part(before) !== part(shown))).toBe(true);
});

test('places and pushes that a stop left stand pale, what is not there does not', () => {
  expect(fadedOf(before)).toEqual([]);
  const stopped: Session = { ...before, left: new Set(['siting', 'clearingWork', 'storm']) };
  expect(fadedOf(stopped)).toEqual(['stands']);
  const site = { ...before.site, clearingWork: {} as never };
  expect(fadedOf({ ...stopped, site })).toEqual(['stands', 'pushes']);
});
