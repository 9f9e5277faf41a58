import { metersFromFeet } from '../geo/frame/units.ts';
import type { PlanFeature } from '../geo/plan/feature.ts';
import type { PropertiesOf } from '../geo/plan/kinds.ts';
import { bermOf } from './answers-rig.ts';
import { demoPlace } from './demo-answers.ts';

type Gaps = PropertiesOf<'berm'>['gaps'];

const half = metersFromFeet(12);
const ends = 566 - metersFromFeet(50);
const [west, east, low] = [-120 - half, 50 + half, 566 + half];

/**
 * The berm of the trade notes' §6.6: beside the low edge of plot A (d 566), with returns of 50 ft up
 * both its sides; 24 ft wide.
 */
export function lowBerm(gaps: Gaps, heightFeet = 9): PlanFeature {
  const corners = [
    [west, ends],
    [west, low],
    [east, low],
    [east, ends],
  ] as const;
  const of = bermOf(
    'dam',
    corners.map(([c, d]) => demoPlace(c, d)),
  );
  const heightMeters = metersFromFeet(heightFeet);
  const properties = { ...of.properties, baseWidthMeters: 2 * half, heightMeters, gaps };
  return { ...of, name: 'low berm', properties } as PlanFeature;
}

/** A gap of it on its low side, at c of the notes' recipe. */
export const gapInLowBerm = (c: number, feet: number): Gaps[number] => ({
  stationMeters: low - ends + (c - west),
  widthMeters: metersFromFeet(feet),
});
