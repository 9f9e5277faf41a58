import type { PlanFeature, PlanGeometry } from '../../geo/plan/feature.ts';
import { kinds, type Kind } from '../../geo/plan/kinds.ts';
import type { createMap, MapController, MapEvents } from '../../layers/map-controller.ts';
import type { RequestImagery } from '../../layers/imagery/imagery-protocol.ts';
import type { Bounds } from '../../layers/raster-layers.ts';
import type { TileKind } from '../../layers/tiles/tile-kind.ts';
import type { MapInsets, Services } from '../page/services.ts';
import { commitDraft, setDraft } from '../store/draft.ts';
import type { HelperDrawing } from '../store/shape-state.ts';
import { tapItem } from '../store/bring-in.ts';
import { selectOnly, toggleSelected } from '../store/selection.ts';
import { session } from '../store/session.ts';
import type { Door } from '../workers/door.ts';
import { firstProperties } from '../words/draw-tools.ts';
import { around, siteBounds } from './bounds.ts';
import { recallLook, rememberLook } from './last-look.ts';
import { askUntil, pointerProbe } from './map-questions.ts';
import { showRasters, showSession } from './map-shown.ts';
import { newFeature } from './plan-service.ts';
import { outlineProblem } from '../words/outline-words.ts';
import { wentTo } from '../words/place-words.ts';
import { preciseServices } from './precise-service.ts';

type MapServices = Pick<
  Services,
  | 'attachMap'
  | 'setMapInsets'
  | 'fitToSite'
  | 'showPlace'
  | 'keepInSight'
  | 'goToPlace'
  | 'askPlace'
  | 'setView'
  | 'pointAtSection'
  | 'toggleSection'
  | 'select'
  | 'openSection'
  | 'dismissProblem'
  | 'startDrawing'
  | 'finishDrawing'
  | 'cancelDrawing'
  | 'dropLastCorner'
  | 'editFeature'
> &
  ReturnType<typeof preciseServices>['services'];

export interface MapService {
  readonly services: MapServices;
  /** Has a shape drawn that is no feature; null where it was given up. */
  drawShape(helper: HelperDrawing): Promise<PlanGeometry | null>;
  fitTo(bounds: Bounds): void;
  /** New tiles of these kinds are to be had. */
  tilesChanged(kinds: readonly TileKind[], version: string): void;
}

/** Loads the map's code and makes one; apart, so that the page paints before it. */
export type MakeMap = typeof createMap;

