import type { LeftOutSpots } from '../../geo/answers/listed-low-spots.ts';
import type { PlotStorm, SiteStorm, StormPool } from '../../geo/answers/answers.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import {
  areaQuantity,
  depthQuantity,
  figure,
  rainQuantity,
  shareQuantity,
  spoken,
  volumeQuantity,
  type UnitSystem,
} from './format.ts';

/** Covers as a contractor names them; the condition is TR-55's. */
export const coverWords: Readonly<Record<Settings['siteCover'], string>> = {
  'woods-good': 'woods, deep litter',
  'woods-fair': 'woods, some litter',
  'woods-poor': 'woods, grazed or bare floor',
  'woods-grass-good': 'trees and grass, good',
  'woods-grass-fair': 'trees and grass, fair',
  'woods-grass-poor': 'trees and grass, poor',
  'brush-good': 'brush and weeds, thick',
  'brush-fair': 'brush and weeds, half cover',
  'brush-poor': 'brush and weeds, thin',
  meadow: 'meadow, mown, not grazed',
  'pasture-good': 'pasture, good',
  'pasture-fair': 'pasture, fair',
  'pasture-poor': 'pasture, grazed hard',
  'newly-graded': 'bare, newly graded',
  'fallow-residue-good': 'fallow under good residue',
  'fallow-residue-poor': 'fallow under thin residue',
  'small-grain-good': 'small grain, good stand',
  'small-grain-poor': 'small grain, poor stand',
  'small-grain-contoured-good': 'small grain on the contour',
  'legumes-good': 'clover or other legumes, good',
  'legumes-poor': 'clover or other legumes, poor',
  'row-crop-good': 'row crop, good',
  'row-crop-poor': 'row crop, poor',
  'dirt-road': 'dirt road',
  'gravel-road': 'gravel road',
  paved: 'paved or roofed',
  farmstead: 'farmstead',
};

/** How long water stands: hours up to two days, then days; "not by itself" where nothing takes it. */
export function standsFor(hours: number | null): string {
  if (hours === null) return 'stays';
  if (hours === 0) return 'dry';
  if (hours < 1) return 'under 1 h';
  if (hours <= 48) return `${figure(hours, 0)} h`;
  return `${figure(hours / 24, 0)} days`;
}

/** "62 % (47 to 81)". */
export function fullText({ fullShare, fullShareLow, fullShareHigh }: StormPool): string {
  const likely = spoken(shareQuantity(fullShare));
  const [low, high] = [fullShareLow, fullShareHigh].map((share) => figure(share * 100, 0));
  return low === high ? likely : `${likely} (${low} to ${high})`;
}

/** Depth that runs off with its range: "0.20 in (0.15 to 0.26)". */
export function runoffText(storm: SiteStorm, units: UnitSystem): string {
  const text = (meters: number) => rainQuantity(meters, units).text;
  const likely = spoken(rainQuantity(storm.runoffMeters, units));
  return `${likely} (${text(storm.runoffLowMeters)} to ${text(storm.runoffHighMeters)})`;
}

/** What becomes of a storm, in one sentence under its gauge; and what to do where the list hides water. */
export function stormLine(
  storm: SiteStorm,
  leftOut: LeftOutSpots | null,
  units: UnitSystem,
  often: string | null,
): string {
  if (storm.rainMeters === 0) return 'No rain: nothing runs off.';
  const runs = `${spoken(rainQuantity(storm.runoffMeters, units))} runs off, ${standsWhere(storm, units)}${often ? `; ${often}` : ''}.`;
  if (!leftOut || leftOut.count === 0 || leftOut.errorIsStated) return runs;
  const { count } = leftOut;
  return `${runs} State the survey’s vertical error: until then ${count === 1 ? 'a hollow' : `${count} hollows`} shallower than ${spoken(depthQuantity(leftOut.errorMeters, null, units))} ${count === 1 ? 'is' : 'are'} not listed.`;
}

/** All that stands is counted, and of that what stands in the listed low spots named. */
function standsWhere({ standingCubicMeters, pools }: SiteStorm, units: UnitSystem): string {
  if (standingCubicMeters === 0) return 'none of it stands';
  const all = spoken(volumeQuantity(standingCubicMeters, units));
  const wet = pools.filter(({ areaSquareMeters }) => areaSquareMeters > 0);
  if (wet.length === 0) return `${all} stands in hollows too shallow or small to list`;
  const cubicMeters = wet.reduce((sum, { volumeCubicMeters }) => sum + volumeCubicMeters, 0);
  const listed = spoken(volumeQuantity(cubicMeters, units));
  const spots = `${wet.length} low ${wet.length === 1 ? 'spot' : 'spots'}`;
  return `${all} stands${listed === all ? '' : `, ${listed} of it`} in ${spots}`;
}

/** Where hollows are left out for the survey's error: how many, and what lists them. */
export function leftOutText(
  { count, errorMeters, errorIsStated }: LeftOutSpots,
  units: UnitSystem,
): string | null {
  if (count === 0) return null;
  const error = spoken(depthQuantity(errorMeters, null, units));
  const hollows = count === 1 ? 'One hollow' : `${count} hollows`;
  const are = count === 1 ? 'is' : 'are';
  return errorIsStated
    ? `${hollows} shallower than the survey’s error of ${error} ${are} not listed.`
    : `${hollows} shallower than ${error} ${are} not listed: so much error is assumed, because none is stated. State the survey’s vertical error under Ground.`;
}

/** "0.51 ac under water, to about 16 in, dry in 14 days". */
export function plotStormText(
  storm: PlotStorm,
  errorMeters: number | null,
  units: UnitSystem,
): string {
  if (storm.wetAreaSquareMeters === 0) return 'no water stands in it';
  const area = spoken(areaQuantity(storm.wetAreaSquareMeters, units));
  const depth = spoken(depthQuantity(storm.maxDepthMeters, errorMeters, units));
  const dry = storm.hoursToDry === null ? 'and stays' : `dry in ${standsFor(storm.hoursToDry)}`;
  return `${area} under water, to ${depth} deep, ${dry}`;
}

/** "95 %": how often a low spot is there in trials. */
export function surelyText(share: number): string {
  return spoken(shareQuantity(share));
}

export const monthNames = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

/** "0.04 in": what evaporates in a day. */
export function dayDepthText(metersPerDay: number, units: UnitSystem): string {
  return units === 'metric'
    ? `${Number((metersPerDay * 1000).toFixed(1))} mm`
    : `${Number((metersPerDay / 0.0254).toFixed(2))} in`;
}
