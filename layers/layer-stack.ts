import type { Map as MapLibreMap, RasterLayerSpecification } from 'maplibre-gl';
import { photoInOrder, reliefInOrder } from '../geo/plan/imagery.ts';
import { rasterAnchor } from './map-style.ts';
import { tileKinds } from './tiles/tile-kind.ts';

/** What the stack needs of the map. */
export type StackMap = Pick<MapLibreMap, 'addLayer' | 'removeLayer' | 'moveLayer'>;

/** Id of the map's source and layer for a layer of online imagery. */
export function imageryLayerId(id: string): string {
  return `imagery-${id}`;
}

/** Keeps every raster under the linework in the user's order, whichever comes first. */
export class LayerStack {
  private readonly present = new Set<string>();
  private order: readonly string[] = [...tileKinds];

  constructor(private readonly map: StackMap) {}

  /** `whole`, bottom to top, as `wholeOrder` gives it; contours lie over all of it. */
  setOrder(whole: readonly string[]): void {
    const next = [...whole.flatMap(mapLayersOf), 'contours'];
    if (next.join() === this.order.join()) return;
    this.order = next;
    const fromTop = [...next].reverse().filter((id) => this.present.has(id));
    for (const id of fromTop) this.map.moveLayer(id, this.above(id));
  }

  add(layer: RasterLayerSpecification): void {
    this.map.addLayer(layer, this.above(layer.id));
    this.present.add(layer.id);
  }

  remove(id: string): void {
    this.map.removeLayer(id);
    this.present.delete(id);
  }

  /** The layer that one goes under: the next above it that is there, else the linework. */
  above(id: string): string {
    const higher = this.order.slice(this.order.indexOf(id) + 1);
    return higher.find((other) => this.present.has(other)) ?? rasterAnchor;
  }
}

/** Relief, and what is drawn of the heights in its place, move together. */
function mapLayersOf(id: string): readonly string[] {
  if (id === photoInOrder) return ['photo'];
  if (id === reliefInOrder) return ['elevation', 'relief', 'slope'];
  return [imageryLayerId(id)];
}
