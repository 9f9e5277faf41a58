import { Marker, type Map as MapLibreMap, type MapMouseEvent } from 'maplibre-gl';
import type { TerraDraw } from 'terra-draw';
import type { PlanFeature, PlanGeometry, Position } from '../../geo/plan/feature.ts';
import {
  corners,
  drawnShape,
  fewestCorners,
  roundGeometry,
  withoutCorner,
} from './edit-geometry.ts';
import { CarryGrip } from './carry-grip.ts';
import { cornerNear } from './corner-near.ts';
import { dropCornerButton } from './handles.ts';
import { listenToKeys } from './keys.ts';
import { createDrawingTool, grabPixels, modeOf, type DrawnType } from './modes.ts';

export interface DrawingEvents {
  /** Every change while a gesture lasts; null while there is too little to make a shape. */
  onDraft(geometry: PlanGeometry | null): void;
  /** Once, when a gesture ends: the drawing is finished, or a corner was let go. */
  onCommit(geometry: PlanGeometry): void;
  /** Escape: drawing was given up, or editing was left. */
  onCancel(): void;
}

type State =
  | { readonly doing: 'nothing' }
  | { readonly doing: 'drawing'; readonly type: DrawnType }
  | {
      readonly doing: 'editing';
      readonly id: string;
      readonly type: DrawnType;
      geometry: PlanGeometry;
      chosen: number;
    };

/**
 * Drawing and editing of one shape at a time. The drawing tool holds only the shape in hand, and
 * only while it is in hand; the document stays its owner.
 */
export class Drawing {
  private readonly tool: TerraDraw;
  private readonly restyle: () => void;
  private state: State = { doing: 'nothing' };
  private readonly stopKeys: () => void;
  private readonly grip: CarryGrip;
  private readonly dropCorner: Marker;
  /** When a tap ended a drawing: the map reports the same tap a moment later. */
  private finishedAt = -Infinity;

  constructor(
    private readonly map: MapLibreMap,
    private readonly events: DrawingEvents,
  ) {
    const { tool, restyle } = createDrawingTool(map, () =>
      this.state.doing === 'editing' ? this.state.chosen : -1,
    );
    this.tool = tool;
    this.restyle = restyle;
    this.tool.on('change', (ids, _type, context) =>
      this.changed(ids, context !== undefined && 'origin' in context),
    );
    this.tool.on('finish', (id) => this.finished(String(id)));
    this.stopKeys = listenToKeys({
      active: () => this.state.doing !== 'nothing',
      enter: () => this.finish(),
      escape: () => this.cancel(),
      erase: () => this.erase(),
    });
    this.grip = new CarryGrip(map, {
      onTaken: () => this.choose(-1),
      onCarried: (geometry) => this.carriedTo(geometry),
      onLeft: () => {
        if (this.state.doing !== 'editing') return;
        this.placeGrip();
        this.events.onCommit(this.state.geometry);
      },
    });
    this.dropCorner = new Marker({
      element: dropCornerButton(document, () => this.deleteChosenCorner()),
      anchor: 'bottom',
      offset: [0, -18],
    });
  }

  get busy(): 'nothing' | 'drawing' | 'editing' {
    return this.state.doing;
  }

  startDrawing(type: DrawnType): void {
    this.stop();
    this.tool.start();
    this.tool.setMode(modeOf[type]);
    this.state = { doing: 'drawing', type };
  }

  /** Does nothing when that very shape is already in hand. */
  startEditing(feature: Pick<PlanFeature, 'id' | 'geometry'>): void {
    const geometry = roundGeometry(feature.geometry);
    if (this.state.doing === 'editing' && this.state.id === feature.id) {
      if (JSON.stringify(this.state.geometry) === JSON.stringify(geometry)) return;
    }
    this.stop();
    this.tool.start();
    this.tool.setMode('select');
    const type = geometry.type;
    const [added] = this.tool.addFeatures([
      {
        type: 'Feature',
        id: toolId,
        geometry: mutable(geometry),
        properties: { mode: modeOf[type] },
      },
    ]);
    if (!added?.valid) {
      this.tool.stop();
      throw new RangeError(`The drawing tool refused ${feature.id}: ${added?.reason ?? 'unknown'}`);
    }
    this.tool.selectFeature(added.id ?? toolId);
    this.state = { doing: 'editing', id: feature.id, type, geometry, chosen: -1 };
    this.placeGrip();
  }

  /** Ends whatever is going on and says nothing. */
  stop(): void {
    if (this.state.doing === 'nothing') return;
    this.state = { doing: 'nothing' };
    this.grip.hide();
    this.dropCorner.remove();
    if (this.tool.enabled) this.tool.stop();
    this.map.getCanvas().style.removeProperty('cursor');
    this.map.doubleClickZoom.enable();
  }

  /** The button's way to end: keeps the points placed so far, when they make a shape. */
  finish(): boolean {
    if (this.state.doing === 'editing') {
      this.events.onCancel();
      return true;
    }
    if (this.state.doing !== 'drawing') return false;
    const shape = drawnShape(this.state.type, this.placedPoints());
    if (!shape) return false;
    this.stop();
    this.events.onCommit(roundGeometry(shape));
    return true;
  }

