import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { Services } from '../page/services.ts';
import { selectedFeatures, selectedIds } from '../store/selection.ts';
import type { MapView, Session } from '../store/session.ts';
import { deedActions } from './deed-actions.ts';
import { drawActions, handActions } from './draw-actions.ts';
import { isDrawing, isShaping } from './shaping.ts';
import { waterActions } from './water-actions.ts';

/**
 * What a person can do, as data: buttons and shortcuts read the same entry, so that a name, a key
 * and the moment when it can be done stand in one place.
 */
export interface Action {
  readonly name: string;
  /** The words on its button. */
  readonly label: string;
  /** `mod` is Ctrl, or Command on a Mac. The first one is shown. */
  readonly keys: readonly string[];
  enabled(state: Session): boolean;
  perform(services: Services, state: Session): void;
}

export const viewNames: Readonly<Record<MapView['base'], string>> = {
  plan: 'Plan',
  photo: 'Photo',
  relief: 'Relief',
  slope: 'Slope',
  elevation: 'Elevation',
};

/** There is a photo of one's own, or imagery from elsewhere that is shown. */
export function photoSeen({ settings }: Session): boolean {
  return settings.photoId !== '' || settings.imagery.some((layer) => layer.shown);
}

const undo: Action = {
  name: 'undo',
  label: 'Undo',
  keys: ['mod+z'],
  enabled: (state) => state.canUndo || isDrawing(state),
  // While drawing, undo takes back the last corner: that is the last thing done.
  perform: (services, state) => (isDrawing(state) ? services.dropLastCorner() : services.undo()),
};

const redo: Action = {
  name: 'redo',
  label: 'Redo',
  keys: ['mod+shift+z', 'mod+y'],
  enabled: (state) => state.canRedo && !isDrawing(state),
  perform: (services) => services.redo(),
};

const finish: Action = {
  name: 'finish',
  label: 'Finish',
  keys: ['enter'],
  enabled: isShaping,
  perform: (services) => services.finishDrawing(),
};

const cancel: Action = {
  name: 'cancel',
  label: 'Cancel',
  keys: ['escape'],
  enabled: (state) =>
    isShaping(state) ||
    state.desk === 'metes' ||
    state.trial !== null ||
    state.selectedId !== null ||
    state.selectingSeveral,
  // One thing at a time, what was begun last first.
  perform(services, state) {
    if (isShaping(state)) services.cancelDrawing();
    else if (state.desk === 'metes') services.leaveDesk();
    else if (state.trial) services.dropTrial();
    else if (state.selectedId !== null) services.select(null);
    else services.selectSeveral(false);
  },
};

const editShape: Action = {
  name: 'edit-shape',
  label: 'Edit shape',
  keys: ['e'],
  enabled: (state) => !isShaping(state) && onlyOne(state)?.locked === false,
  perform: (services, state) => {
    if (state.selectedId !== null) services.editFeature(state.selectedId);
  },
};

const remove: Action = {
  name: 'delete',
  label: 'Delete',
  keys: ['delete', 'backspace'],
  enabled: (state) => !isShaping(state) && selectedFeatures(state).some(({ locked }) => !locked),
  perform: (services, state) => {
    const ids = selectedIds(state);
    if (ids.length > 1) services.deleteFeatures(ids);
    else if (state.selectedId !== null) services.deleteFeature(state.selectedId);
  },
};

const duplicate: Action = {
  name: 'duplicate',
  label: 'Duplicate',
  keys: [],
  enabled: (state) => !isShaping(state) && onlyOne(state) !== undefined,
  perform: (services, state) => {
    if (state.selectedId !== null) services.duplicateFeature(state.selectedId);
  },
};

/** Locks all that is selected, or unlocks it where all of it is locked. */
const lock: Action = {
  name: 'lock',
  label: 'Lock or unlock',
  keys: [],
  enabled: (state) => !isShaping(state) && state.selectedId !== null,
  perform: (services, state) =>
    services.setLocked(selectedIds(state), !selectedFeatures(state).every((f) => f.locked)),
};

const hide: Action = {
  name: 'hide',
  label: 'Hide or show',
  keys: [],
  enabled: (state) => !isShaping(state) && state.selectedId !== null,
  perform: (services, state) =>
    services.setHidden(selectedIds(state), !selectedFeatures(state).every((f) => f.hidden)),
};

const cuts: readonly Action[] = [
  { name: 'split', label: 'Split by a line', by: 'line' as const },
  { name: 'cut-hole', label: 'Cut a hole', by: 'hole' as const },
].map(({ name, label, by }) => ({
  name,
  label,
  keys: [],
  enabled: (state: Session) => {
    const feature = onlyOne(state);
    return !isShaping(state) && feature?.geometry.type === 'Polygon' && !feature.locked;
  },
  perform: (services: Services) => services.drawCut(by),
}));

