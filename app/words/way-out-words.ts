import type { StormPool, WayOut } from '../../geo/answers/answers.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import { figure, spoken, volumeQuantity, type UnitSystem } from './format.ts';

const barWords: Readonly<Record<WayOut['bars'][number], string>> = {
  'outside-the-property': 'ground outside the property line',
  wetland: 'wetland or a stream’s edge',
  utility: 'a buried line',
  'neighbour-or-road': 'a neighbour’s ground or a road',
  'no-go': 'no-go ground',
};

/** "a buried line and no-go ground". */
export function barsText(bars: WayOut['bars']): string {
  return bars.map((bar) => barWords[bar]).join(' and ');
}

/** Whole or to two figures: "57 yd³ (47 to 69)". */
export function yardsText(
  { low, likely, high }: { readonly low: number; readonly likely: number; readonly high: number },
  units: UnitSystem,
): string {
  const text = (cubicMeters: number) => volumeQuantity(cubicMeters, units).text;
  return `${spoken(volumeQuantity(likely, units))} (${text(low)} to ${text(high)})`;
}

/** Cuts are staked in tenths of a foot. */
export function cutText(meters: number, units: UnitSystem): string {
  return units === 'metric' ? `${figure(meters, 2)} m` : `${figure(meters / 0.3048, 1)} ft`;
}

const WETLAND_HOURS = 14 * 24;
/** About 20 m: the deepest place moves a little with the surface. */
const NEAR_DEGREES = 2e-4;

/** Water stands there so long that it may be wetland: nothing is cut before it was looked at. */
export function mayBeWetland({ hoursToDryWhenFull }: StormPool): boolean {
  return hoursToDryWhenFull === null || hoursToDryWhenFull > WETLAND_HOURS;
}

export function isLookedAt(
  [lng, lat]: readonly [number, number],
  lookedAt: Settings['lookedAt'],
): boolean {
  return lookedAt.some(
    ([x, y]) => Math.abs(x - lng) < NEAR_DEGREES && Math.abs(y - lat) < NEAR_DEGREES,
  );
}
