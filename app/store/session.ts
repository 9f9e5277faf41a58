import { createStore } from 'zustand/vanilla';
import type { FeatureAnswers, SiteAnswers } from '../../geo/answers/answers.ts';
import type { PlaceCatchment } from '../../geo/answers/place-catchment.ts';
import { defaultConditions, type Conditions } from '../../geo/plan/conditions.ts';
import type { GeometryType, Kind } from '../../geo/plan/kinds.ts';
import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { WindAsked, WindChoices } from '../../geo/formats/wind/wind-opening.ts';
import type { ImageryOffer } from '../../geo/formats/imagery/offer.ts';
import type { ImageryLayer } from '../../geo/plan/imagery.ts';
import { defaultSettings, type Settings } from '../../geo/plan/settings.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import type { Problem } from '../../geo/result.ts';
import type { PhotoRecord } from '../../geo/raster/photo-record.ts';
import type { ProjectEntry } from '../document/project-list.ts';
import type { DrawingOpening, GroundOpening, Probe } from '../workers/messages.ts';
import type { BringIn } from './bring-in.ts';
import { noCopy, type CopyState } from './copy-state.ts';
import { blankDeed, type DeedDraft } from './deed.ts';
import type { HelperDrawing, Trial } from './shape-state.ts';

/**
 * The read model of the page. The first part mirrors the document and the workers and is written
 * only by `document/` and `workers/`; the second part is only of this screen and is kept nowhere.
 */
export interface Session {
  // Mirrors the document.
  readonly features: Readonly<Record<string, PlanFeature>>;
  readonly settings: Settings;
  readonly conditions: Conditions;
  readonly grounds: Readonly<Record<string, GroundRecord>>;
  readonly photos: Readonly<Record<string, PhotoRecord>>;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly saved: SaveState;
  readonly projectId: string;
  readonly copy: CopyState;

  // Mirrors the worker.
  readonly site: Partial<SiteAnswers>;
  readonly answers: Readonly<Record<string, Partial<FeatureAnswers>>>;
  /** What is being worked out now; `key` names the answer (`answerKey`). */
  readonly working: {
    readonly share: number;
    readonly doing: string;
    readonly key: string;
  } | null;
  /**
   * The user stopped the work: keys of the answers that are not of the plan as it is. They go on when
   * asked to, or with another ground; null while nothing is stopped. Ask `left-undone.ts`.
   */
  readonly left: ReadonlySet<string> | null;
  /** How often a project was taken off the screen: what was said before is not of this one. */
  readonly turns: number;

  // Only of this screen.
  readonly selectedId: string | null;
  /** What is selected besides `selectedId`, in the order it was picked. */
  readonly alsoSelected: readonly string[];
  /** A tap adds to what is selected, as with Shift: for hands without keys. */
  readonly selectingSeveral: boolean;
  /** The feature as it is being dragged or drawn, before the document has it. */
  readonly draft: PlanFeature | null;
  readonly drawing: Kind | null;
  /** The shape it is drawn as. */
  readonly drawingAs: GeometryType | null;
  /** The run from the last point to the pointer, or to the corner dragged. */
  readonly leg: Leg | null;
  /** What the pointer is caught on, in words. */
  readonly caught: string | null;
  /** Points placed of what is being drawn. */
  readonly placed: number;
  /** Whether the pointer catches on what is drawn; Shift lets go of it for a moment. */
  readonly snapping: boolean;
  /** Points are set at a cross in the middle of the map, which is moved under it. */
  readonly cross: boolean;
  /** A shape being drawn for something else than itself; see `drawShape` of the map. */
  readonly helper: HelperDrawing | null;
  /** A change of the plan that is tried: shown, not made yet. */
  readonly trial: Trial | null;
  /** The calls of a deed as far as they are written; shown while the desk is `metes`. */
  readonly deed: DeedDraft;
  /** A feature just drawn whose panel asks for what it cannot do without. */
  readonly askedId: string | null;
  /** What stands in front of the page besides projects. */
  readonly desk: 'palette' | 'table' | 'metes' | 'ways' | null;
  /** Letters and digits alone do things; a choice of this browser. */
  readonly letterKeys: boolean;
  /** The committed feature whose shape is in the drawing tool. */
  readonly editingId: string | null;
  readonly openSection: SectionName | null;
  /** The low spot that is looked at by itself: P1, P2 … */
  readonly pickedSpot: string | null;
  /** The place that was last asked to be shown on the map. */
  readonly shownPlace: readonly [number, number] | null;
  /** What drains to a place that was pointed at. */
  readonly pointed: PlaceCatchment | null;
  readonly view: MapView;
  readonly pointer: (Probe & { readonly lng: number; readonly lat: number }) | null;
  /** Of the map as it rests; null before there is one. */
  readonly scale: {
    readonly metersPerPixel: number;
    readonly contourIntervalMeters: number;
  } | null;
  /** Online imagery as a control is moved, before the document has it. */
  readonly imageryDraft: readonly ImageryLayer[] | null;
  /** How often the tiles of a layer were asked to be tried anew. */
  readonly imageryRounds: Readonly<Record<string, number>>;
  /** Why the tiles of a layer do not come, by its id. */
  readonly imageryProblems: Readonly<Record<string, Problem>>;
  /** An address of imagery being looked at: progress, a choice, or a refusal. */
  readonly imageryAsking: ImageryAsking | null;
  /** A record of wind on its way in. */
  readonly windOpening: WindReading | null;
  /** The line whose section was put away, or called for; see `sectionShownOf`. */
  readonly sectionToggled: string | null;
  /** Where the section chart is pointed at, in degrees. */
  readonly sectionPlace: readonly [number, number] | null;
  /** The blank for a place to go to: called for, put away, or as the plan has it: shown while empty. */
  readonly placeAsking: 'asked' | 'put-away' | null;
  /** A ground being opened: progress, a question, or a refusal, in front of the map. */
  readonly opening: OpeningState | null;
  /** A drawing that was read, before any of it is in the plan. */
  readonly bringing: BringIn | null;
  /** The list of projects in front of the page; null while it is closed. */
  readonly projects: ProjectsState | null;
  /** What was done that the user should know of, until it is dismissed. */
  readonly notice: Notice | null;
  /** Last thing that went wrong outside an opening, until it is dismissed. */
  readonly problem: Problem | null;
}

