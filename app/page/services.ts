import { createContext, useContext } from 'react';
import type { LaneShown } from '../../geo/answers/lane-answers.ts';
import type { WayKind } from '../../geo/answers/debris-answers.ts';
import type { SitePlace } from '../../geo/answers/shot-answers.ts';
import type { Conditions } from '../../geo/plan/conditions.ts';
import type { PlanGeometry } from '../../geo/plan/feature.ts';
import type { GeometryType, Kind } from '../../geo/plan/kinds.ts';
import type { ImageryLayer } from '../../geo/plan/imagery.ts';
import type { SettingKey, Settings } from '../../geo/plan/settings.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import type { Result } from '../../geo/result.ts';
import type { ShapeWish } from '../services/shape-service.ts';
import type { WindChoices } from '../../geo/formats/wind/wind-opening.ts';
import type { WalkChoices } from '../../geo/formats/vector/bring-in.ts';
import type { VectorChoices } from '../../geo/formats/vector/vector-types.ts';
import type { DeedDraft } from '../store/deed.ts';
import type { MapView, SectionName } from '../store/session.ts';
import type { TrialSize } from '../store/shape-state.ts';
import type { TypedLeg } from '../words/parse-leg.ts';
import type { DrawingFormat, GroundChoices } from '../workers/messages.ts';

/**
 * Everything the page can ask for. The page reads the session store and calls these; what they do
 * shows up in the store. None of them answers, so that nothing in the page waits.
 */
export interface Services {
  /** Puts the map into an element of the page; the function given back takes it out again. */
  attachMap(element: HTMLElement): () => void;
  /** Parts of the map that panels lie over, in CSS pixels: fitting and the scale keep clear. */
  setMapInsets(insets: MapInsets): void;
  fitToSite(): void;
  /** Brings a place (longitude, latitude) into sight without changing the selection. */
  showPlace(place: readonly [number, number]): void;
  /** Moves the map only as far as it must for all of [west, south, east, north] to be seen. */
  keepInSight(bounds: readonly [number, number, number, number]): void;
  setView(change: Partial<MapView>): void;
  select(id: string | null): void;
  /** Takes one more into the selection, or out of it. */
  toggleSelected(id: string): void;
  /** Whether a tap adds to the selection. */
  selectSeveral(on: boolean): void;
  openSection(name: SectionName | null): void;

  openFiles(files: readonly File[]): void;
  openAddress(url: string): void;
  /** Adds to what was already answered, and reads on. */
  answerQuestion(choices: GroundChoices | VectorChoices): void;
  /** Coordinate systems whose name or code holds the text, best first; at most a dozen. */
  findCrs(text: string): Promise<readonly CrsChoice[]>;
  /** Longitude and latitude of an easting and northing, in the unit of their system. */
  placeIn(epsg: number, x: number, y: number): Promise<Result<readonly [number, number]>>;
  /** Shows a mile or so round a place where nothing need be yet. */
  goToPlace(place: readonly [number, number]): void;
  /** The blank for a place to go to, in front of the map. */
  askPlace(on: boolean): void;
  /** Leaves the question or the refusal in front of the map; nothing is kept of that file. */
  leaveOpening(): void;
  /** The browser's file dialog for drawings; what is picked comes as if it were dropped. */
  pickDrawings(): void;
  /** Of the drawing that is looked over: takes these of it, or leaves them. */
  takeItems(which: readonly number[], taken: boolean): void;
  setItemKind(which: readonly number[], kind: Kind): void;
  /** How a walked track is cleaned; null leaves it as it was walked. */
  setItemClean(index: number, clean: WalkChoices | null): void;
  /** Names of a group from one of its columns; '' gives the drawing's own back. */
  nameItemsFrom(group: number, column: string): void;
  /** Reads the drawing anew with columns that look like a person's, or without. */
  keepPersonal(keep: boolean): void;
  /** What was taken comes into the plan, as one step. */
  bringIn(): void;
  leaveBringIn(): void;
  /** All that is drawn as one file, into the browser's downloads. */
  saveDrawings(format: DrawingFormat, forOldReceivers: boolean): void;
  startDemo(): void;
  /** Date, clearing state and error of a ground that is already open. */
  describeGround(id: string, facts: GroundFacts): void;
  /** Stops what is being read; else the slow answers of the site. */
  stopWork(): void;
  /** Goes on with the slow answers where they were stopped. */
  goOnWork(): void;

  /** Finds out what an address of imagery offers, and takes it or asks which; `imageryAsking`. */
  addImagery(address: string): void;
  addNationalImagery(): void;
  /** Of several that a service offers. */
  chooseImagery(key: string): void;
  /** Gives up the address being looked at. */
  leaveImagery(): void;
  /** `moving` while a slider is held, `set` once when it is let go. */
  setImagery(id: string, change: Partial<ImageryLayer>, phase: 'moving' | 'set'): void;
  removeImagery(id: string): void;
  /** Up (1) or down (-1) among the layers under the linework; also `photo` and `relief`. */
  moveLayer(id: string, by: 1 | -1): void;
  retryImagery(id: string): void;
  /** Opens or puts away the section along a line. */
  toggleSection(id: string): void;
  /** Points at a place along the section that is open; null points nowhere. */
  pointAtSection(place: readonly [number, number] | null): void;

