import type { FeatureCollection } from 'geojson';
import { Map as MapLibreMap, type GeoJSONSource } from 'maplibre-gl';
import 'maplibre-gl/dist/maplibre-gl.css';
import './map-worker.ts';
import './map.css';
import type { BaseView } from './base-view.ts';
import type { RequestLabels } from './contours/label-keeper.ts';
import { createFurniture } from './controls/furniture.ts';
import type { Aimed } from './drawing/aim.ts';
import {
  DrawingDesk,
  type DrawingControlEvents,
  type DrawingControls,
} from './drawing/drawing-controls.ts';
import { fader } from './fade.ts';
import { FrameQueue } from './frame-queue.ts';
import { tapAt, type Tap } from './feature-at.ts';
import { KeepClear } from './keep-clear.ts';
import { isInSight, roomFor, roomToFit, type Insets } from './fit-room.ts';
import type { RequestImagery } from './imagery/imagery-protocol.ts';
import { ImageryTileMissing } from './imagery/tile-missing.ts';
import { editingSource, mapStyle, planSource } from './map-style.ts';
import { serveImages } from './plan/serve-images.ts';
import { PlanSource } from './plan/plan-source.ts';
import { splitPlan, type PlanView } from './plan/split-plan.ts';
import { previewAt, previewFeatures, previewSource, type PreviewShape } from './preview-layers.ts';
import type { Bounds } from './raster-layers.ts';
import { sectionMarkerFeatures, sectionMarkerSource } from './section-marker.ts';
import { contourInterval } from '../geo/raster/contour-interval.ts';
import { metersPerPixel } from './tiles/mercator.ts';
import type { TileKind } from './tiles/tile-kind.ts';
import { serveTiles, type RequestTile } from './tiles/tile-protocol.ts';
import { Underlay, type ImageryView } from './underlay.ts';
import { waterControls, type WaterControls } from './water-controls.ts';

export interface MapEvents extends DrawingControlEvents {
  /** At most once a frame; null when the pointer leaves the map. */
  onPointer(place: { readonly lng: number; readonly lat: number } | null): void;
  /** A tap on a feature, a low spot, or nothing; with Shift it adds to what is selected. */
  onTap(tap: Tap, adds: boolean): void;
  /** A tap while a preview is shown: on one of its shapes, or on nothing. */
  onPickPreview?(index: number | null): void;
  /** After the map has come to rest. */
  onCamera?(camera: Camera): void;
  /** True when nothing is left to load or paint, false when that begins anew. */
  onRest?(resting: boolean): void;
  /** What the map itself reports: a tile that failed, a lost graphics context. */
  onError?(message: string): void;
}

export interface Camera {
  readonly center: readonly [number, number];
  readonly zoom: number;
  readonly metersPerPixel: number;
  /** Step of the contour lines at this scale, metres. */
  readonly contourIntervalMeters: number;
  readonly bounds: Bounds;
}

export interface MapController extends DrawingControls, WaterControls {
  /** When the style stands and everything set so far is on the map. */
  readonly ready: Promise<void>;
  setPlan(plan: PlanView): void;
  /** Null takes the raster away. Old tiles stay until those of the new version come. */
  setRaster(kind: TileKind, raster: { version: string; bounds: Bounds } | null): void;
  setBase(view: BaseView): void;
  setImagery(view: ImageryView): void;
  /** A mark on the line of the section that is open; null takes it off. */
  setSectionMarker(place: readonly [number, number] | null): void;
  /** A drawing that is not in the plan yet; while there is one, taps are about it. */
  setPreview(shapes: readonly PreviewShape[] | null): void;
  /** Parts of the map that panels lie over: fitting and the furniture keep clear of them. */
  setInsets(insets: Insets): void;
  /** Moves only where a part of it is out of sight or under a panel; never closer. */
  keepInSight(bounds: Bounds): void;
  fitTo(bounds: Bounds, options?: { readonly animate?: boolean }): void;
  showPlace(place: readonly [number, number]): void;
  /** Moves a place out from under panels and scale, now and as panels come; null lets it be. */
  keepClear(place: readonly [number, number] | null): void;
  /** At once. */
  lookAt(look: Pick<Camera, 'center' | 'zoom'>): void;
  setLocked(locked: boolean): void;
  remove(): void;
}

