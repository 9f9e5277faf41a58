import { Marker, type Map as MapLibreMap } from 'maplibre-gl';
import type { TerraDraw } from 'terra-draw';
import { roundDegrees, type PlanFeature, type PlanGeometry, type Position } from '../../geo/plan/feature.ts'; // prettier-ignore
import { CarryGrip } from './carry-grip.ts';
import { cornerNear } from './corner-near.ts';
import {
  corners,
  fewestCorners,
  ringCount,
  ringInHand,
  roundGeometry,
  sameGeometry,
  withCornerAt,
  withCorners,
  withMiddleAfter,
  withoutCorner,
} from './edit-geometry.ts';
import { dropCornerButton } from './handles.ts';
import { grabPixels, modeOf, type DrawingTool, type DrawnType } from './modes.ts';

/** The tool knows the shape in hand by one name of its own. */
const toolId = 'in-hand';

export interface ShapeEvents {
  onDraft(geometry: PlanGeometry): void;
  onCommit(geometry: PlanGeometry): void;
}

/**
 * A committed shape in the drawing tool, its corners to be dragged, chosen, added and taken out. Of
 * an area with holes the tool holds one ring at a time; a tap on a corner of another one, or walking
 * on to it, takes that in hand instead.
 */
export class ShapeInHand {
  readonly type: DrawnType;
  private geometry: PlanGeometry;
  private ring = 0;
  chosen = -1;
  /** A corner was moved by keys and not committed yet. */
  private nudged = false;
  private readonly grip: CarryGrip;
  private readonly dropCorner: Marker;

  constructor(
    readonly id: string,
    geometry: PlanGeometry,
    private readonly map: MapLibreMap,
    private readonly drawing: DrawingTool,
    private readonly events: ShapeEvents,
  ) {
    this.geometry = roundGeometry(geometry);
    this.type = geometry.type;
    this.grip = new CarryGrip(map, {
      onTaken: () => this.choose(-1),
      onCarried: (carried) => this.show(carried),
      onLeft: () => {
        this.placeGrip();
        this.events.onCommit(this.geometry);
      },
    });
    this.dropCorner = new Marker({
      element: dropCornerButton(document, () => this.deleteChosen()),
      anchor: 'bottom',
      offset: [0, -18],
    });
  }

  /** Puts it into the tool. Throws RangeError where the tool refuses it. */
  take(): void {
    const { tool } = this.drawing;
    tool.setMode('select');
    const [added] = tool.addFeatures([
      {
        type: 'Feature',
        id: toolId,
        geometry: this.mutableRing(),
        properties: { mode: modeOf[this.type] },
      },
    ]);
    if (!added?.valid) {
      throw new RangeError(`The drawing tool refused ${this.id}: ${added?.reason ?? 'unknown'}`);
    }
    tool.selectFeature(added.id ?? toolId);
    this.placeGrip();
  }

  putDown(): void {
    this.settleNudge();
    this.grip.hide();
    this.dropCorner.remove();
  }

  /** Whether a feature as the plan has it is this very shape. */
  holds(feature: Pick<PlanFeature, 'id' | 'geometry'>): boolean {
    return this.id === feature.id && sameGeometry(this.geometry, roundGeometry(feature.geometry));
  }

  /** The corner before one of the ring in hand, from which a dragged one is measured. */
  cornerBefore(index: number): Position | undefined {
    const all = corners(this.geometry, this.ring);
    if (this.type === 'Point') return undefined;
    return this.type === 'Polygon' ? all[(index + all.length - 1) % all.length] : all[index - 1];
  }

  /** The tool changed something by itself: a corner is being dragged. */
  changed(ids: readonly (string | number)[]): void {
    if (!ids.includes(toolId)) return;
    const feature = this.drawing.tool.getSnapshotFeature(toolId);
    if (!feature) return;
    const inTool = roundGeometry(feature.geometry as PlanGeometry);
    const next = withCorners(this.geometry, this.ring, corners(inTool));
    if (sameGeometry(next, this.geometry)) return;
    this.geometry = next;
    this.dropCorner.remove();
    this.placeGrip();
    this.events.onDraft(next);
  }

  /** A dragged point on what it is caught by: the tool does not catch points itself. */
  movePoint(at: Position): void {
    if (this.type !== 'Point') return;
    this.geometry = { type: 'Point', coordinates: at };
    this.events.onDraft(this.geometry);
  }

