import { Marker, type Map as MapLibreMap } from 'maplibre-gl';
import type { PlanGeometry, Position } from '../../geo/plan/feature.ts';
import { carried } from './edit-geometry.ts';
import { gripPlace } from './grip-place.ts';
import { moveGrip } from './handles.ts';

export interface CarryEvents {
  onTaken(): void;
  onCarried(geometry: PlanGeometry): void;
  onLeft(): void;
}

/**
 * The handle by which a whole shape is carried. A handle of its own, so that a drag inside a plot
 * that fills the screen still moves the map and never the plot by accident.
 */
export class CarryGrip {
  private readonly marker: Marker;
  private shape: PlanGeometry | null = null;
  private start: { geometry: PlanGeometry; from: Position } | null = null;

  constructor(
    private readonly map: MapLibreMap,
    events: CarryEvents,
  ) {
    // Below its place: the shape's label is there.
    this.marker = new Marker({ element: moveGrip(document), draggable: true, offset: [0, 40] });
    this.marker.on('dragstart', () => {
      if (!this.shape) return;
      this.start = { geometry: this.shape, from: gripPlace(this.shape) };
      events.onTaken();
    });
    this.marker.on('drag', () => {
      if (!this.start) return;
      const { lng, lat } = this.marker.getLngLat();
      events.onCarried(carried(this.start.geometry, this.start.from, [lng, lat]));
    });
    this.marker.on('dragend', () => {
      if (!this.start) return;
      this.start = null;
      events.onLeft();
    });
  }

  /** Follows the shape, except while the shape follows it. */
  show(shape: PlanGeometry): void {
    this.shape = shape;
    if (!this.start) this.marker.setLngLat(gripPlace(shape)).addTo(this.map);
  }

  hide(): void {
    this.shape = null;
    this.start = null;
    this.marker.remove();
  }
}
