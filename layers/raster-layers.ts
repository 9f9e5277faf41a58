import type { Map as MapLibreMap, RasterTileSource } from 'maplibre-gl';
import type { LayerStack } from './layer-stack.ts';
import type { TileKind } from './tiles/tile-kind.ts';
import { tileTemplate } from './tiles/tile-protocol.ts';

/** [west, south, east, north] in degrees: no tile outside is ever asked for. */
export type Bounds = readonly [number, number, number, number];

/** What the rasters need of the map. */
export type RasterMap = Pick<
  MapLibreMap,
  'addSource' | 'removeSource' | 'getSource' | 'setPaintProperty' | 'setLayoutProperty'
>;

/** Owns the raster sources, one per kind that has something to draw. */
export class RasterLayers {
  private readonly present = new Map<TileKind, { version: string; bounds: Bounds }>();
  private opacities: Partial<Record<TileKind, number>> = {};

  constructor(
    private readonly map: RasterMap,
    private readonly stack: LayerStack,
  ) {}

  has(kind: TileKind): boolean {
    return this.present.has(kind);
  }

  /**
   * A new version keeps the old tiles on screen until new ones come. Null takes the kind away;
   * other bounds make a new source, since the map cannot move an old one.
   */
  setVersion(kind: TileKind, version: string | null, bounds: Bounds | null): void {
    const before = this.present.get(kind);
    if (version === null || bounds === null) {
      if (before) this.remove(kind);
      return;
    }
    if (before && before.bounds.join() === bounds.join()) {
      if (before.version === version) return;
      const source = this.map.getSource(kind) as RasterTileSource;
      source.setTiles([tileTemplate(kind, version)]);
      this.present.set(kind, { version, bounds });
      return;
    }
    if (before) this.remove(kind);
    this.add(kind, version, bounds);
  }

  setOpacities(opacities: Record<TileKind, number>): void {
    this.opacities = opacities;
    for (const kind of this.present.keys()) this.applyOpacity(kind);
  }

  private add(kind: TileKind, version: string, bounds: Bounds): void {
    this.map.addSource(kind, {
      type: 'raster',
      tiles: [tileTemplate(kind, version)],
      tileSize: 256,
      minzoom: 5,
      maxzoom: 24,
      bounds: [...bounds],
    });
    this.stack.add({
      id: kind,
      type: 'raster',
      source: kind,
      paint: { 'raster-fade-duration': 0 },
    });
    this.present.set(kind, { version, bounds });
    this.applyOpacity(kind);
  }

  private remove(kind: TileKind): void {
    this.stack.remove(kind);
    this.map.removeSource(kind);
    this.present.delete(kind);
  }

  /** A raster that cannot be seen is switched off, so that its tiles are not drawn for nothing. */
  private applyOpacity(kind: TileKind): void {
    const opacity = this.opacities[kind] ?? 0;
    this.map.setLayoutProperty(kind, 'visibility', opacity > 0 ? 'visible' : 'none');
    if (opacity > 0) this.map.setPaintProperty(kind, 'raster-opacity', opacity);
  }
}