/** What the map cannot make itself. */
export interface MapRequests {
  readonly tile: RequestTile;
  readonly imagery: RequestImagery;
  readonly contourLabels: RequestLabels;
  /** What stands beside the pointer while drawing: the run, what it caught on. */
  readonly aimWords: (aimed: Aimed) => readonly string[];
}

/** Coarsest and finest: a continent to look for one's county on, and a boot. */
const zooms = { minZoom: 3, maxZoom: 22 };

/**
 * The one object that owns the map. It is made once, is told what to show, and reports what the
 * pointer does; nothing else ever calls the map.
 */
export function createMap(
  container: HTMLElement,
  requests: MapRequests,
  events: MapEvents,
  start: { readonly bounds: Bounds } | Pick<Camera, 'center' | 'zoom'>,
): MapController {
  const pixelRatio = window.devicePixelRatio > 1.25 ? 2 : 1;
  serveTiles(requests.tile, 256 * pixelRatio);
  let insets: Insets = { top: 24, right: 24, bottom: 24, left: 24 };
  const map = new MapLibreMap({
    container,
    style: mapStyle(),
    attributionControl: false,
    maplibreLogo: false,
    dragRotate: false,
    // It would swallow every tap with Shift, which adds to the selection.
    boxZoom: false,
    pitchWithRotate: false,
    touchPitch: false,
    maxPitch: 0,
    renderWorldCopies: false,
    fadeDuration: 0,
    ...zooms,
    ...('bounds' in start
      ? { bounds: [...start.bounds], fitBoundsOptions: { padding: insets } }
      : { center: [...start.center], zoom: start.zoom }),
  });
  map.touchZoomRotate.disableRotation();
  map.keyboard.disableRotation();

  serveImages(map, window.devicePixelRatio);
  const frames = new FrameQueue();
  const furniture = createFurniture(document);
  container.append(furniture.element);
  let underlay: Underlay | null = null;
  let sources: { committed: PlanSource; editing: PlanSource } | null = null;
  let locked = false;
  let hasPreview = false;
  let latest: PlanView | null = null;

  const ready = new Promise<void>((resolve) => {
    map.once('style.load', () => {
      sources = {
        committed: new PlanSource(map.getSource(planSource) as GeoJSONSource),
        editing: new PlanSource(map.getSource(editingSource) as GeoJSONSource),
      };
      underlay = new Underlay(map, frames, requests.imagery, requests.contourLabels);
      desk.begin();
      resolve();
    });
  });
  const whenReady = (act: () => void): void => {
    if (sources) act();
    else void ready.then(act);
  };

  const perPixel = (): number => metersPerPixel(map.getCenter().lat, map.getZoom(), 512);
  const desk = new DrawingDesk(
    {
      map,
      container,
      frames,
      whenReady,
      insets: () => insets,
      features: () => latest?.features ?? [],
      metersPerPixel: perPixel,
      aimWords: requests.aimWords,
    },
    events,
  );

  const showPlan = (): void => {
    if (!sources || !latest) return;
    const { committed, editing } = splitPlan(latest);
    sources.committed.show(committed);
    sources.editing.show(editing);
  };

  const here = (): Camera => {
    const { lng, lat } = map.getCenter();
    const zoom = map.getZoom();
    const [[west, south], [east, north]] = map.getBounds().toArray();
    // Raster tiles are drawn for whole zooms; their step follows those, not the fraction.
    const tilePixel = metersPerPixel(lat, Math.round(zoom + 1), 256);
    return {
      center: [lng, lat],
      zoom,
      metersPerPixel: perPixel(),
      contourIntervalMeters: contourInterval(tilePixel, latest?.units ?? 'us'),
      bounds: [west, south, east, north],
    };
  };
  const scale = (): void => furniture.update(perPixel());
  map.on('move', () => frames.add('scale', scale));
  const moved = (): void => {
    events.onCamera?.(here());
    underlay?.setCamera(here());
  };
  map.on('moveend', moved);
  void ready.then(moved);
  map.on('idle', () => events.onRest?.(true));
  map.on('render', () => events.onRest?.(false));
  map.on('error', ({ error }) => {
    // Said beside the layer's name, once, by whoever fetches it.
    if (!(error instanceof ImageryTileMissing)) events.onError?.(String(error.message));
  });
  const point = (place: Parameters<MapEvents['onPointer']>[0]) =>
    frames.add('pointer', () => events.onPointer(place));
  map.on('mousemove', ({ lngLat: { lng, lat } }) => point({ lng, lat }));
  map.on('mouseout', () => point(null));
  map.on('click', (event) => {
    if (locked || desk.tapped(event)) return;
    if (hasPreview) events.onPickPreview?.(previewAt(map, event.point));
    else events.onTap(tapAt(map, event.point), event.originalEvent.shiftKey);
  });
  scale();

  const room = () => roomFor(container, insets, furniture.element.offsetHeight);
  const clear = new KeepClear(map, furniture.element, () => ({ insets, room: room() }));

  /** What a source shows from the next frame on; of several in one frame the last. */
  const put = (source: string, features: () => FeatureCollection) =>
    frames.add(source, () =>
      whenReady(() => void map.getSource<GeoJSONSource>(source)?.setData(features())),
    );

  return {
    ...desk.controls,
    ...waterControls(put, fader(map, whenReady)),
    ready,
    setPlan(plan) {
      latest = plan;
      frames.add('plan', () => whenReady(showPlan));
    },
    setRaster(kind, raster) {
      whenReady(() => underlay!.setRaster(kind, raster));
    },
    setBase(view) {
      whenReady(() => underlay!.setBase(view));
    },
    setImagery(view) {
      whenReady(() => underlay!.setImagery(view));
    },
    setSectionMarker: (place) => put(sectionMarkerSource, () => sectionMarkerFeatures(place)),
    setPreview(shapes) {
      hasPreview = shapes !== null;
      put(previewSource, () => previewFeatures(shapes ?? []));
    },
    setInsets(next) {
      insets = next;
      container.style.setProperty('--map-inset-left', `${next.left}px`);
      container.style.setProperty('--map-inset-bottom', `${next.bottom}px`);
      desk.insetsChanged();
      clear.look();
    },
    keepInSight(bounds) {
      const padding = roomToFit(container, insets, furniture.element.offsetHeight);
      if (isInSight(map, bounds, padding)) return;
      const [west, south, east, north] = bounds;
      const closest = { maxZoom: map.getZoom(), duration: 500 };
      map.fitBounds([west, south, east, north], { padding, ...closest });
    },
    fitTo([west, south, east, north], { animate = true } = {}) {
      const padding = roomToFit(container, insets, furniture.element.offsetHeight);
      map.fitBounds([west, south, east, north], { padding, animate, duration: 500 });
    },
    showPlace([lng, lat]) {
      const { top, right, bottom, left } = room();
      map.easeTo({
        center: [lng, lat],
        zoom: Math.max(map.getZoom(), 17),
        offset: [(left - right) / 2, (top - bottom) / 2],
        duration: 500,
      });
    },
    keepClear: (place) => clear.keep(place),
    lookAt: ({ center, zoom }) => void map.jumpTo({ center: [...center], zoom }),
    setLocked(next) {
      locked = next;
      for (const handler of handlersOf(map)) handler[next ? 'disable' : 'enable']();
    },
    remove() {
      frames.stop();
      underlay?.stop();
      desk.stop();
      furniture.element.remove();
      map.remove();
    },
  };
}

function handlersOf(map: MapLibreMap) {
  const { dragPan, scrollZoom, doubleClickZoom, touchZoomRotate, keyboard } = map;
  return [dragPan, scrollZoom, doubleClickZoom, touchZoomRotate, keyboard];
}
