import { selectedFeatures } from '../store/selection.ts';
import type { Action } from './registry.ts';
import { isShaping } from './shaping.ts';

const metes: Action = {
  name: 'metes-and-bounds',
  label: 'From deed calls (metes and bounds)',
  keys: [],
  enabled: (state) => !isShaping(state) && state.desk === null,
  perform: (services) => services.openDesk('metes'),
};

/** A property line that is there already gets the shape of its deed. */
const deedShape: Action = {
  name: 'deed-shape',
  label: 'Shape from deed calls',
  keys: [],
  enabled: (state) => {
    const [feature, ...others] = selectedFeatures(state);
    const isFree = !isShaping(state) && state.desk === null && state.trial === null;
    return isFree && others.length === 0 && feature?.kind === 'property-line' && !feature.locked;
  },
  perform: (services, state) => {
    if (state.selectedId !== null) services.reshapeByDeed(state.selectedId);
  },
};

/** Property lines by the bearings and distances of a deed. */
export const deedActions: readonly Action[] = [metes, deedShape];
