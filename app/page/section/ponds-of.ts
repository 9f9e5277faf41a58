import type { SectionWater } from '../../../geo/answers/section-water.ts';
import { feetFromMeters } from '../../../geo/frame/units.ts';
import { depthQuantity, spoken, station, type UnitSystem } from '../../words/format.ts';
import type { SectionPond } from './section-water.ts';

/** The ponds of a section as its chart shows them. */
export function pondsOf(
  water: SectionWater | undefined,
  errorMeters: number | null,
  units: UnitSystem,
): SectionPond[] {
  const toUnit = units === 'us' ? feetFromMeters : (meters: number) => meters;
  return (water?.runs ?? []).map((run) => ({
    from: toUnit(run.fromStationMeters),
    to: toUnit(run.toStationMeters),
    level: toUnit(run.levelMeters),
    deepest: toUnit(run.deepestStationMeters),
    text: `water ${spoken(depthQuantity(run.maxDepthMeters, errorMeters, units))}`,
  }));
}

/** "Water stands from 2+45 to 3+10, about 16 in deep." for those who do not see the chart. */
export function pondLines(
  water: SectionWater,
  errorMeters: number | null,
  units: UnitSystem,
): string[] {
  return water.runs.map(
    ({ fromStationMeters, toStationMeters, maxDepthMeters }) =>
      `Water stands from ${station(fromStationMeters, units)} to ${station(toStationMeters, units)}, ${spoken(depthQuantity(maxDepthMeters, errorMeters, units))} deep.`,
  );
}
