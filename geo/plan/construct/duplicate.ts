import type { Frame } from '../../frame/crs-types.ts';
import type { PlanFeature } from '../feature.ts';
import { nextName } from '../free-name.ts';
import type { Kind } from '../kinds.ts';
import { moveByMeters } from './move.ts';

/**
 * A second feature like the first under a new id, moved by metres on the ground so that both can be
 * seen; neither locked nor hidden. Its name is the first one's with the next free number among
 * `names`: "Plot A" gives "Plot A 2", that gives "Plot A 3"; a feature without a name stays so.
 */
export function duplicateFeature<K extends Kind>(
  feature: PlanFeature<K>,
  id: string,
  names: ReadonlySet<string>,
  eastMeters: number,
  northMeters: number,
  frame: Frame,
): PlanFeature<K> {
  return {
    ...feature,
    id,
    name: nextName(feature.name, new Set([...names, feature.name])),
    geometry: moveByMeters(feature.geometry, eastMeters, northMeters, frame),
    locked: false,
    hidden: false,
  };
}
