import { badLowHigh, badNumber } from '../debris/check-numbers.ts';
import type { LowHigh } from '../debris/low-high.ts';
import { ok, type Result } from '../result.ts';
import type { Dozer } from './dirt-minutes.ts';
import {
  correctedProduction,
  hourFactors,
  operatorFactors,
  pushedPerHour,
} from './dozer-production.ts';
import { gradeFactor, type GradeBasis } from './grade-factor.ts';

/** So much loose volume pushed so far and up; a flow of a push plan is one. */
export interface PushLoad {
  readonly cubicMeters: number;
  readonly meters: number;
  /** Null where the ground is unknown: taken as level. */
  readonly riseMeters: number | null;
}

export interface PushMaterial {
  /** Of the loose volume, as it is pushed. */
  readonly kilogramsPerCubicMeter: number;
  /** How badly it drifts before the blade: `low` the worst. */
  readonly drift: LowHigh;
}

/**
 * Debris: weight of green wood, soil and air in the demo's piles, about 250 kg/m³ (ours), and hard
 * to drift, 0.80 (handbook §4.1), as branches hook; 0.60 to 1 ours.
 */
export const debrisMaterial: PushMaterial = {
  kilogramsPerCubicMeter: 250,
  drift: { low: 0.6, likely: 0.8, high: 1 },
};

/** Upper ends of the classes, metres: 50, 100, 200 and 300 ft, to which pushing pays (trade S6). */
const classEnds = [15.24, 30.48, 60.96, 91.44, Infinity] as const;

/** Base of the published production: 2,300 lb in a loose cubic yard. */
const BASE_DENSITY = 1370;
/** No push is shorter: a blade has to be filled (ours). */
const SHORTEST = 3;

export interface PushClass {
  readonly fromMeters: number;
  /** Infinity for the last. */
  readonly toMeters: number;
  readonly cubicMeters: number;
  /** By volume. */
  readonly meanMeters: number;
  /** Rise over run by volume, of what is known. */
  readonly meanGrade: number;
  readonly gradeBasis: GradeBasis;
  readonly likelyHours: number;
}

export interface PushHours {
  readonly hours: LowHigh;
  /** What goes beyond pushing each of it 30 m at most, which piling by tree count holds already. */
  readonly beyondPiling: LowHigh;
  readonly classes: readonly PushClass[];
  /** Of the volume, pushed farther than pays. */
  readonly farShare: number;
}

/** About half the way between windrows 200 ft apart; from memory of the tree-count method. */
const PILED_WITHIN = 30.48;

/**
 * Machine hours to push what a push plan says, by classes of distance: loads over the most that a
 * blade moves so far, times the published factors for operator, hour, grade, drift and weight (at
 * most 1: a blade holds no more of what is light). `likely` is for the operator named and 50
 * minutes of the hour, `low` for the least volume, an excellent operator and good drift, `high` for
 * the most, a poor one, 40 minutes and bad drift. Move-in and wet ground are not in it.
 * @param volumeShare volume as a share of what is pushed in the plan, with `likely` 1
 * Problems: values out of bounds.
 * Example: 300 m³ over 30 m on the level, a blade of 1.9 m³, average: 4.9 h (2.9 to 10).
 */
export function pushHours(
  loads: readonly PushLoad[],
  dozer: Dozer,
  material: PushMaterial,
  volumeShare: LowHigh = { low: 1, likely: 1, high: 1 },
): Result<PushHours> {
  const bad = checkAll(loads, dozer, material, volumeShare);
  if (bad) return bad;
  const weight = Math.min(1, BASE_DENSITY / material.kilogramsPerCubicMeter);
  const cases = {
    low: [operatorFactors.excellent, hourFactors.fifty, material.drift.high, weight],
    likely: [operatorFactors[dozer.operator], hourFactors.fifty, material.drift.likely, weight],
    high: [operatorFactors.poor, hourFactors.forty, material.drift.low, weight],
  };
  const classes = classesOf(loads);
  const hoursWith = (factors: readonly number[], volume: number, most: number) =>
    classes.map(({ cubicMeters, meanMeters, grade }) => {
      const meters = Math.max(SHORTEST, Math.min(most, meanMeters));
      const atBest = pushedPerHour(dozer.bladeLoadCubicMeters, meters);
      return (volume * cubicMeters) / correctedProduction(atBest, [...factors, grade.factor]);
    });
  const likely = hoursWith(cases.likely, volumeShare.likely, Infinity);
  const range = (most: number): LowHigh => {
    const of = (name: keyof LowHigh) => sum(hoursWith(cases[name], volumeShare[name], most));
    return { low: of('low'), likely: of('likely'), high: of('high') };
  };
  const [hours, piled] = [range(Infinity), range(PILED_WITHIN)];
  const volume = sum(classes.map(({ cubicMeters }) => cubicMeters));
  const far = classes.find(({ toMeters }) => toMeters === Infinity);
  return ok({
    hours,
    beyondPiling: {
      low: hours.low - piled.low,
      likely: hours.likely - piled.likely,
      high: hours.high - piled.high,
    },
    classes: classes.map(({ grade, ...one }, i) => {
      return { ...one, gradeBasis: grade.basis, likelyHours: likely[i]! };
    }),
    farShare: volume > 0 && far ? far.cubicMeters / volume : 0,
  });
}

function checkAll(
  loads: readonly PushLoad[],
  { bladeLoadCubicMeters }: Dozer,
  { kilogramsPerCubicMeter, drift }: PushMaterial,
  volumeShare: LowHigh,
): Result<never> | null {
  const bad =
    badNumber({ 'load of the blade': bladeLoadCubicMeters }, 0, 1000, true) ??
    badNumber({ 'weight of a cubic metre': kilogramsPerCubicMeter }, 0, 5000, true) ??
    badLowHigh('drift factor', drift, 0, 1, true) ??
    badLowHigh('share of the volume', volumeShare, 0, 100);
  if (bad) return bad;
  for (const { cubicMeters, meters, riseMeters } of loads) {
    const wrong =
      badNumber({ 'volume to push': cubicMeters, 'push distance': meters }, 0, 1e9) ??
      badNumber({ 'rise of a push': riseMeters ?? 0 }, -1e5, 1e5);
    if (wrong) return wrong;
  }
  return null;
}

function classesOf(loads: readonly PushLoad[]) {
  return classEnds.flatMap((toMeters, i) => {
    const fromMeters = i === 0 ? 0 : classEnds[i - 1]!;
    const within = loads.filter(({ meters, cubicMeters }) => meters < toMeters && meters >= fromMeters && cubicMeters > 0); // prettier-ignore
    if (within.length === 0) return [];
    const cubicMeters = sum(within.map((load) => load.cubicMeters));
    const known = within.filter(({ riseMeters }) => riseMeters !== null);
    const run = sum(known.map((load) => load.cubicMeters * Math.max(load.meters, SHORTEST)));
    const rise = sum(known.map((load) => load.cubicMeters * load.riseMeters!));
    const meanGrade = run > 0 ? rise / run : 0;
    const meanMeters = sum(within.map((load) => load.cubicMeters * load.meters)) / cubicMeters;
    return [{ fromMeters, toMeters, cubicMeters, meanMeters, meanGrade, grade: gradeFactor(meanGrade) }]; // prettier-ignore
  });
}

function sum(values: readonly number[]): number {
  return values.reduce((all, value) => all + value, 0);
}
