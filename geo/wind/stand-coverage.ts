import type { SeasonHours } from './season-hours.ts';
import { SECTORS, shareOut } from './sectors.ts';
import { WORKS, type HourVerdicts } from './stand-season.ts';
import { MORNING } from './sun-parts.ts';

/** Hours of a part of the day with what kind of wind, and how many of them no stand works on. */
export interface Uncovered {
  readonly hours: number;
  readonly noStandHours: number;
}

export interface PartCoverage {
  readonly hours: number;
  /** Hours on which at least one stand works. */
  readonly coveredHours: number;
  /** 16 directions clockwise from north. */
  readonly directions: readonly Uncovered[];
}

export interface StandShare {
  readonly id: string;
  /** Hours on which only this stand works: what dropping it loses. */
  readonly onlyHours: number;
  readonly worksHours: number;
}

export interface StandCoverage {
  readonly morning: PartCoverage;
  readonly evening: PartCoverage;
  /** The stands that are there, the least missed first; equal ones in the order given. */
  readonly dropping: readonly StandShare[];
  /** Places that a stand might be added at: hours gained that no stand works on now, most first. */
  readonly adding: readonly { readonly id: string; readonly gainedHours: number }[];
}

export interface JudgedStand {
  readonly id: string;
  readonly verdicts: HourVerdicts;
}

/**
 * What the stands of a tract cover together, over all hours of a season: the winds on which none
 * works, the stand that is missed least, and what candidates would add.
 * Throws RangeError for verdicts of another season.
 */
export function standCoverage(
  hours: SeasonHours,
  stands: readonly JudgedStand[],
  candidates: readonly JudgedStand[] = [],
): StandCoverage {
  for (const { id, verdicts } of [...stands, ...candidates]) {
    if (verdicts.verdict.length !== hours.count) throw new RangeError(`standCoverage: ${id}`);
  }
  const working = new Uint16Array(hours.count);
  for (const { verdicts } of stands) {
    for (let i = 0; i < hours.count; i++) if (verdicts.verdict[i] === WORKS) working[i]!++;
  }
  const dropping = stands.map(({ id, verdicts }) => {
    let [onlyHours, worksHours] = [0, 0];
    for (let i = 0; i < hours.count; i++) {
      if (verdicts.verdict[i] !== WORKS) continue;
      worksHours++;
      if (working[i] === 1) onlyHours++;
    }
    return { id, onlyHours, worksHours };
  });
  const adding = candidates.map(({ id, verdicts }) => {
    let gainedHours = 0;
    for (let i = 0; i < hours.count; i++) {
      if (verdicts.verdict[i] === WORKS && working[i] === 0) gainedHours++;
    }
    return { id, gainedHours };
  });
  return {
    morning: partCoverage(hours, working, true),
    evening: partCoverage(hours, working, false),
    dropping: dropping.sort((a, b) => a.onlyHours - b.onlyHours || a.worksHours - b.worksHours),
    adding: adding.sort((a, b) => b.gainedHours - a.gainedHours),
  };
}

function partCoverage(hours: SeasonHours, working: Uint16Array, isMorning: boolean): PartCoverage {
  const all = new Float64Array(SECTORS);
  const none = new Float64Array(SECTORS);
  let [count, coveredHours] = [0, 0];
  for (let i = 0; i < hours.count; i++) {
    if ((hours.part[i] === MORNING) !== isMorning) continue;
    count++;
    const isCovered = working[i]! > 0;
    if (isCovered) coveredHours++;
    const from = hours.fromDegrees[i]!;
    if (Number.isNaN(from)) continue;
    shareOut(from, hours.stepDegrees, (sector, share) => {
      all[sector]! += share;
      if (!isCovered) none[sector]! += share;
    });
  }
  const directions = Array.from(all, (sum, i) => ({ hours: sum, noStandHours: none[i]! }));
  return { hours: count, coveredHours, directions };
}
