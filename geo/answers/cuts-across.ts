import { crossingStations } from '../debris/gap-needs.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { placeAt } from '../plan/line-geometry.ts';
import type { GroundInUse } from './definition.ts';
import { lineInFrame, reachMeters } from './plan-on-ground.ts';
import { nearestStation, type DamLine } from './turned-flows.ts';

/** A ditch or notch that a berm lies across. */
export interface CutAcross {
  readonly ditch: PlanFeature<'ditch'>;
  /** Along the berm, ground metres. */
  readonly stationMeters: number;
}

/**
 * Where a berm lies across the ditches and notches that are drawn, or on an end of one, but for its gaps;
 * in the order of the ditches. None for a heap, road or lane.
 */
export function cutsAcross(
  ground: GroundInUse,
  berm: PlanFeature,
  { line, frameMetersPerMeter: scale, solid }: DamLine,
  others: readonly PlanFeature[],
): CutAcross[] {
  if (!isKind(berm, 'berm')) return [];
  const reach = reachMeters(berm) * scale;
  return others.flatMap((ditch) => {
    const other = isKind(ditch, 'ditch') ? lineInFrame(ground, ditch) : null;
    if (!isKind(ditch, 'ditch') || !other) return [];
    const crossed = crossingStations(line, other);
    const ends = [other[0]!, other.at(-1)!].flatMap((end) => {
      const station = nearestStation(line, end);
      const [x, y] = placeAt(line, station).at;
      return Math.hypot(x - end[0], y - end[1]) < reach ? [station] : [];
    });
    return (crossed.length > 0 ? crossed : ends)
      .map((station) => ({ ditch, stationMeters: station / scale }))
      .filter(({ stationMeters: at }) => solid.some(([from, to]) => at > from && at < to));
  });
}
