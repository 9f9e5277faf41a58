import { describe, expect, test } from 'vitest';
import type { SiteStorm } from '../../geo/answers/answers.ts';
import type { LeftOutSpots } from '../../geo/answers/listed-low-spots.ts';
import { sentenceOf } from '../../app/words/findings.ts';
import { leftOutText, stormLine } from '../../app/words/water-words.ts';

/** The strip and the panel on water that stands where no low spot is listed; sentences ours. */

const assumed = (count: number): LeftOutSpots => ({ count, errorMeters: 0.508, errorIsStated: false }); // prettier-ignore
const stated = (count: number): LeftOutSpots => ({ count, errorMeters: 0.508, errorIsStated: true }); // prettier-ignore
const poolOf = (volumeCubicMeters: number) => ({ areaSquareMeters: volumeCubicMeters > 0 ? 50 : 0, volumeCubicMeters }); // prettier-ignore

/** Cubic yards in all, and in each listed low spot. */
function line(all: number, listed: readonly number[], leftOut: LeftOutSpots | null): string {
  const yard = 0.764554857984;
  const storm = {
    rainMeters: 0.0889,
    runoffMeters: 0.02997,
    standingCubicMeters: all * yard,
    pools: listed.map((yards) => poolOf(yards * yard)),
  } as unknown as SiteStorm;
  return stormLine(storm, leftOut, 'us', null);
}

describe('the strip under the gauge', () => {
  test('never says that nothing stands where something does', () => {
    expect(line(440, [], assumed(2))).toBe(
      '1.18 in runs off, about 440 yd³ stands in hollows too shallow or small to list. State the survey’s vertical error: until then 2 hollows shallower than 20 in are not listed.',
    );
    expect(line(440, [], stated(2))).toBe(
      '1.18 in runs off, about 440 yd³ stands in hollows too shallow or small to list.',
    );
    expect(line(0, [0], stated(0))).toBe('1.18 in runs off, none of it stands.');
  });

  test('parts what stands in the listed ones from all that stands', () => {
    expect(line(440, [440], assumed(0))).toBe('1.18 in runs off, about 440 yd³ stands in 1 low spot.'); // prettier-ignore
    expect(line(440, [200, 100, 0], assumed(1))).toBe(
      '1.18 in runs off, about 440 yd³ stands, about 300 yd³ of it in 2 low spots. State the survey’s vertical error: until then a hollow shallower than 20 in is not listed.',
    );
  });
});

test('the stop on a wet place says for which season it counts the days: another than the storm’s table', () => {
  const wet = {
    level: 'stop',
    code: 'may-be-wetland',
    about: [],
    values: { spots: 'P1', hours: 360 },
  } as const;
  expect(sentenceOf(wet, 'us').rest).toMatch(
    /^From brim full in the growing season, water stands there about 15 days if no more rain falls\. Over 14 days of that /,
  );
});

test('the panel says what lists them', () => {
  expect(leftOutText(assumed(0), 'us')).toBe(null);
  expect(leftOutText(assumed(1), 'us')).toMatch(/^One hollow shallower than 20 in is not listed: .*State the survey’s vertical error under Ground\.$/); // prettier-ignore
  expect(leftOutText(stated(3), 'us')).toBe(
    '3 hollows shallower than the survey’s error of 20 in are not listed.',
  );
});
