import { cubicYardsFromCubicMeters, inchesFromMeters } from '../../geo/frame/units.ts';
import { figure, type UnitSystem } from './format.ts';

/** Figures along an axis: where, as a share of its length, and what is written there. */
export interface Tick {
  readonly at: number;
  readonly text: string;
}

/** Round figures from 0 to the end of an axis, five at the most: steps of 1, 2 or 5 times ten to some power. */
export function curveTicks(end: number): Tick[] {
  if (!(end > 0 && end < Infinity)) return [];
  const least = end / 5;
  const power = 10 ** Math.floor(Math.log10(least));
  const step = [1, 2, 5, 10].map((times) => times * power).find((one) => one >= least)!;
  const decimals = Math.max(0, -Math.floor(Math.log10(step)));
  const count = Math.floor(end / step + 1e-9);
  return Array.from({ length: count + 1 }, (_, k) => ({
    at: (k * step) / end,
    text: figure(k * step, decimals),
  }));
}

/** The end of an axis of depths, in its unit. */
export function depthEnd(meters: number, units: UnitSystem): number {
  return units === 'metric' ? meters * 100 : inchesFromMeters(meters);
}

export function depthUnit(units: UnitSystem): string {
  return units === 'metric' ? 'cm' : 'in';
}

/** The end of an axis of volumes, in its unit. */
export function volumeEnd(cubicMeters: number, units: UnitSystem): number {
  return units === 'metric' ? cubicMeters : cubicYardsFromCubicMeters(cubicMeters);
}

export function volumeUnit(units: UnitSystem): string {
  return units === 'metric' ? 'm³' : 'yd³';
}
