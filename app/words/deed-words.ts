import type { SurveyCall } from '../../geo/plan/construct/survey-calls.ts';
import type { Slip } from '../../geo/plan/construct/traverse-slip.ts';
import type { Traverse } from '../../geo/plan/construct/traverse.ts';
import { figure, type UnitSystem } from './format.ts';
import { deedLength, quadrantBearing } from './survey-bearing.ts';

/** The courses of a deed read back, and what is to be said of how they close. */

/** `N 45°29'46" E, 208.71 ft`; a curve by its side, radius and chord. */
export function courseWords(call: SurveyCall, units: UnitSystem): string {
  const run = `${quadrantBearing(call.bearingDegrees)}, ${deedLength(call.distanceMeters, units)}`;
  if (!call.curve) return run;
  const radius = deedLength(call.curve.radiusMeters, units);
  return `curve to the ${call.curve.turns}, radius ${radius}, chord ${run}`;
}

/** Less than this is no miss: half a hundredth of a foot, half of the last figure of a deed. */
export const noMissMeters = 0.0015;

/** "1 in 30,400", to three figures; "it closes" where nothing is missed. */
export function ratioWords({ distanceMeters, ratio }: Traverse['closure']): string {
  return distanceMeters < noMissMeters ? 'it closes' : oneIn(ratio);
}

function oneIn(ratio: number): string {
  if (ratio === Infinity) return 'nothing to speak of';
  return `1 in ${figure(Number(Math.max(1, ratio).toPrecision(3)), ratio < 10 ? 1 : 0)}`;
}

/** What is left to go from the last corner: `0.08 ft, S 18°44'01" W`. */
export function missWords({ closure }: Traverse, units: UnitSystem): string {
  if (closure.distanceMeters < noMissMeters || closure.bearingDegrees === null) return 'nothing';
  return `${deedLength(closure.distanceMeters, units)}, ${quadrantBearing(closure.bearingDegrees)}`;
}

export interface Judgement {
  readonly level: 'note' | 'caution';
  readonly lead: string;
  readonly rest: string;
}

/** Third-order traverse, class II, of the federal standards of 1984 (figure from memory). */
const surveyed = 5000;
/** What compass and chain were held to in rough country (from memory, surveying textbooks). */
const compassAndChain = 300;

/** How good a closure is, in plain words. */
export function closureJudgement({ closure }: Traverse, courses: number): Judgement {
  const { distanceMeters, ratio } = closure;
  if (distanceMeters < noMissMeters) {
    return {
      level: 'note',
      lead: 'It closes.',
      rest: 'The last course ends where the first begins.',
    };
  }
  if (courses < 3) {
    return { level: 'note', lead: 'Not round yet.', rest: 'An outline takes three courses.' };
  }
  if (ratio >= surveyed) {
    return {
      level: 'note',
      lead: 'It closes well.',
      rest: 'Land surveys are commonly held to 1 in 5,000 or better.',
    };
  }
  if (ratio >= compassAndChain) {
    return {
      level: 'caution',
      lead: 'It closes like compass and chain.',
      rest: 'An old deed often does no better. For a newer one, look for a figure copied wrong.',
    };
  }
  return {
    level: 'caution',
    lead: 'It closes poorly.',
    rest: 'A course is missing, or one is copied wrong. You can keep it, but only as a sketch.',
  };
}

/** "It closes well: 1 in 30,400.", in one breath with the acres. */
export function closureLine(traverse: Traverse, courses: number): string {
  const { lead } = closureJudgement(traverse, courses);
  const ratio = ratioWords(traverse.closure);
  return ratio === 'it closes' ? lead : `${lead.slice(0, -1)}: ${ratio}.`;
}

const slipLead = {
  'turned-round': 'runs the other way',
  'east-for-west': 'has E and W exchanged',
  'north-for-south': 'has N and S exchanged',
} as const;

/** Where the miss may come from: "If course 3 has E and W exchanged (N 45°00'00" W), …". */
export function slipWords(slips: readonly Slip[]): string {
  const [first, ...others] = slips;
  if (!first) return '';
  const one = ({ index, kind, bearingDegrees }: Slip): string =>
    `course ${index + 1} ${slipLead[kind]} (${quadrantBearing(bearingDegrees)})`;
  const listed = [one(first), ...others.slice(0, 2).map(one)].join(', or ');
  const closes = first.ratio > 1e6 ? 'it would close' : `it would close to ${oneIn(first.ratio)}`;
  return `If ${listed}, ${closes}. See what the deed says.`;
}
