import type { LaneShown, WindLanes } from '../../geo/answers/lane-answers.ts';
import type { Giveaway } from '../../geo/approach/lane-walk.ts';
import { timeOfDay, zoneInUse } from './clock.ts';
import { figure, lengthQuantity, rangeQuantity, spoken, station, type UnitSystem } from './format.ts'; // prettier-ignore

const giveawayWords: Readonly<Record<Giveaway, string>> = {
  scent: 'scent reaches protected ground',
  seen: 'in sight of it',
  wet: 'wet',
  steep: 'steep',
};

const noLaneWords: Readonly<Record<NonNullable<WindLanes['noLane']>, string>> = {
  'stand-barred': 'the stand is inside ground that is closed to you',
  'access-barred': 'every access point is inside ground that is closed to you',
  'shut-in': 'closed ground lies all round',
  scented: 'even the best gives itself away too long',
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

/** "1+20 to 2+05 in sight of it"; the longest three. */
export function exposedTexts({ exposed }: LaneShown, units: UnitSystem): string[] {
  return exposed
    .toSorted((a, b) => b.toMeters - b.fromMeters - (a.toMeters - a.fromMeters))
    .slice(0, 4)
    .map(({ fromMeters, toMeters, why }) => `${station(fromMeters, units)} to ${station(toMeters, units)}: ${giveawayWords[why]}`); // prettier-ignore
}

export function noLaneText({ noLane }: WindLanes): string {
  return noLane === null ? '' : noLaneWords[noLane];
}

/** "climbs 40 ft; leave the truck at 5:48 am". */
export function climbText(lane: LaneShown, timeZone: string, units: UnitSystem): string {
  const climb = `climbs ${spoken(lengthQuantity(lane.climbMeters, units))}`;
  if (lane.leaveTruckUtc === null) return climb;
  return `${climb}; leave the truck at ${timeOfDay(Date.parse(lane.leaveTruckUtc), zoneInUse(timeZone))} to sit quietly by legal light`;
}
