import {
  bladedPerHour,
  correctedProduction,
  hourFactors,
  operatorFactors,
  pushedPerHour,
} from './dozer-production.ts';

export interface Dozer {
  readonly bladeLoadCubicMeters: number;
  readonly bladeWidthMeters: number;
  readonly operator: keyof typeof operatorFactors;
}

export interface MinutesRange {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** Times that the finished face is bladed over: common practice, no source. */
const PASSES = 4;

/**
 * Minutes of one dozer to move loose dirt (cubic metres) so far and to blade what is left smooth.
 * `likely` is for the operator named and 50 minutes of the hour; `low` for the least dirt and an
 * excellent operator; `high` for the most dirt, a poor operator and 40 minutes of the hour.
 * Move-in, warming up and wet ground are not in it. No dirt takes no minutes, but for the blading.
 * Throws RangeError for a volume or area below 0 and as the productions do.
 */
export function dirtMinutes(
  looseCubicMeters: MinutesRange,
  pushMeters: number,
  bladedSquareMeters: number,
  dozer: Dozer,
): MinutesRange {
  for (const value of [...Object.values(looseCubicMeters), bladedSquareMeters]) {
    if (!(value >= 0 && value < Infinity)) throw new RangeError(`a volume or area of ${value}`);
  }
  const pushed = pushedPerHour(dozer.bladeLoadCubicMeters, pushMeters);
  const bladed = bladedPerHour(dozer.bladeWidthMeters, PASSES);
  const minutes = (loose: number, operator: Dozer['operator'], hour: keyof typeof hourFactors) => {
    const factors = [operatorFactors[operator], hourFactors[hour]];
    const hours =
      loose / correctedProduction(pushed, factors) +
      bladedSquareMeters / correctedProduction(bladed, factors);
    return 60 * hours;
  };
  return {
    low: minutes(looseCubicMeters.low, 'excellent', 'fifty'),
    likely: minutes(looseCubicMeters.likely, dozer.operator, 'fifty'),
    high: minutes(looseCubicMeters.high, 'poor', 'forty'),
  };
}
