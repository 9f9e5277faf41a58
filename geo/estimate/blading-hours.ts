import type { LowHigh } from '../debris/low-high.ts';
import type { Dozer } from './dirt-minutes.ts';
import {
  bladedPerHour,
  correctedProduction,
  hourFactors,
  operatorFactors,
} from './dozer-production.ts';

/**
 * Machine hours to blade ground smooth in so many passes. `likely` is for the operator named and 50
 * minutes of the hour, `low` for the least ground and an excellent operator, `high` for the most, a
 * poor one and 40 minutes. Throws RangeError for an area below 0 and as the production does.
 * Example: 4,000 m², 4 passes of a 3 m blade, average: 3.0 h (2.3 to 4.7).
 */
export function bladingHours(squareMeters: LowHigh, passes: number, dozer: Dozer): LowHigh {
  for (const value of [squareMeters.low, squareMeters.likely, squareMeters.high]) {
    if (!(value >= 0 && value < Infinity)) throw new RangeError(`an area of ${value} m²`);
  }
  const atBest = bladedPerHour(dozer.bladeWidthMeters, passes);
  const hours = (area: number, operator: Dozer['operator'], hour: keyof typeof hourFactors) =>
    area / correctedProduction(atBest, [operatorFactors[operator], hourFactors[hour]]);
  return {
    low: hours(squareMeters.low, 'excellent', 'fifty'),
    likely: hours(squareMeters.likely, dozer.operator, 'fifty'),
    high: hours(squareMeters.high, 'poor', 'forty'),
  };
}
