import type { DriftRule } from './drift-rule.ts';
import { scentDrift } from './scent-drift.ts';
import type { SeasonHours } from './season-hours.ts';
import type { SeatReach } from './seat-reach.ts';
import { SECTORS, shareOut } from './sectors.ts';
import type { SlopeFlow } from './slope-flow.ts';
import { MORNING } from './sun-parts.ts';
import { clearanceOf, verdictOf, worseOf, type Verdict } from './wind-verdict.ts';

/** A stand as the season sees it. */
export interface SeasonSeat {
  readonly reach: SeatReach;
  /** What the station's speed is multiplied by at the seat. */
  readonly windShare: number;
  readonly isSheltered: boolean;
  /** The slope's own air; left out where it is not reckoned with. */
  readonly slopeAir?: (hour: number, seatMetersPerSecond: number) => SlopeFlow | null;
  /** What pools do that its air runs into while it drains; left out where it runs into none. */
  readonly pooled?: Verdict;
}

export const VERDICTS: readonly Verdict[] = ['works', 'marginal', 'does-not'];
export const WORKS = 0;

/** A stand's verdict on each hour of a season. */
export interface HourVerdicts {
  /** Index in VERDICTS. */
  readonly verdict: Uint8Array;
  /** 1 where the verdict deserves little confidence. */
  readonly isDoubtful: Uint8Array;
}

/** Judges every hour of a season for one stand, each by its own wind and class. */
export function judgeSeason(hours: SeasonHours, seat: SeasonSeat, rule: DriftRule): HourVerdicts {
  const { count, fromDegrees, speedMetersPerSecond, stability } = hours;
  const verdict = new Uint8Array(count);
  const isDoubtful = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const from = fromDegrees[i]!;
    const speed = speedMetersPerSecond[i]! * seat.windShare;
    const slopeFlow = seat.slopeAir?.(i, speed) ?? null;
    const drift = scentDrift(
      {
        fromDegrees: Number.isNaN(from) ? null : from,
        speedMetersPerSecond: speed,
        stability: stability[i]!,
        slopeFlow,
        isSheltered: seat.isSheltered,
      },
      rule,
    );
    const { axisDegrees, halfAngleDegrees } = drift;
    const clearance = clearanceOf(seat.reach, axisDegrees);
    const core = rule.coreHalfAngleDegrees;
    const found = verdictOf(clearance, axisDegrees === null, halfAngleDegrees, core);
    const isPooled = seat.pooled !== undefined && slopeFlow?.kind === 'down';
    verdict[i] = VERDICTS.indexOf(isPooled ? worseOf(found, seat.pooled) : found);
    isDoubtful[i] = drift.doubts.length > 0 ? 1 : 0;
  }
  return { verdict, isDoubtful };
}

/** Hours by verdict. */
export interface VerdictHours {
  works: number;
  marginal: number;
  doesNot: number;
  /** Of all of them, those judged with little confidence. */
  doubtful: number;
}

export interface PartHours {
  readonly morning: VerdictHours;
  readonly evening: VerdictHours;
}

export interface StandSeason extends PartHours {
  /** By wind: 16 directions clockwise from north. Reports in tens are shared out between them. */
  readonly directions: readonly PartHours[];
  readonly calm: PartHours;
  readonly variable: PartHours;
  /** By week of the season. */
  readonly weeks: readonly PartHours[];
}

/** Adds up a stand's verdicts over all years: divide by the number of seasons for hours a season. */
export function standSeason(hours: SeasonHours, verdicts: HourVerdicts): StandSeason {
  const lastWeek = hours.week.reduce((most, week) => Math.max(most, week), -1);
  const total = noHours();
  const directions = Array.from({ length: SECTORS }, noHours);
  const [calm, variable] = [noHours(), noHours()];
  const weeks = Array.from({ length: lastWeek + 1 }, noHours);
  for (let i = 0; i < hours.count; i++) {
    const part = hours.part[i] === MORNING ? 'morning' : 'evening';
    const add = (to: PartHours, share: number) => addHour(to[part], verdicts, i, share);
    add(total, 1);
    add(weeks[hours.week[i]!]!, 1);
    const from = hours.fromDegrees[i]!;
    if (hours.speedMetersPerSecond[i] === 0) add(calm, 1);
    else if (Number.isNaN(from)) add(variable, 1);
    else shareOut(from, hours.stepDegrees, (sector, share) => add(directions[sector]!, share));
  }
  return { ...total, directions, calm, variable, weeks };
}

/** Share of a part's hours that work: 0 to 1, NaN without hours. */
export function shareThatWorks({ works, marginal, doesNot }: VerdictHours): number {
  return works / (works + marginal + doesNot);
}

/** The winds on which at least half of the legal hours of both parts work (index of 16); none without hours. */
export function windsThatWork({ directions }: Pick<StandSeason, 'directions'>): number[] {
  return directions.flatMap(({ morning, evening }, i) => {
    const works = morning.works + evening.works;
    const not = morning.marginal + morning.doesNot + evening.marginal + evening.doesNot;
    return works > 0 && works >= not ? [i] : [];
  });
}

function noHours(): PartHours {
  const none = () => ({ works: 0, marginal: 0, doesNot: 0, doubtful: 0 });
  return { morning: none(), evening: none() };
}

function addHour(to: VerdictHours, verdicts: HourVerdicts, i: number, share: number): void {
  const verdict = VERDICTS[verdicts.verdict[i]!];
  if (verdict === 'works') to.works += share;
  else if (verdict === 'marginal') to.marginal += share;
  else to.doesNot += share;
  if (verdicts.isDoubtful[i] === 1) to.doubtful += share;
}
