import { badNumber } from '../debris/check-numbers.ts';
import type { LowHigh } from '../debris/low-high.ts';
import { ok, problem, type Result } from '../result.ts';

/** What the user has seen done: so much ground in so many machine hours. */
export interface LoggedWork {
  readonly areaSquareMeters: number;
  readonly hours: number;
}

/** One log alone may be so far out; several never agree better than the least. Ours. */
const ONE_LOG_SHARE = 0.25;
const LEAST_SHARE = 0.1;

/**
 * Square metres an hour by the user's own log: all ground over all hours, give or take twice the
 * standard error of the single rates, but a tenth at least, and a quarter for a single log.
 * Problems: `log-empty`, and values not above 0.
 * Example: 0.9 and 1.1 ac in 8 h each: 0.125 ac an hour, 0.1 to 0.15.
 */
export function loggedRate(logged: readonly LoggedWork[]): Result<LowHigh> {
  if (logged.length === 0) {
    return problem(
      'log-empty',
      'Nothing is logged.',
      'Log how much ground was cleared in how many hours.',
    );
  }
  for (const { areaSquareMeters, hours } of logged) {
    const bad =
      badNumber({ 'logged area': areaSquareMeters }, 0, 1e9, true) ??
      badNumber({ 'logged hours': hours }, 0, 1e5, true);
    if (bad) return bad;
  }
  const area = logged.reduce((sum, one) => sum + one.areaSquareMeters, 0);
  const likely = area / logged.reduce((sum, one) => sum + one.hours, 0);
  const share = Math.min(0.9, logged.length === 1 ? ONE_LOG_SHARE : spread(logged));
  return ok({ low: likely * (1 - share), likely, high: likely * (1 + share) });
}

function spread(logged: readonly LoggedWork[]): number {
  const rates = logged.map(({ areaSquareMeters, hours }) => areaSquareMeters / hours);
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
  const squares = rates.reduce((sum, rate) => sum + (rate - mean) ** 2, 0);
  const deviation = Math.sqrt(squares / (rates.length - 1)) / mean;
  return Math.max(LEAST_SHARE, (2 * deviation) / Math.sqrt(rates.length));
}
