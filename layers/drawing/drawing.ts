import type { Map as MapLibreMap, MapMouseEvent } from 'maplibre-gl';
import { roundDegrees, type PlanFeature, type PlanGeometry, type Position } from '../../geo/plan/feature.ts'; // prettier-ignore
import { Aim, type Aimed, type AimFacts } from './aim.ts';
import { roundGeometry } from './edit-geometry.ts';
import { listenToKeys } from './keys.ts';
import { createDrawingTool, type DrawingTool, type DrawnType } from './modes.ts';
import { ShapeInHand } from './shape-in-hand.ts';
import { Sketch } from './sketch.ts';

export interface DrawingEvents {
  /** Every change while a gesture lasts; null while there is too little to make a shape. */
  onDraft(geometry: PlanGeometry | null): void;
  /** Once, when a gesture ends: the drawing is finished, or a corner was let go. */
  onCommit(geometry: PlanGeometry): void;
  /** Escape: drawing was given up, or editing was left. */
  onCancel(): void;
  /** How many points of a drawing are placed. */
  onPlaced(count: number): void;
  onAim(aimed: Aimed | null): void;
  /** Arrow keys with nothing chosen to move: the map goes by pixels. */
  onPan(dx: number, dy: number): void;
}

/**
 * Drawing and editing of one shape at a time. The drawing tool holds only the shape in hand, and
 * only while it is in hand; the document stays its owner.
 */
export class Drawing {
  readonly aim: Aim;
  private readonly drawing: DrawingTool;
  private sketch: Sketch | null = null;
  private inHand: ShapeInHand | null = null;
  private readonly stopKeys: () => void;
  /** When a tap ended a drawing: the map reports the same tap a moment later. */
  private finishedAt = -Infinity;

  constructor(
    private readonly map: MapLibreMap,
    private readonly events: DrawingEvents,
    facts: AimFacts,
  ) {
    this.aim = new Aim(facts, events, map.getCanvasContainer());
    this.drawing = createDrawingTool(
      map,
      () => this.inHand?.chosen ?? -1,
      ({ lng, lat }, { currentCoordinate = 0 }) => this.aimAt([lng, lat], currentCoordinate),
    );
    const { tool } = this.drawing;
    tool.on('change', (ids, _type, context) => {
      if (this.sketch) this.sketched();
      else if (!(context && 'origin' in context)) this.edited(ids);
    });
    tool.on('finish', (id, { action }) => {
      // The middle of an edge became a corner: it is being dragged now, and that ends later.
      if (action !== 'insertMidpoint') this.finished(String(id));
    });
    this.stopKeys = listenToKeys({
      active: () => this.isBusy,
      enter: () => this.finish(),
      escape: () => this.cancel(),
      erase: () => (this.sketch ? this.dropLastPoint() : this.deleteChosenCorner()),
      arrow: (dx, dy) => this.arrow(dx, dy),
      released: () => this.inHand?.settleNudge(),
    });
  }

  get isBusy(): boolean {
    return this.sketch !== null || this.inHand !== null;
  }

  /** Points are being set, rather than corners moved. */
  get isDrawing(): boolean {
    return this.sketch !== null;
  }

  startDrawing(type: DrawnType): void {
    this.stop();
    void this.aim.ready();
    this.drawing.tool.start();
    this.sketch = new Sketch(type, this.drawing, this.aim);
    this.events.onPlaced(0);
  }

  /** Does nothing when that very shape is already in hand. */
  startEditing(feature: Pick<PlanFeature, 'id' | 'geometry'>): void {
    if (this.inHand?.holds(feature)) return;
    this.stop();
    void this.aim.ready();
    this.drawing.tool.start();
    const taken = new ShapeInHand(
      feature.id,
      feature.geometry,
      this.map,
      this.drawing,
      this.events,
    );
    try {
      taken.take();
    } catch (error) {
      this.drawing.tool.stop();
      throw error;
    }
    this.inHand = taken;
  }

  /** Ends whatever is going on and says nothing more than what keys left to say. */
  stop(): void {
    if (!this.isBusy) return;
    this.inHand?.putDown();
    this.inHand = null;
    this.sketch = null;
    this.aim.none();
    if (this.drawing.tool.enabled) this.drawing.tool.stop();
    this.map.getCanvas().style.removeProperty('cursor');
    this.map.doubleClickZoom.enable();
  }

  /** The button's way to end: keeps the points placed so far, when they make a shape. */
  finish(): boolean {
    if (this.inHand) {
      this.inHand.settleNudge();
      this.events.onCancel();
      return true;
    }
    const shape = this.sketch?.shape();
    if (!shape) return false;
    this.stop();
    this.events.onCommit(shape);
    return true;
  }

