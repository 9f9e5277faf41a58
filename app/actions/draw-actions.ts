import { drawTools } from '../words/draw-tools.ts';
import type { Action } from './registry.ts';
import { isDrawing, isShaping } from './shaping.ts';

/** Letters of the tools that are taken up most; the others are found by name. */
const drawKeys: Readonly<Record<string, string>> = {
  plot: 'p',
  note: 'n',
  clearing: 'c',
  'timber-block': 't',
  ditch: 'd',
  berm: 'b',
  heap: 'h',
  stand: 's',
  lane: 'l',
};

/** Every kind of feature, in each of its shapes. */
export const drawActions: readonly Action[] = drawTools.map(({ name, kind, type, label }) => ({
  name: `draw-${name}`,
  label: `Draw ${label.charAt(0).toLowerCase()}${label.slice(1)}`,
  keys: drawKeys[name] ? [drawKeys[name]] : [],
  enabled: (state) => !isShaping(state),
  perform: (services) => services.startDrawing(kind, type),
}));

const snapping: Action = {
  name: 'snapping',
  label: 'Catch on what is drawn',
  keys: [],
  enabled: () => true,
  perform: (services, state) => services.setSnapping(!state.snapping),
};

const cross: Action = {
  name: 'cross',
  label: 'Draw by the cross',
  keys: [],
  enabled: isDrawing,
  perform: (services, state) => services.setCross(!state.cross),
};

/** The way to draw without a pointer: arrows move the map under the cross. */
const placePoint: Action = {
  name: 'place-point',
  label: 'Set a point at the cross',
  keys: [' '],
  enabled: isDrawing,
  perform: (services) => services.placeAtCross(),
};

const nextCorner: Action = {
  name: 'next-corner',
  label: 'Next corner',
  keys: ['.'],
  enabled: (state) => state.editingId !== null,
  perform: (services) => services.stepCorner(1),
};

const lastCorner: Action = {
  name: 'last-corner',
  label: 'Corner before',
  keys: [','],
  enabled: (state) => state.editingId !== null,
  perform: (services) => services.stepCorner(-1),
};

const addCorner: Action = {
  name: 'add-corner',
  label: 'Add a corner',
  keys: ['insert'],
  enabled: (state) => state.editingId !== null,
  perform: (services) => services.addCorner(),
};

const dropCorner: Action = {
  name: 'drop-corner',
  label: 'Delete the chosen corner',
  // Delete and Backspace come to the drawing tool first.
  keys: [],
  enabled: (state) => state.editingId !== null,
  perform: (services) => services.dropCorner(),
};

/** What can be done while a shape is in hand, without a pointer as well. */
export const handActions: readonly Action[] = [
  placePoint,
  cross,
  snapping,
  nextCorner,
  lastCorner,
  addCorner,
  dropCorner,
];
