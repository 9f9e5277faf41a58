import type { Map as MapLibreMap } from 'maplibre-gl';
import type { ImageryLayer } from '../../geo/plan/imagery.ts';
import { imageryLayerId, type LayerStack } from '../layer-stack.ts';
import { imageryTemplate } from './imagery-protocol.ts';

/** What the layers need of the map. */
export type ImageryMap = Pick<MapLibreMap, 'addSource' | 'removeSource' | 'setPaintProperty'>;

/** Owns the sources of online imagery. A layer that is not shown has no source: nothing is asked. */
export class ImageryLayers {
  private readonly present = new Map<string, { layer: ImageryLayer; round: number }>();
  private layers: readonly ImageryLayer[] = [];
  private share = 0;
  private rounds: Readonly<Record<string, number>> = {};

  constructor(
    private readonly map: ImageryMap,
    private readonly stack: LayerStack,
  ) {}

  layerOf(id: string): ImageryLayer | undefined {
    return this.layers.find((layer) => layer.id === id);
  }

  /** `rounds`: how often the tiles of a layer were asked to be tried anew. */
  setLayers(layers: readonly ImageryLayer[], rounds: Readonly<Record<string, number>>): void {
    this.layers = layers;
    this.rounds = rounds;
    this.show();
  }

  /** How much of each layer's own opacity the view lets through, 0 to 1. */
  setShare(share: number): void {
    this.share = share;
    this.show();
  }

  private show(): void {
    const wanted = this.share > 0 ? this.layers.filter((layer) => layer.shown) : [];
    for (const [id, { layer, round }] of this.present) {
      const next = wanted.find((other) => other.id === id);
      if (next && sameTiles(next, layer) && round === (this.rounds[id] ?? 0)) continue;
      this.remove(id);
    }
    for (const layer of wanted) {
      if (!this.present.has(layer.id)) this.add(layer);
      this.map.setPaintProperty(
        imageryLayerId(layer.id),
        'raster-opacity',
        layer.opacity * this.share,
      );
    }
  }

  private add(layer: ImageryLayer): void {
    const round = this.rounds[layer.id] ?? 0;
    const id = imageryLayerId(layer.id);
    this.map.addSource(id, {
      type: 'raster',
      tiles: [imageryTemplate(layer.id, round)],
      tileSize: layer.tileSize,
      minzoom: layer.minZoom,
      maxzoom: layer.maxZoom,
      ...(layer.bounds ? { bounds: [...layer.bounds] } : {}),
    });
    this.stack.add({ id, type: 'raster', source: id, paint: { 'raster-fade-duration': 0 } });
    this.present.set(layer.id, { layer, round });
  }

  private remove(id: string): void {
    this.stack.remove(imageryLayerId(id));
    this.map.removeSource(imageryLayerId(id));
    this.present.delete(id);
  }
}

function sameTiles(a: ImageryLayer, b: ImageryLayer): boolean {
  return (
    a.template === b.template &&
    a.tileSize === b.tileSize &&
    a.minZoom === b.minZoom &&
    a.maxZoom === b.maxZoom &&
    a.bounds?.join() === b.bounds?.join()
  );
}