  cancel(): void {
    if (!this.isBusy) return;
    this.stop();
    this.events.onDraft(null);
    this.events.onCancel();
  }

  /** Takes back the point placed last. */
  dropLastPoint(): boolean {
    return this.sketch?.dropLast() ?? false;
  }

  /** Sets a point at a pixel of the map, as a press of the pointer there would. */
  placeAt({ x, y }: { readonly x: number; readonly y: number }): boolean {
    if (!this.sketch) return false;
    const { lng, lat } = this.map.unproject([x, y]);
    this.sketch.press({ lng: roundDegrees(lng), lat: roundDegrees(lat), x, y });
    return true;
  }

  /** The pointer is said to be at a pixel: the map was moved under the cross. */
  aimAtPixel({ x, y }: { readonly x: number; readonly y: number }): void {
    if (!this.sketch) return;
    const { lng, lat } = this.map.unproject([x, y]);
    this.aimAt([roundDegrees(lng), roundDegrees(lat)], this.sketch.placed().length);
  }

  /**
   * Sets the next point at a true bearing and distance from the last one; without a bearing, the
   * way the last aim went. Null where there is no last point or no way; else the new place.
   */
  async placeLeg(lengthMeters: number, bearingDegrees: number | null): Promise<Position | null> {
    const { legBetween, legEnd } = await this.aim.ready();
    const points = this.sketch?.placed() ?? [];
    const last = points[points.length - 1];
    if (!this.sketch || !last) return null;
    const before = points[points.length - 2];
    const way = bearingDegrees ?? this.lastBearing ?? (before && legBetween(before, last).bearingDegrees); // prettier-ignore
    if (way === null || way === undefined) return null;
    const at = legEnd(last, way, lengthMeters);
    this.sketch.pressExactly(at);
    return at;
  }

  stepCorner(by: 1 | -1): Position | null {
    return this.inHand && this.inHand.type !== 'Point' ? this.inHand.step(by) : null;
  }

  addCorner(): boolean {
    return this.inHand?.addCorner() ?? false;
  }

  deleteChosenCorner(): boolean {
    return this.inHand?.deleteChosen() ?? false;
  }

  /** A tap on the map. True when it was about the shape in hand, so that it selects nothing else. */
  tapped(event: MapMouseEvent): boolean {
    if (this.sketch) return true;
    if (event.originalEvent.timeStamp - this.finishedAt < sameTapMilliseconds) return true;
    return this.inHand?.tapped(event.point) ?? false;
  }

  /** A point of its own is aimed before it is set: the tool says nothing until then. */
  pointed({ lng, lat }: { readonly lng: number; readonly lat: number }): void {
    if (this.sketch?.type === 'Point') this.aim.at([lng, lat], undefined);
  }

  remove(): void {
    this.stop();
    this.stopKeys();
    this.aim.stop();
  }

  private lastBearing: number | null = null;

  private aimAt(pointer: Position, index: number): Position | undefined {
    const points = this.sketch?.placed() ?? [];
    const from = this.sketch ? points[points.length - 1] : this.inHand?.cornerBefore(index);
    const at = this.aim.at(pointer, from, this.inHand?.id);
    return at === pointer ? undefined : at;
  }

  /** Keeps the way of the last aim for runs typed without a bearing. */
  aimed(aimed: Aimed | null): void {
    this.lastBearing = aimed?.leg?.bearingDegrees ?? null;
  }

  private arrow(dx: number, dy: number): boolean {
    if (!this.inHand?.nudge(dx, dy)) this.events.onPan(dx * mapSteps, dy * mapSteps);
    return true;
  }

  private sketched(): void {
    if (!this.sketch || this.sketch.type === 'Point') return;
    this.events.onPlaced(this.sketch.placed().length);
    this.events.onDraft(this.sketch.draft());
  }

  private edited(ids: readonly (string | number)[]): void {
    this.inHand?.changed(ids);
  }

  private finished(id: string): void {
    if (this.inHand) {
      this.inHand.commit();
      this.aim.none();
      return;
    }
    if (!this.sketch) return;
    const feature = this.drawing.tool.getSnapshotFeature(id);
    if (!feature) return;
    let geometry = roundGeometry(feature.geometry as PlanGeometry);
    if (geometry.type === 'Point') {
      const at = this.aim.at(geometry.coordinates, undefined);
      geometry = roundGeometry({ type: 'Point', coordinates: at });
    }
    this.finishedAt = performance.now();
    // The tool is in the middle of its own event: let it end before it is stopped.
    queueMicrotask(() => {
      this.stop();
      this.events.onCommit(geometry);
    });
  }
}

const sameTapMilliseconds = 350;
/** The map goes faster under the arrows than a corner does. */
const mapSteps = 5;
