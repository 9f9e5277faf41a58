import type { Action } from './registry.ts';
import { isShaping } from './shaping.ts';

/** A place is pointed at on the map, or set under the cross by keys. */
const pointAtWater: Action = {
  name: 'drains-to-place',
  label: 'What drains to a place',
  keys: [],
  enabled: (state) => !isShaping(state) && state.desk === null && !!state.site.flowLines,
  perform: (services) => services.pointAtWater(),
};

export const waterActions: readonly Action[] = [pointAtWater];
