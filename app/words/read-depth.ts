import { figure, type UnitSystem } from './format.ts';
import { parseLength } from './parse-measure.ts';

/** As much rain as a plan takes, metres; more than ever fell in a storm. */
export const MOST_RAIN_METERS = 2;
/** As much as a plan takes for a day's evaporation, metres. */
export const MOST_EVAPORATION_METERS = 0.05;

/**
 * A depth of water as written: from none to `mostMeters`, a bare number in inches or millimetres;
 * else one sentence on what to write.
 */
export function readDepth(
  text: string,
  units: UnitSystem,
  mostMeters: number,
  such: string,
): { readonly value: number } | { readonly wrong: string } {
  const metric = units === 'metric';
  const meters = parseLength(text, metric ? 'mm' : 'in');
  if (meters !== null && meters <= mostMeters) return { value: meters };
  const most = metric
    ? `${figure(mostMeters * 1000, 0)} mm`
    : `${figure(Math.floor((mostMeters / 0.0254) * 10) / 10, 1).replace('.0', '')} in`;
  return { wrong: `Write a depth from 0 to ${most}, such as ${such}.` };
}
