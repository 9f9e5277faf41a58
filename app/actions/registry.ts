import type { Services } from '../page/services.ts';
import type { MapView, Session } from '../store/session.ts';
import { drawnKinds, kindWords, type DrawnKind } from '../words/kind-words.ts';

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

const drawKeys: Readonly<Record<DrawnKind, string>> = { plot: 'p', berm: 'b', stand: 's' };

/** True while a feature is being drawn, or its shape is in hand. */
export function isShaping(state: Session): boolean {
  return state.drawing !== null || state.editingId !== null;
}

/** There is a photo of one's own, or imagery from elsewhere that is shown. */
export function photoSeen({ settings }: Session): boolean {
  return settings.photoId !== '' || settings.imagery.some((layer) => layer.shown);
}

const undo: Action = {
  name: 'undo',
  label: 'Undo',
  keys: ['mod+z'],
  enabled: (state) => state.canUndo || state.drawing !== null,
  // While drawing, undo takes back the last corner: that is the last thing done.
  perform: (services, state) =>
    state.drawing !== null ? services.dropLastCorner() : services.undo(),
};

const redo: Action = {
  name: 'redo',
  label: 'Redo',
  keys: ['mod+shift+z', 'mod+y'],
  enabled: (state) => state.canRedo && state.drawing === null,
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
  enabled: (state) => isShaping(state) || state.selectedId !== null,
  perform: (services, state) =>
    isShaping(state) ? services.cancelDrawing() : services.select(null),
};

const editShape: Action = {
  name: 'edit-shape',
  label: 'Edit shape',
  keys: ['e'],
  enabled: (state) => !isShaping(state) && selected(state)?.locked === false,
  perform: (services, state) => {
    if (state.selectedId !== null) services.editFeature(state.selectedId);
  },
};

const remove: Action = {
  name: 'delete',
  label: 'Delete',
  keys: ['delete', 'backspace'],
  enabled: (state) => !isShaping(state) && selected(state)?.locked === false,
  perform: (services, state) => {
    if (state.selectedId !== null) services.deleteFeature(state.selectedId);
  },
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

const fit: Action = {
  name: 'fit',
  label: 'Fit to site',
  keys: ['f'],
  enabled: (state) => state.settings.groundId !== '' || Object.keys(state.features).length > 0,
  perform: (services) => services.fitToSite(),
};

const drawActions: readonly Action[] = drawnKinds.map((kind) => ({
  name: `draw-${kind}`,
  label: `Draw ${kindWords[kind].one.toLowerCase()}`,
  keys: [drawKeys[kind]],
  enabled: (state: Session) => !isShaping(state),
  perform: (services: Services) => services.startDrawing(kind),
}));

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
  section,
  fit,
  projects,
  saveCopy,
  ...drawActions,
  ...viewActions,
];

/** Throws RangeError for a name that is not in the registry. */
export function actionNamed(name: string): Action {
  const found = actions.find((action) => action.name === name);
  if (!found) throw new RangeError(`actionNamed: no action is called ${name}`);
  return found;
}

function selected(state: Session) {
  return state.selectedId === null ? undefined : state.features[state.selectedId];
}