const merge: Action = {
  name: 'merge',
  label: 'Merge',
  keys: [],
  enabled: (state) => !isShaping(state) && canMerge(selectedFeatures(state)),
  perform: (services) =>
    services.tryShape({ construction: { make: 'merge' }, becoming: { into: 'itself' } }),
};

const selectSeveral: Action = {
  name: 'select-several',
  label: 'Select several',
  keys: [],
  enabled: (state) => !isShaping(state),
  perform: (services, state) => services.selectSeveral(!state.selectingSeveral),
};

const table: Action = {
  name: 'table',
  label: 'Table',
  keys: [],
  enabled: (state) => !isShaping(state) && state.desk === null,
  perform: (services) => services.openDesk('table'),
};

const ways: Action = {
  name: 'ways',
  label: 'Compare three ways',
  keys: [],
  enabled: (state) =>
    !isShaping(state) &&
    state.desk === null &&
    Object.values(state.answers).some((one) => one.clearingWays),
  perform: (services) => services.openDesk('ways'),
};

const section: Action = {
  name: 'section',
  label: 'Section',
  keys: ['x'],
  enabled: (state) => state.selectedId !== null && !!state.answers[state.selectedId]?.sectionLine,
  perform: (services, state) => {
    if (state.selectedId !== null) services.toggleSection(state.selectedId);
  },
};

const projects: Action = {
  name: 'projects',
  label: 'Projects',
  keys: [],
  enabled: (state) => !isShaping(state) && state.projects === null,
  perform: (services) => services.openProjects(),
};

const saveCopy: Action = {
  name: 'save-copy',
  label: 'Save a copy',
  keys: [],
  enabled: (state) => !isShaping(state) && state.opening === null,
  perform: (services) => services.saveCopy(),
};

const bringInDrawings: Action = {
  name: 'bring-in',
  label: 'Bring in drawings…',
  keys: [],
  enabled: (state) => !isShaping(state) && state.opening === null && state.bringing === null,
  perform: (services) => services.pickDrawings(),
};

const fit: Action = {
  name: 'fit',
  label: 'Fit to site',
  keys: ['f'],
  enabled: (state) => state.settings.groundId !== '' || Object.keys(state.features).length > 0,
  perform: (services) => services.fitToSite(),
};

const goTo: Action = {
  name: 'go-to',
  label: 'Go to a place…',
  keys: [],
  enabled: (state) => !isShaping(state) && state.opening === null && state.bringing === null,
  perform: (services) => services.askPlace(true),
};

/** The list of all that can be done now. */
const palette: Action = {
  name: 'palette',
  label: 'Actions',
  keys: ['mod+k'],
  enabled: (state) => state.desk === null && state.projects === null && state.opening === null,
  perform: (services) => services.openPalette(),
};

const viewActions: readonly Action[] = (Object.keys(viewNames) as MapView['base'][]).map(
  (base, index) => ({
    name: `view-${base}`,
    label: viewNames[base],
    keys: [String(index + 1)],
    enabled: (state: Session) =>
      base === 'photo' ? photoSeen(state) : base === 'plan' || state.settings.groundId !== '',
    perform: (services: Services) => services.setView({ base }),
  }),
);

export const actions: readonly Action[] = [
  undo,
  redo,
  finish,
  cancel,
  editShape,
  remove,
  duplicate,
  lock,
  hide,
  ...cuts,
  merge,
  selectSeveral,
  section,
  table,
  ways,
  ...deedActions,
  ...waterActions,
  fit,
  goTo,
  projects,
  saveCopy,
  bringInDrawings,
  ...handActions,
  ...drawActions,
  ...viewActions,
  palette,
];

/** Throws RangeError for a name that is not in the registry. */
export function actionNamed(name: string): Action {
  const found = actions.find((action) => action.name === name);
  if (!found) throw new RangeError(`actionNamed: no action is called ${name}`);
  return found;
}

/** What is selected, where it is one thing alone. */
function onlyOne(state: Session): PlanFeature | undefined {
  const [feature, ...others] = selectedFeatures(state);
  return others.length === 0 ? feature : undefined;
}

/** Several areas of one kind, none of them locked. */
function canMerge([first, ...others]: readonly PlanFeature[]): boolean {
  return (
    others.length > 0 &&
    [first, ...others].every(
      ({ kind, geometry, locked }) => kind === first.kind && geometry.type === 'Polygon' && !locked,
    )
  );
}