  cancel(): void {
    if (this.state.doing === 'nothing') return;
    this.stop();
    this.events.onDraft(null);
    this.events.onCancel();
  }

  /** Takes back the point placed last. */
  dropLastPoint(): boolean {
    if (this.state.doing !== 'drawing' || !this.tool.canUndo()) return false;
    return this.tool.undo();
  }

  /** Takes out the chosen corner, unless the shape needs it. */
  deleteChosenCorner(): boolean {
    if (this.state.doing !== 'editing' || this.state.chosen < 0) return false;
    const shape = withoutCorner(this.state.geometry, this.state.chosen);
    if (!shape) return false;
    this.choose(-1);
    this.tool.updateFeatureGeometry(toolId, mutable(shape));
    this.state.geometry = shape;
    this.placeGrip();
    this.events.onCommit(shape);
    return true;
  }

  /**
   * A tap on the map. True when it was about the shape in hand, so that it selects nothing else.
   */
  tapped(event: MapMouseEvent): boolean {
    if (this.state.doing === 'drawing') return true;
    if (event.originalEvent.timeStamp - this.finishedAt < sameTapMilliseconds) return true;
    if (this.state.doing !== 'editing' || this.state.type === 'Point') return false;
    const near = cornerNear(
      this.state.geometry,
      event.point,
      (p) => this.map.project(p),
      grabPixels,
    );
    this.choose(near === this.state.chosen ? -1 : near);
    return near >= 0;
  }

  remove(): void {
    this.stop();
    this.stopKeys();
  }

  private changed(ids: readonly (string | number)[], byUs: boolean): void {
    if (this.state.doing === 'drawing') {
      const points = this.allPoints();
      if (points) this.events.onDraft(drawnShape(this.state.type, points));
      return;
    }
    if (this.state.doing !== 'editing' || byUs) return;
    if (!ids.includes(toolId)) return;
    const feature = this.tool.getSnapshotFeature(toolId);
    if (!feature) return;
    const geometry = roundGeometry(feature.geometry as PlanGeometry);
    if (JSON.stringify(geometry) === JSON.stringify(this.state.geometry)) return;
    this.state.geometry = geometry;
    this.dropCorner.remove();
    this.placeGrip();
    this.events.onDraft(geometry);
  }

  private finished(id: string): void {
    if (this.state.doing === 'drawing') {
      const feature = this.tool.getSnapshotFeature(id);
      if (!feature) return;
      const geometry = roundGeometry(feature.geometry as PlanGeometry);
      this.finishedAt = performance.now();
      // The tool is in the middle of its own event: let it end before it is stopped.
      queueMicrotask(() => {
        this.stop();
        this.events.onCommit(geometry);
      });
    } else if (this.state.doing === 'editing') {
      this.events.onCommit(this.state.geometry);
    }
  }

  private drawnFeature() {
    return this.tool
      .getSnapshot()
      .find((f) => f.properties.mode === modeOf[this.typeDrawn()] && f.properties.currentlyDrawing);
  }

  private typeDrawn(): DrawnType {
    return this.state.doing === 'nothing' ? 'Point' : this.state.type;
  }

  /** With the point that follows the pointer; null before the first one. */
  private allPoints(): Position[] | null {
    const feature = this.drawnFeature();
    if (!feature) return null;
    const { geometry } = feature;
    if (geometry.type === 'Polygon') return geometry.coordinates[0] as Position[];
    if (geometry.type === 'LineString') return geometry.coordinates as Position[];
    return null;
  }

  /** Without the point that follows the pointer; a line does not count its points. */
  private placedPoints(): Position[] {
    const points = this.allPoints() ?? [];
    const count = this.drawnFeature()?.properties.committedCoordinateCount;
    return points.slice(0, typeof count === 'number' ? count : points.length - 1);
  }

  private erase(): boolean {
    return this.state.doing === 'drawing' ? this.dropLastPoint() : this.deleteChosenCorner();
  }

  private choose(index: number): void {
    if (this.state.doing !== 'editing' || this.state.chosen === index) return;
    this.state.chosen = index;
    this.dropCorner.remove();
    this.restyle();
    const spare = corners(this.state.geometry).length > fewestCorners(this.state.type);
    if (index >= 0 && spare) {
      this.dropCorner.setLngLat(corners(this.state.geometry)[index]).addTo(this.map);
    }
  }

  private placeGrip(): void {
    if (this.state.doing === 'editing' && this.state.type !== 'Point') {
      this.grip.show(this.state.geometry);
    }
  }

  private carriedTo(geometry: PlanGeometry): void {
    if (this.state.doing !== 'editing') return;
    this.tool.updateFeatureGeometry(toolId, mutable(geometry));
    this.state.geometry = geometry;
    this.events.onDraft(geometry);
  }
}

const sameTapMilliseconds = 350;

/** The tool knows the shape in hand by one name of its own. */
const toolId = 'in-hand';

/** The tool's types ask for arrays it may write to; it gets a copy. */
function mutable(geometry: PlanGeometry): Parameters<TerraDraw['updateFeatureGeometry']>[1] {
  return structuredClone(geometry) as Parameters<TerraDraw['updateFeatureGeometry']>[1];
}