/** The map on the page: drawing, selecting, pointing, and what it is told to show. */
export function mapService(
  door: Door,
  loadMap: () => Promise<MakeMap>,
  fetchImagery: RequestImagery,
): MapService {
  let map: MapController | null = null;
  let host: HTMLElement | null = null;
  let insets: MapInsets | null = null;
  const versions = new Map<TileKind, string>();
  /** Kind and id of what is being drawn, until it is committed. */
  let drawn: { kind: Kind; id: string } | null = null;
  /** Takes a shape that is drawn for something else; null gives it up. */
  let takeShape: ((geometry: PlanGeometry | null) => void) | null = null;

  const helperDone = (geometry: PlanGeometry | null): boolean => {
    if (!takeShape) return false;
    const take = takeShape;
    takeShape = null;
    session.setState({ helper: null });
    take(geometry);
    return true;
  };

  const precise = preciseServices(() => map);

  const requests: Parameters<MakeMap>[1] = {
    tile: (order, signal) => askUntil(door, 'tile', order, signal),
    contourLabels: (chunk, signal) => askUntil(door, 'contourLabels', chunk, signal),
    imagery: fetchImagery,
    aimWords: precise.aimWords,
  };

  const inHand = (geometry: PlanGeometry): PlanFeature | null => {
    const { editingId, features } = session.getState();
    if (drawn) {
      const made = newFeature(drawn.kind, geometry, drawn.id);
      return made.ok ? made.value : null;
    }
    const edited = editingId === null ? undefined : features[editingId];
    return edited ? { ...edited, geometry } : null;
  };

  const events: MapEvents = {
    ...precise.events,
    onPointer: pointerProbe(door),
    onTap({ id, isBare, spot }, adds) {
      const { desk, selectingSeveral, openSection } = session.getState();
      if (desk === 'metes') return;
      const several = adds || selectingSeveral;
      // While Water is open a low spot lies over the ground and lines of what is drawn, else under.
      if (spot !== null && !several && (id === null || (isBare && openSection === 'water'))) {
        session.setState({ openSection: 'water', pickedSpot: spot, pointed: null });
        return;
      }
      if (!several) services.select(id);
      else if (id !== null) session.setState((state) => toggleSelected(state, id));
    },
    onDraft(geometry) {
      if (!takeShape) setDraft(geometry && inHand(geometry));
    },
    onCommit(geometry) {
      if (helperDone(geometry)) return;
      const feature = inHand(geometry);
      if (!feature) return;
      setDraft(feature);
      const done = commitDraft();
      const wasDrawn = drawn !== null;
      drawn = null;
      session.setState({
        drawing: null,
        ...(done.ok && wasDrawn ? { selectedId: feature.id, askedId: askedOf(feature) } : {}),
        ...(done.ok ? { problem: outlineProblem(feature) } : {}),
      });
    },
    onCancelDrawing() {
      // What was given up leaves no cross behind; leaving a shape's corners is not that.
      if (session.getState().editingId === null) session.setState({ cross: false });
      if (helperDone(null)) return;
      drawn = null;
      session.setState({ drawing: null, editingId: null, draft: null });
    },
    onPickPreview(index) {
      const { bringing } = session.getState();
      if (!bringing || index === null) return;
      session.setState({ bringing: tapItem(bringing, index) });
    },
    // Where the map is, for whoever drives the page from outside (tests, a screen reader's script).
    onCamera({ center, zoom, metersPerPixel, contourIntervalMeters }) {
      const { settings } = session.getState();
      session.setState({ scale: { metersPerPixel, contourIntervalMeters } });
      // The demo lies where nobody's ground is.
      if (!settings.isDemo) rememberLook({ center, zoom });
      if (!host) return;
      host.dataset['center'] = center.join(',');
      host.dataset['zoom'] = String(zoom);
    },
    onRest(resting) {
      if (host) host.dataset['idle'] = resting ? 'yes' : 'no';
    },
    onError: (message) => console.warn(`map: ${message}`),
  };

  const services: MapServices = {
    ...precise.services,
    attachMap(element) {
      let gone = false;
      host = element;
      let detach = () => {};
      void loadMap().then((makeMap) => {
        if (gone) return;
        const bounds = siteBounds(session.getState());
        map = makeMap(element, requests, events, bounds ? { bounds } : recallLook());
        if (insets) map.setInsets(insets);
        if (bounds) map.fitTo(bounds, { animate: false });
        const stop = showSession(map, versions);
        detach = () => {
          stop();
          map?.remove();
          map = null;
        };
      });
      return () => {
        gone = true;
        detach();
      };
    },
    setMapInsets(next) {
      insets = next;
      map?.setInsets(next);
    },
    fitToSite() {
      const bounds = siteBounds(session.getState());
      if (bounds) map?.fitTo(bounds);
      else map?.lookAt(recallLook());
    },
    showPlace(place) {
      session.setState({ shownPlace: place });
      map?.showPlace(place);
    },
    goToPlace(place) {
      map?.fitTo(around(place));
      const notice = wentTo(place);
      session.setState({ placeAsking: 'put-away', notice });
      // It speaks of blank paper: with the first thing on it, it is over.
      const stop = session.subscribe((now, before) => {
        if (now.notice !== notice) return stop();
        const isSame = now.features === before.features && now.grounds === before.grounds;
        if (!isSame) session.setState({ notice: null });
      });
    },
    askPlace: (on) => session.setState({ placeAsking: on ? 'asked' : 'put-away' }),
    keepInSight: (bounds) => map?.keepInSight(bounds),
    setView: (change) => session.setState(({ view }) => ({ view: { ...view, ...change } })),
    toggleSection: (id) =>
      session.setState(({ sectionToggled }) => ({
        sectionToggled: sectionToggled === id ? null : id,
      })),
    pointAtSection: (place) => session.setState({ sectionPlace: place }),
    select: (id) => session.setState(selectOnly(id)),
    openSection: (name) => session.setState({ openSection: name }),
    dismissProblem: () => session.setState({ problem: null }),
    startDrawing(kind, type = kinds[kind].geometry[0]) {
      helperDone(null);
      drawn = { kind, id: crypto.randomUUID() };
      session.setState({
        drawing: kind,
        drawingAs: type,
        selectedId: null,
        editingId: null,
        draft: null,
      });
      map?.startDrawing(kind, type);
    },
    finishDrawing: () => void map?.finishDrawing(),
    cancelDrawing: () => map?.cancelDrawing(),
    dropLastCorner: () => void map?.dropLastPoint(),
    editFeature(id) {
      const feature = session.getState().features[id];
      if (!feature || feature.locked) return;
      helperDone(null);
      drawn = null;
      session.setState({ editingId: id, selectedId: id, drawing: null, draft: null });
      map?.startEditing(feature);
    },
  };

  return {
    services,
    drawShape(helper) {
      if (!map) return Promise.resolve(null);
      helperDone(null);
      drawn = null;
      session.setState({ helper, drawing: null, editingId: null, draft: null });
      map.startShape(helper.type);
      return new Promise((resolve) => {
        takeShape = resolve;
      });
    },
    fitTo: (bounds) => map?.fitTo(bounds),
    tilesChanged(kinds, version) {
      for (const kind of kinds) versions.set(kind, version);
      if (map) showRasters(map, session.getState(), versions, kinds);
      if (host) host.dataset['idle'] = 'no';
      if (host) host.dataset['rasters'] = [...versions.keys()].join(' ');
    },
  };
}

/** A kind that cannot do without an answer asks for it when it was just drawn. */
function askedOf({ id, kind }: PlanFeature): string | null {
  return firstProperties[kind] ? id : null;
}
