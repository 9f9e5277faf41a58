import type { Frame } from '../frame/crs-types.ts';
import { metersFromFeet, metersFromYards } from '../frame/units.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { ShotRule, Weapon } from '../plan/shot-rules.ts';
import { setbackChecks } from '../sight/setbacks.ts';
import { bearing, standsInArc, type StandArc } from '../sight/stands-in-arc.ts';
import type { Inputs } from './definition.ts';
import { firstPosition } from './first-position.ts';
import { inFrame } from './ground-inputs.ts';
import type { StandInLine, StandSetback } from './shot-answers.ts';
import { requiredOf, type ShotPlace } from './shot-places.ts';

/** Nearer than that nobody can say which way is away. */
const AT_METERS = 0.1;

/** What a stand's own place says: frame metres, and how many of them are one on the ground. */
export interface Here {
  readonly frame: Frame;
  readonly at: XY;
  readonly scale: number;
  readonly convergenceDegrees: number;
}

/** Where nobody has said, what carries farthest. */
export function weaponOf({ properties }: PlanFeature<'stand'>): Weapon {
  return properties.weapon ?? 'rifle';
}

/** The nearest of each sort of thing, and everything that it is too near to; nearest first. */
export function setbacksOf(
  { settings }: Inputs,
  { frame, at, scale, convergenceDegrees }: Here,
  rule: ShotRule,
  places: readonly ShotPlace[],
): StandSetback[] {
  const unit = settings.units === 'metric' ? 1 : metersFromFeet(1);
  const checks = setbackChecks(
    [0, 0],
    places.map(({ id, from, shape }) => ({
      id,
      requiredMeters: requiredOf(rule, from),
      shape: { ...shape, paths: shape.paths.map((path) => path.map(([x, y]): XY => [(x - at[0]) / scale, (y - at[1]) / scale])) }, // prettier-ignore
    })),
    unit,
  );
  const all = checks
    .map((check, i): StandSetback => {
      const [east, north] = check.nearest;
      const { id, from } = places[i]!;
      return {
        id,
        from,
        meters: check.meters,
        requiredMeters: requiredOf(rule, from),
        unitsAway: check.unitsAway,
        unitsShort: check.unitsShort,
        awayDegrees: check.meters > AT_METERS ? (bearing(-east, -north) + convergenceDegrees + 360) % 360 : null, // prettier-ignore
        at: frame.toLngLat(at[0] + east * scale, at[1] + north * scale),
      };
    })
    .sort((a, b) => a.meters - b.meters);
  return all.filter(
    ({ from, unitsShort }, i) => unitsShort > 0 || all.findIndex((one) => one.from === from) === i,
  );
}

/** Where a seat looks and how far, true bearing; null looks all round. */
export interface SeatArc {
  readonly id: string;
  readonly facingDegrees: number | null;
  readonly weapon: Weapon;
}

/** Stands that are drawn, in ground metres from a place. */
export function arcsOfStands(inputs: Inputs, here: Here): StandArc[] {
  return byId(inputs.features('stand')).flatMap((one): StandArc[] => {
    const there = inFrame(here.frame, firstPosition(one));
    if (!there || !isKind(one, 'stand')) return [];
    const { facingDegrees } = one.properties;
    return [arcAt(inputs, here, { id: one.id, facingDegrees, weapon: weaponOf(one) }, there)];
  });
}

export function arcAt(
  { settings }: Inputs,
  { at, scale, convergenceDegrees }: Here,
  { id, facingDegrees, weapon }: SeatArc,
  there: XY,
): StandArc {
  return {
    id,
    at: [(there[0] - at[0]) / scale, (there[1] - at[1]) / scale],
    facingDegrees: facingDegrees === null ? null : facingDegrees - convergenceDegrees,
    halfArcDegrees: settings.shotHalfArcDegrees,
    rangeMeters: settings.shotRules[weapon].othersWithinMeters,
  };
}

/** Stands in its arc and range, and stands in whose arc and range it is; the seat itself need not be drawn. */
export function othersOf(inputs: Inputs, stand: SeatArc, here: Here): StandInLine[] {
  const { settings } = inputs;
  const { frame, at, scale, convergenceDegrees } = here;
  const drawn = arcsOfStands(inputs, here).filter(({ id }) => id !== stand.id);
  const arcs = [...drawn, arcAt(inputs, here, stand, at)];
  const found = standsInArc(arcs, settings.units === 'metric' ? 1 : metersFromYards(1));
  return drawn.flatMap(({ id, at: [east, north] }): StandInLine[] => {
    const out = found.find((one) => one.from === stand.id && one.to === id);
    const back = found.find((one) => one.from === id && one.to === stand.id);
    const one = out ?? back;
    if (!one) return [];
    return [
      {
        otherId: id,
        way: out && back ? 'both' : out ? 'from-here' : 'to-here',
        unitsAway: one.unitsAway,
        bearingDegrees: (bearing(east, north) + convergenceDegrees + 360) % 360,
        at: frame.toLngLat(at[0] + east * scale, at[1] + north * scale),
      },
    ];
  });
}

export function byId(features: readonly PlanFeature[]): PlanFeature[] {
  return [...features].sort((a, b) => (a.id < b.id ? -1 : 1));
}
