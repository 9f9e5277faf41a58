import type { StormPool, WayOut } from '../../geo/answers/answers.ts';
import type { NotchJob, NotchRun } from '../../geo/answers/notch-answers.ts';
import { acresFromSquareMeters } from '../../geo/frame/units.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import type { ChannelCover, ChannelSoil } from '../../geo/water/permissible-speed.ts';
import {
  compassWord,
  depthQuantity,
  figure,
  lengthQuantity,
  slopeQuantity,
  spoken,
  volumeQuantity,
  type UnitSystem,
} from './format.ts';
import { upperFirst } from './upper-first.ts';

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

/** Minutes in fives, hours from two on: "about 45 min (30 to 75)", "about 22 h (13 to 42)". */
export function minutesText({ low, likely, high }: NotchJob['fillMinutes']): string {
  const inHours = likely >= 120;
  const text = (minutes: number) =>
    inHours
      ? figure(minutes / 60, minutes < 570 ? 1 : 0)
      : figure(Math.max(5, Math.round(minutes / 5) * 5), 0);
  return `about ${text(likely)} ${inHours ? 'h' : 'min'} (${text(low)} to ${text(high)})`;
}

/** "5.7 ft³/s". */
export function flowText(cubicMetersPerSecond: number, units: UnitSystem): string {
  const [value, unit] =
    units === 'metric'
      ? [cubicMetersPerSecond, 'm³/s']
      : [cubicMetersPerSecond / 0.3048 ** 3, 'ft³/s'];
  return `${Number(value.toPrecision(2))} ${unit}`;
}

/** "1.8 ft/s". */
export function speedText(metersPerSecond: number, units: UnitSystem): string {
  return units === 'metric'
    ? `${figure(metersPerSecond, 1)} m/s`
    : `${figure(metersPerSecond / 0.3048, 1)} ft/s`;
}

const soilWords: Readonly<Record<ChannelSoil, string>> = {
  'sandy-or-silty': 'sandy or silty soil',
  'clay-loam': 'clay loam',
  clay: 'clay',
};

const coverWords: Readonly<Record<ChannelCover, string>> = {
  bare: 'bare',
  'poor-grass': 'thin grass',
  'fair-grass': 'fair grass',
  'good-grass': 'good grass',
};

/** What comes, and by which rule. */
export function peakText({ peak }: NotchRun, units: UnitSystem): string {
  const { graphicalCubicMetersPerSecond: graphical, rationalCubicMetersPerSecond: rational } = peak;
  const area = roughArea(peak.catchmentSquareMeters, units);
  const flow = flowText(peak.cubicMetersPerSecond, units);
  const [by, other] =
    peak.method === 'graphical'
      ? ['TR-55’s graphical method', `the rational formula says ${flowText(rational, units)}`]
      : [
          'the rational formula, for its curve number is under 40',
          `the graphical method says ${flowText(graphical, units)}`,
        ];
  return `This rain brings ${flow} at the most, from ${area} (${by}; ${other}).`;
}

/** A catchment hangs on where water parts on smooth ground: two figures. */
function roughArea(squareMeters: number, units: UnitSystem): string {
  const [value, unit] =
    units === 'metric'
      ? [squareMeters / 10_000, 'ha']
      : [acresFromSquareMeters(squareMeters), 'ac'];
  return `about ${Number(value.toPrecision(2))} ${unit}`;
}

/** How deep and how fast it runs in the notch, and whether the notch holds. */
export function runText(run: NotchRun, units: UnitSystem): string {
  const { inGrass, bare, holdsFrom } = run;
  const soil = soilWords[run.soil];
  const runs = `Under fair grass it runs ${cutText(inGrass.depthMeters, units)} deep at ${speedText(inGrass.metersPerSecond, units)}; on ${soil} that holds up to ${speedText(inGrass.permissibleMetersPerSecond, units)}`;
  const bareText = `Bare it runs ${speedText(bare.metersPerSecond, units)}, and holds ${speedText(bare.permissibleMetersPerSecond, units)}`;
  if (holdsFrom === 'bare') return `${runs}: fine, and even bare it holds.`;
  if (inGrass.holds) return `${runs}: fine. ${bareText}: let grass stand before it has to run.`;
  if (holdsFrom !== null)
    return `${runs}: would wash; ${coverWords[holdsFrom]} holds. ${bareText}.`;
  return `${runs}: would wash, in good grass too. ${remedyText(run, units)}`;
}

