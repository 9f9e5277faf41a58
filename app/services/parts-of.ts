import type { PlanFeature, PlanGeometry } from '../../geo/plan/feature.ts';

/**
 * A feature that fell into parts: the first keeps its id and name, the others become features of
 * their own with the same properties, "Bench plot, part 2" and so on, by numbers that are free.
 */
export function partsOf(
  feature: PlanFeature,
  geometries: readonly PlanGeometry[],
  names: ReadonlySet<string>,
  newId: () => string,
): PlanFeature[] {
  const stem = feature.name.replace(/, part \d+$/, '');
  let number = 2;
  return geometries.map((geometry, i) => {
    if (i === 0) return { ...feature, geometry };
    while (names.has(`${stem}, part ${number}`)) number++;
    const name = stem === '' ? '' : `${stem}, part ${number++}`;
    return { ...feature, id: newId(), name, geometry };
  });
}
