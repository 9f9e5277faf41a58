import { expect, test } from 'vitest';
import { laneParts, laneShapes, windShown } from '../../app/services/lanes-shown.ts';
import { session, type Session } from '../../app/store/session.ts';
import { exposedTexts, shownWindText } from '../../app/words/lane-words.ts';
import type { LaneShown } from '../../geo/answers/lane-answers.ts';

/** Whose ways in the map draws, on which wind, and what is said where it is not the wind in hand. */

const line = [[-75, 36], [-75.001, 36.001]] as const; // prettier-ignore
const lane: LaneShown = { line, accessId: 'gate', lengthMeters: 142, climbMeters: 0, seconds: 200, exposed: [], scentedMeters: 0, screens: [], serves: [], sit: null }; // prettier-ignore
const onWind = (direction: number, best: LaneShown | null = lane) => ({ direction, best, second: null, noLane: best ? null : ('scented' as const) }); // prettier-ignore
const part = (works: number) => ({ morning: { works, marginal: 0, doesNot: 1, doubtful: 0 }, evening: { works, marginal: 0, doesNot: 1, doubtful: 0 } }); // prettier-ignore
/** North can be walked on but works in few hours; WNW works in most of them, and no way leads in on W. */
const season = { directions: Array.from({ length: 16 }, (_, i) => part(i === 12 ? 90 : i === 13 ? 60 : 2)) }; // prettier-ignore
const before: Session = {
  ...session.getInitialState(),
  selectedId: 'two',
  site: {
    standLanes: { value: { standId: 'two', winds: [onWind(0), onWind(12, null), onWind(13)], out: lane } }, // prettier-ignore
    standSeasons: { value: { stands: { two: { season } } } },
  } as never,
};
const wind = (fromDegrees: number | null) => ({ ...before.conditions, wind: { fromDegrees, speedMetersPerSecond: fromDegrees === null ? 0 : 3 } }); // prettier-ignore

test('ways in are drawn while their stand is selected, and never else', () => {
  expect(laneShapes(before).map(({ is }) => is)).toEqual(['out', 'best']);
  for (const openSection of ['stands', null] as Session['openSection'][]) {
    for (const selectedId of ['one', null]) {
      const other: Session = { ...before, openSection, selectedId };
      expect(laneShapes(other)).toEqual([]);
      expect(laneParts.some((one) => one(before) !== one(other))).toBe(true);
    }
    expect(laneShapes({ ...before, openSection })).toHaveLength(2);
  }
});

test('on a wind without ways that which it works on most and has a way in is shown', () => {
  expect(windShown({ ...before, conditions: wind(2) })).toMatchObject({ lanes: { direction: 0 }, inHand: 0 }); // prettier-ignore
  const calm = windShown({ ...before, conditions: wind(null) });
  expect(calm).toMatchObject({ lanes: { direction: 13 }, inHand: null, isMost: true });
  expect(windShown({ ...before, conditions: wind(130) })).toMatchObject({ lanes: { direction: 13 }, inHand: 6 }); // prettier-ignore
  const { standSeasons: _, ...site } = before.site;
  expect(windShown({ conditions: wind(null), site })).toMatchObject({ lanes: { direction: 0 }, isMost: false }); // prettier-ignore
});

test('and it is said why, and for which wind', () => {
  expect(shownWindText(3, 3, 'works', false)).toBe('On an ENE wind:');
  expect(shownWindText(13, 13, 'works', false)).toBe('On a WNW wind:');
  expect(shownWindText(3, null, 'does-not', true)).toBe('It cannot be sat in calm or shifting air. Shown is the way for an ENE wind, the wind it works on most:'); // prettier-ignore
  expect(shownWindText(13, 6, null, false)).toBe('No way in is known on a SE wind. Shown is the way for a WNW wind, a wind it can be sat on:'); // prettier-ignore
});

test('exposed stretches are told in the order of the walk, the longest four of them', () => {
  // Stations of 100 ft: 30.48 m.
  const stretch = (from: number, feet: number) => ({ fromMeters: from * 30.48, toMeters: from * 30.48 + feet * 0.3048, why: 'seen', most: 1, mostAtMeters: 0 }) as const; // prettier-ignore
  const exposed = [
    stretch(16, 90),
    stretch(14, 60),
    stretch(0, 50),
    stretch(17, 70),
    stretch(5, 10),
  ];
  const stations = exposedTexts({ ...lane, exposed }, 'us').map((text) => text.slice(0, text.indexOf(' '))); // prettier-ignore
  expect(stations).toEqual(['0+00', '14+00', '16+00', '17+00']);
});