function remedyText(run: NotchRun, units: UnitSystem): string {
  const stone = run.stoneMeters === null ? '' : `lay stone of ${stoneText(run.stoneMeters, units)}`;
  const wider =
    run.widerBottomMeters === null
      ? 'no bottom under 60 ft is wide enough'
      : `make the bottom ${spoken(lengthQuantity(run.widerBottomMeters, units))} wide`;
  return run.widerBottomMeters === null
    ? `${upperFirst(stone)}; ${wider}.`
    : `${upperFirst(wider)} with grass in it before it runs, or ${stone}.`;
}

/** Said where the water stands higher than the notch is deep; else empty. */
export function tooSmallText(run: NotchRun, units: UnitSystem): string {
  if (!run.tooSmall) return '';
  const wider =
    run.widerBottomMeters === null
      ? ''
      : ` A bottom ${spoken(lengthQuantity(run.widerBottomMeters, units))} wide would do.`;
  return `In tall grass it stands ${cutText(run.deepestMeters, units)} deep, higher than the ${cutText(run.cutMeters, units)} cut: some stays on the spot until the rain is over.${wider}`;
}

/** What happens where it comes out. */
export function outletText(run: NotchRun, units: UnitSystem): string {
  const { outlet } = run;
  const steep = run.steepBelow
    ? ` Ground of ${spoken(slopeQuantity(run.steepestBelowRatio))} lies within 100 ft below: check it for washing.`
    : '';
  if (!outlet) return `It comes out on level ground.${steep}`;
  const at = `Where it comes out, on ${spoken(slopeQuantity(outlet.slopeRatio))}, it runs ${speedText(outlet.metersPerSecond, units)}`;
  const most = outlet.permissibleMetersPerSecond;
  if (outlet.holds) return `${at}; good grass holds ${speedText(most!, units)}: fine.${steep}`;
  const why =
    most === null ? 'no grass is rated over 10 %' : `good grass holds ${speedText(most, units)}`;
  return `${at}; ${why}: would wash. Lay stone of ${stoneText(outlet.stoneMeters!, units)} there, or come out elsewhere.${steep}`;
}

/** "4 in": stone is sold by the inch. */
export function stoneText(meters: number, units: UnitSystem): string {
  if (units === 'metric') return `${figure(Math.max(1, Math.ceil(meters * 100)), 0)} cm`;
  return `${figure(Math.max(1, Math.ceil(meters / 0.0254 - 1e-9)), 0)} in`;
}

/** Where the dirt goes. */
export function spoilText(notch: NonNullable<WayOut['notch']>, units: UnitSystem): string {
  const { spoil } = notch;
  const loose = yardsText(notch.looseCubicMeters, units);
  const thick = spoken(depthQuantity(spoil.thicknessMeters, null, units));
  const wide = spoken(lengthQuantity(spoil.widthMeters, units));
  if (spoil.place === 'low-spot') {
    return `Spread the loose dirt, ${loose}, in the low spot itself, sloped to the notch: along the cut it would lie ${wide} wide at ${thick}, or on ground to keep off.`;
  }
  return `Spread the loose dirt, ${loose}, along the ${compassWord(spoil.towardDegrees)} side (${spoil.side}, looking out), the lower one: ${wide} wide and ${thick} thick (common practice).`;
}

/** The better of cutting and filling, and why. */
export function betterText(job: NotchJob): string {
  const fill = minutesText(job.fillMinutes);
  if (job.better === 'neither') return '';
  if (!job.cutMinutes) return `Filling takes ${fill}.`;
  const cut = minutesText(job.cutMinutes);
  return job.better === 'cut'
    ? `Cut it: ${cut} of machine time against ${fill} to fill, and it drains; filled ground is still level.`
    : `Fill it: ${fill} of machine time against ${cut} to cut. It is still level then, so crown it.`;
}
