import type { PlanGeometry, Position } from '../../geo/plan/feature.ts';
import type { Aim } from './aim.ts';
import { drawnShape, roundGeometry } from './edit-geometry.ts';
import { modeOf, type DrawingTool, type DrawnType, type PressPlace } from './modes.ts';

/** Far from every corner, so that a typed place never ends a drawing by being near one. */
const farOff = -1e6;

/** A new shape as it grows point by point in the drawing tool. */
export class Sketch {
  constructor(
    readonly type: DrawnType,
    private readonly drawing: DrawingTool,
    private readonly aim: Aim,
  ) {
    drawing.tool.setMode(modeOf[type]);
  }

  /** What the points placed so far and the pointer make; null while that is no shape. */
  draft(): PlanGeometry | null {
    return drawnShape(this.type, this.all());
  }

  /** What the points placed so far make. */
  shape(): PlanGeometry | null {
    const shape = drawnShape(this.type, this.placed());
    return shape && roundGeometry(shape);
  }

  /** Points placed so far, without the one that follows the pointer. */
  placed(): readonly Position[] {
    const points = this.all();
    const count = this.feature()?.properties.committedCoordinateCount;
    return points.slice(0, typeof count === 'number' ? count : Math.max(0, points.length - 1));
  }

  dropLast(): boolean {
    return this.drawing.tool.canUndo() && this.drawing.tool.undo();
  }

  /** Sets a point where the cross is; near the first or last one that ends the drawing. */
  press(place: PressPlace): void {
    this.drawing.press(this.type, place);
  }

  /** Sets a point at a place that was typed. */
  pressExactly([lng, lat]: Position): void {
    this.aim.exactly(() => this.drawing.press(this.type, { lng, lat, x: farOff, y: farOff }));
  }

  private feature() {
    return this.drawing.tool
      .getSnapshot()
      .find((f) => f.properties.mode === modeOf[this.type] && f.properties.currentlyDrawing);
  }

  private all(): readonly Position[] {
    const geometry = this.feature()?.geometry;
    if (geometry?.type === 'Polygon') return geometry.coordinates[0] as Position[];
    if (geometry?.type === 'LineString') return geometry.coordinates as Position[];
    return [];
  }
}
