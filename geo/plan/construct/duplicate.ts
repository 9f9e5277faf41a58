import type { Frame } from '../../frame/crs-types.ts';
import type { PlanFeature } from '../feature.ts';
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
    name: nextName(feature.name, names),
    geometry: moveByMeters(feature.geometry, eastMeters, northMeters, frame),
    locked: false,
    hidden: false,
  };
}

function nextName(name: string, names: ReadonlySet<string>): string {
  if (name === '') return '';
  const [, stem, number] = /^(.*?)(?: (\d{1,4}))?$/s.exec(name)!;
  // Room for the number within the 200 letters that a name may have.
  const base = (stem || name).slice(0, 194);
  for (let n = number === undefined || stem === '' ? 2 : Number(number) + 1; ; n++) {
    const next = `${base} ${n}`;
    if (!names.has(next)) return next;
  }
}