export interface Leg {
  readonly lengthMeters: number;
  /** True, clockwise from north. */
  readonly bearingDegrees: number;
}

export type SaveState =
  | { readonly state: 'saved'; readonly at: number | null }
  | { readonly state: 'saving' }
  | { readonly state: 'failed'; readonly problem: Problem };

export interface ProjectsState {
  /** Null while it is being read. */
  readonly list: readonly ProjectEntry[] | null;
  readonly problem: Problem | null;
  /** Of all that this page keeps in this browser; null where it does not say. */
  readonly storage: { readonly usedBytes: number; readonly quotaBytes: number } | null;
  /** Whether the browser has promised not to throw it away by itself. */
  readonly isKept: boolean | null;
}

/** A record being read, or what is to be said before it can be. */
export interface WindReading {
  readonly file: File;
  readonly choices: WindChoices;
  readonly asked: WindAsked | null;
  /** Null while something is asked. */
  readonly share: number | null;
}

export interface Notice {
  readonly what: string;
  readonly lines: readonly string[];
}

export type SectionName =
  'ground' | 'clearing' | 'water' | 'grade' | 'debris' | 'planting' | 'stands' | 'papers';

export interface MapView {
  /** What lies under the linework. */
  readonly base: 'plan' | 'photo' | 'relief' | 'slope' | 'elevation';
  /** 0 all relief, 1 all photo; used by the plan view. */
  readonly photoShare: number;
}

export type ImageryAsking =
  | { readonly state: 'reading'; readonly address: string; readonly stop: () => void }
  | { readonly state: 'choosing'; readonly address: string; readonly offer: ImageryOffer }
  | { readonly state: 'refused'; readonly address: string; readonly problem: Problem };

export type OpeningState =
  | {
      readonly state: 'reading';
      readonly share: number;
      readonly doing: string;
      readonly name: string;
      readonly stop: () => void;
      /** A copy is on its way out, not in. */
      readonly isSaving?: boolean;
    }
  | {
      readonly state: 'asking';
      readonly opening: Extract<GroundOpening | DrawingOpening, { kind: 'ask' }>;
      readonly name: string;
    }
  | { readonly state: 'refused'; readonly problem: Problem; readonly name: string };

export const session = createStore<Session>(() => ({
  features: {},
  settings: defaultSettings,
  conditions: defaultConditions,
  grounds: {},
  photos: {},
  canUndo: false,
  canRedo: false,
  saved: { state: 'saved', at: null },
  projectId: '',
  copy: noCopy,
  site: {},
  answers: {},
  working: null,
  left: null,
  turns: 0,
  selectedId: null,
  alsoSelected: [],
  selectingSeveral: false,
  draft: null,
  drawing: null,
  drawingAs: null,
  leg: null,
  caught: null,
  placed: 0,
  snapping: true,
  cross: false,
  helper: null,
  trial: null,
  deed: blankDeed,
  askedId: null,
  desk: null,
  letterKeys: true,
  editingId: null,
  openSection: 'ground',
  pickedSpot: null,
  shownPlace: null,
  pointed: null,
  view: { base: 'plan', photoShare: 0.67 },
  pointer: null,
  scale: null,
  imageryDraft: null,
  imageryRounds: {},
  imageryProblems: {},
  imageryAsking: null,
  windOpening: null,
  sectionToggled: null,
  sectionPlace: null,
  placeAsking: null,
  opening: null,
  bringing: null,
  projects: null,
  notice: null,
  problem: null,
}));

/** What belongs to one project: taken off the screen before another comes on. */
export function clearProject(): void {
  session.setState(({ view, openSection, scale, projects, snapping, letterKeys, turns }) => ({
    ...session.getInitialState(),
    view,
    openSection,
    scale,
    projects,
    snapping,
    letterKeys,
    turns: turns + 1,
  }));
}

/** The selected line whose section is open: section lines by themselves, other lines when asked. */
export function sectionShownOf(state: Session): string | null {
  const { selectedId, sectionToggled, features, answers } = state;
  if (selectedId === null || !answers[selectedId]?.sectionLine) return null;
  const isOpen =
    (features[selectedId]?.kind === 'section-line') !== (sectionToggled === selectedId);
  return isOpen ? selectedId : null;
}