  commit(): void {
    this.nudged = false;
    this.events.onCommit(this.geometry);
  }

  /** A tap on the map; true when it was on a corner. */
  tapped(point: { readonly x: number; readonly y: number }): boolean {
    if (this.type === 'Point') return false;
    const project = (p: Position) => this.map.project(p);
    for (let k = 0; k < ringCount(this.geometry); k++) {
      // The ring in hand first.
      const ring = (this.ring + k) % ringCount(this.geometry);
      const near = cornerNear(ringInHand(this.geometry, ring), point, project, grabPixels);
      if (near < 0) continue;
      const again = ring === this.ring && near === this.chosen;
      this.takeRing(ring);
      this.choose(again ? -1 : near);
      return true;
    }
    this.choose(-1);
    return false;
  }

  /** The next or the last corner, through all rings; where it is. */
  step(by: 1 | -1): Position {
    const count = corners(this.geometry, this.ring).length;
    const next = this.chosen < 0 ? (by === 1 ? 0 : count - 1) : this.chosen + by;
    if (next < 0 || next >= count) {
      const rings = ringCount(this.geometry);
      this.takeRing((this.ring + by + rings) % rings);
      this.choose(by === 1 ? 0 : corners(this.geometry, this.ring).length - 1);
    } else this.choose(next);
    return corners(this.geometry, this.ring)[this.chosen];
  }

  /** Moves the chosen corner, or a point, by pixels; committed by `settleNudge`. */
  nudge(dx: number, dy: number): boolean {
    const index = this.type === 'Point' ? 0 : this.chosen;
    if (index < 0) return false;
    const { x, y } = this.map.project(corners(this.geometry, this.ring)[index]);
    const { lng, lat } = this.map.unproject([x + dx, y + dy]);
    const at: Position = [roundDegrees(lng), roundDegrees(lat)];
    this.nudged = true;
    this.show(withCornerAt(this.geometry, index, at, this.ring));
    this.placeGrip();
    this.markChosen();
    return true;
  }

  /** Ends a move by keys: one step of undo for as long as the keys were held. */
  settleNudge(): void {
    if (this.nudged) this.commit();
  }

  addCorner(): boolean {
    const last = corners(this.geometry, this.ring).length - 1;
    const after = this.chosen >= 0 ? this.chosen : this.type === 'Polygon' ? last : last - 1;
    const shape = withMiddleAfter(this.geometry, after, this.ring);
    if (!shape) return false;
    this.show(shape, false);
    this.choose(after + 1);
    this.commit();
    return true;
  }

  /** Takes out the chosen corner, unless the shape needs it. */
  deleteChosen(): boolean {
    if (this.chosen < 0) return false;
    const shape = withoutCorner(this.geometry, this.chosen, this.ring);
    if (!shape) return false;
    this.choose(-1);
    if (ringCount(shape) < ringCount(this.geometry)) this.ring = 0;
    this.show(shape, false);
    this.placeGrip();
    this.commit();
    return true;
  }

  private show(geometry: PlanGeometry, isDraft = true): void {
    this.geometry = geometry;
    this.drawing.tool.updateFeatureGeometry(toolId, this.mutableRing());
    if (isDraft) this.events.onDraft(geometry);
  }

  private takeRing(ring: number): void {
    if (ring === this.ring) return;
    this.choose(-1);
    this.ring = ring;
    this.drawing.tool.updateFeatureGeometry(toolId, this.mutableRing());
  }

  private choose(index: number): void {
    if (this.chosen === index) return;
    this.settleNudge();
    this.chosen = index;
    this.drawing.restyle();
    this.markChosen();
  }

  private markChosen(): void {
    this.dropCorner.remove();
    const all = corners(this.geometry, this.ring);
    const isSpare = all.length > fewestCorners(this.type) || this.ring > 0;
    if (this.chosen >= 0 && isSpare) this.dropCorner.setLngLat(all[this.chosen]).addTo(this.map);
  }

  private placeGrip(): void {
    if (this.type !== 'Point') this.grip.show(this.geometry);
  }

  /** The tool's types ask for arrays it may write to; it gets a copy. */
  private mutableRing(): Parameters<TerraDraw['updateFeatureGeometry']>[1] {
    const copy = structuredClone(ringInHand(this.geometry, this.ring));
    return copy as Parameters<TerraDraw['updateFeatureGeometry']>[1];
  }
}
