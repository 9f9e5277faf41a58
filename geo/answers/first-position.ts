import type { PlanFeature, Position } from '../plan/feature.ts';

/** A position of a feature: the point itself, the start of a line, the first corner of an area. */
export function firstPosition({ geometry }: PlanFeature): Position {
  if (geometry.type === 'Point') return geometry.coordinates;
  return geometry.type === 'LineString' ? geometry.coordinates[0]! : geometry.coordinates[0]![0]!;
}
