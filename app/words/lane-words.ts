import type { LaneShown, WindLanes } from '../../geo/answers/lane-answers.ts';
import type { LaneScreen } from '../../geo/answers/lane-screens.ts';
import { exposedMeters, type Giveaway } from '../../geo/approach/lane-walk.ts';
import type { Verdict } from '../../geo/wind/wind-verdict.ts';
import { timeOfDay, zoneInUse } from './clock.ts';
import { directions16, figure, lengthQuantity, rangeQuantity, shareQuantity, spoken, station, type UnitSystem } from './format.ts'; // prettier-ignore

const giveawayWords: Readonly<Record<Giveaway, string>> = {
  scent: 'scent reaches protected ground',
  seen: 'in sight of protected ground',
  wet: 'wet',
  steep: 'steep',
};

const noLaneWords: Readonly<Record<NonNullable<WindLanes['noLane']>, string>> = {
  'stand-barred': 'the stand is inside ground that is closed to you',
  'access-barred': 'every access point is inside ground that is closed to you',
  'shut-in': 'closed ground lies all round',
  scented: 'even on the best one scent reaches protected ground too long',
};

/** "620 yd, 14 min". */
export function laneText({ lengthMeters, seconds }: LaneShown, units: UnitSystem): string {
  return `${spoken(rangeQuantity(lengthMeters, units))}, ${figure(Math.ceil(seconds / 60), 0)} min`;
}

export function laneLabel(
  lane: LaneShown,
  is: 'best' | 'second' | 'out',
  units: UnitSystem,
): string {
  const lead = { best: '', second: 'second: ', out: 'out: ' }[is];
  return `${lead}${laneText(lane, units)}`;
}

/** "1+20 to 2+05: in sight of protected ground"; the longest four, as one comes to them. */
export function exposedTexts({ exposed, screens }: LaneShown, units: UnitSystem): string[] {
  return exposed
    .toSorted((a, b) => b.toMeters - b.fromMeters - (a.toMeters - a.fromMeters))
    .slice(0, 4)
    .sort((a, b) => a.fromMeters - b.fromMeters || a.toMeters - b.toMeters)
    .map(({ fromMeters, toMeters, why }) => {
      const stretch = `${station(fromMeters, units)} to ${station(toMeters, units)}: ${giveawayWords[why]}`; // prettier-ignore
      const screen = screens.find((one) => why === 'seen' && one.fromMeters === fromMeters);
      return screen ? `${stretch}${screenText(screen, units)}` : stretch;
    });
}

/** "; a berm 9 ft high and 160 ft long on the left would hide you". */
function screenText(screen: LaneScreen, units: UnitSystem): string {
  const { heightMeters, bermMeters, side, hiddenShare } = screen;
  const berm = `${spoken(lengthQuantity(heightMeters, units))} high and ${spoken(lengthQuantity(bermMeters, units))} long on the ${side}`; // prettier-ignore
  const hides = hiddenShare > 0.95 ? 'you' : `you on ${spoken(shareQuantity(hiddenShare))} of it`;
  return `; a berm ${berm} would hide ${hides}`;
}

/** "Serves winds from N, NNE"; empty when it serves only the one shown. */
export function servesText({ serves }: LaneShown): string {
  if (serves.length < 2) return '';
  return `Good on winds from ${serves.map((direction) => directions16[direction]).join(', ')}.`;
}

/** "an ENE wind": as it is read out. */
function onWind(direction: number): string {
  const name = directions16[direction] ?? '';
  return `${name.startsWith('E') ? 'an' : 'a'} ${name} wind`;
}

/**
 * "On an ENE wind:"; where the wind in hand has no way in, why, and which wind is shown instead: "It
 * cannot be sat in calm or shifting air. Shown is the way for an ENE wind, the wind it works on most:".
 * `inHand` is an index of 16, null for air without a direction; `verdict` is of the air in hand, if it
 * is known.
 */
export function shownWindText(
  direction: number,
  inHand: number | null,
  verdict: Verdict | null,
  isMost: boolean,
): string {
  if (direction === inHand) return `On ${onWind(direction)}:`;
  const air = inHand === null ? 'in calm or shifting air' : `on ${onWind(inHand)}`;
  const why = verdict === 'does-not' ? `It cannot be sat ${air}.` : `No way in is known ${air}.`;
  const most = isMost ? ', the wind it works on most' : ', a wind it can be sat on';
  return `${why} Shown is the way for ${onWind(direction)}${most}:`;
}

export function noLaneText({ noLane }: WindLanes): string {
  return noLane === null ? '' : noLaneWords[noLane];
}

/** "climbs 40 ft; leave the truck at 5:48 am to sit quietly by legal light at 6:30 am". */
export function climbText(lane: LaneShown, timeZone: string, units: UnitSystem): string {
  const climb = `climbs ${spoken(lengthQuantity(lane.climbMeters, units))}`;
  if (lane.sit === null) return climb;
  const { part, leaveTruckUtc, beginsUtc } = lane.sit;
  const at = (utc: string) => timeOfDay(Date.parse(utc), zoneInUse(timeZone));
  const by = part === 'morning' ? 'legal light' : 'the evening hours, which begin';
  return `${climb}; leave the truck at ${at(leaveTruckUtc)} to sit quietly by ${by} at ${at(beginsUtc)}`;
}

/**
 * Why a second way is shown beside the best: "Mostly over other ground, for when the best is wet or
 * blocked: 4 min longer, 80 yd less in sight."
 */
export function secondReason(best: LaneShown, second: LaneShown, units: UnitSystem): string {
  const minutes = Math.ceil(second.seconds / 60) - Math.ceil(best.seconds / 60);
  const time = minutes === 0 ? 'as long' : `${figure(Math.abs(minutes), 0)} min ${minutes > 0 ? 'longer' : 'shorter'}`; // prettier-ignore
  const against = [
    compared(exposedMeters(second, 'seen') - exposedMeters(best, 'seen'), 'in sight', units),
    compared(second.scentedMeters - best.scentedMeters, 'of scent on protected ground', units),
  ].filter((text) => text !== '');
  return `Mostly over other ground, for when the best is wet, blocked or used too often: ${[time, ...against].join(', ')}.`;
}

/** "80 yd less in sight"; nothing where the two are alike. */
function compared(meters: number, what: string, units: UnitSystem): string {
  const off = rangeQuantity(Math.abs(meters), units);
  return off.text === '0' ? '' : `${spoken(off)} ${meters > 0 ? 'more' : 'less'} ${what}`;
}