  /** In the kind's first shape where none is named. */
  startDrawing(kind: Kind, type?: GeometryType): void;
  finishDrawing(): void;
  cancelDrawing(): void;
  /** Takes the last corner back while drawing. */
  dropLastCorner(): void;
  /** Whether the pointer catches on what is drawn. */
  setSnapping(on: boolean): void;
  /** Shows a cross in the middle of the map to draw by, or takes it away. */
  setCross(on: boolean): void;
  /** Sets a point under the cross; shows the cross where it is not shown yet. */
  placeAtCross(): void;
  /** Sets a point a run from the last one; without a bearing, the way last aimed. */
  placeLeg(leg: TypedLeg): void;
  editFeature(id: string): void;
  /** Chooses the next or the last corner of the shape in hand. */
  stepCorner(by: 1 | -1): void;
  /** Puts a corner in the middle of the edge behind the chosen one. */
  addCorner(): void;
  dropCorner(): void;
  renameFeature(id: string, name: string): void;
  deleteFeature(id: string): void;
  /** All of them but locked ones. */
  deleteFeatures(ids: readonly string[]): void;
  setLocked(ids: readonly string[], locked: boolean): void;
  setHidden(ids: readonly string[], hidden: boolean): void;
  duplicateFeature(id: string): void;
  setProperty(id: string, key: string, value: unknown): void;
  /** Several properties of one feature, as one step. */
  setProperties(id: string, values: Readonly<Record<string, unknown>>): void;
  /** Mends the outline of a feature, or the one that `session.problem` is about. */
  repairOutline(id?: string): void;

  /** Shows on the map what would become of the selected ones; `trial`. */
  tryShape(wish: ShapeWish): void;
  /** Asks for a line or outline to be drawn, then tries what it cuts. */
  drawCut(by: 'line' | 'hole'): void;
  /** Makes what was tried, as one undo step. */
  keepTrial(): void;
  dropTrial(): void;

  /** The table of features, the calls of a deed, or the three ways, in front of the page. */
  openDesk(desk: 'table' | 'metes' | 'ways'): void;
  /** Draws a way in that was found on the plan, as one step. */
  keepLane(standId: string, line: LaneShown['line']): void;
  /** Reads a record of wind; what it does not say is asked in the session. */
  openWind(file: File): void;
  /** Sets a stand where one could go, for the weapon of its plot and facing it. */
  layStand(plotId: string, place: SitePlace): void;
  answerWind(choices: WindChoices): void;
  leaveWind(): void;
  /** Puts one of the three ways of a plot or clearing into the plan, as one step. */
  layWay(placeId: string, way: WayKind, takesPlace: boolean): void;
  leaveDesk(): void;
  /** The calls of a deed for a property line that is there already. */
  reshapeByDeed(id: string): void;
  setDeed(change: Partial<DeedDraft>): void;
  /** Asks for a tap on the map where the first course begins. */
  tapDeedStart(): void;
  /** Shows what the calls make; null where they make nothing yet. */
  tryDeed(shape: BoundsShape | null): void;
  /** Takes the outline that they make into the plan, as one step. */
  keepDeed(): void;

  /** The list of projects in front of the page. */
  openProjects(): void;
  leaveProjects(): void;
  newProject(): void;
  openProject(id: string): void;
  renameProject(id: string, name: string): void;
  duplicateProject(id: string): void;
  /** It can be taken back for a month. */
  deleteProject(id: string): void;
  restoreProject(id: string): void;
  /** One file with everything, into the browser's downloads; of the open project if none is named. */
  saveCopy(id?: string): void;
  dismissNotice(): void;

  /** The list of all that can be done now, in front of the page. */
  openPalette(): void;
  leavePalette(): void;
  /** Whether letters and digits alone are shortcuts; kept in this browser. */
  setLetterKeys(on: boolean): void;

  undo(): void;
  redo(): void;
  setSetting<K extends SettingKey>(key: K, value: Settings[K]): void;
  /** Several at once, as one step. */
  setSettings(values: Partial<Settings>): void;
  /** `moving` while a control is held (a draft), `set` once when it is let go. */
  setConditions(change: Partial<Conditions>, phase: 'moving' | 'set'): void;
  /** Takes the notch out of a low spot into the plan as a ditch, and lets the water run with it. */
  layNotch(spotId: string): void;
  /** Looks at one low spot by itself, on the map too; null at none. */
  pickSpot(id: string | null): void;
  /** Asks for a place on the map, and shows what drains to it; `pointed`. */
  pointAtWater(): void;
  leavePointed(): void;
  /** Whether a wet place has been looked at by somebody fit to judge. */
  setLookedAt(at: readonly [number, number], yes: boolean): void;
  /** Whether a road fill is known to have no culvert. */
  setNoCulvert(at: readonly [number, number], yes: boolean): void;
  dismissProblem(): void;
  /** Tries once more to write what could not be saved. */
  saveAgain(): void;
}

/** A figure run from courses; the corners counted without the first one again. */
export interface BoundsShape extends TrialSize {
  readonly kind: Kind;
  readonly geometry: PlanGeometry;
}

export interface MapInsets {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
  /** What lies over the upper left corner while drawing, from the map's own; null for nothing. */
  readonly corner: { readonly right: number; readonly bottom: number } | null;
}

export interface CrsChoice {
  readonly epsg: number;
  readonly name: string;
}

export type GroundFacts = Partial<
  Pick<GroundRecord, 'surveyedOn' | 'clearing' | 'verticalErrorMeters'>
>;

export const ServicesContext = createContext<Services | null>(null);

export function useServices(): Services {
  const services = useContext(ServicesContext);
  if (!services) throw new RangeError('useServices: there is no ServicesContext above');
  return services;
}
