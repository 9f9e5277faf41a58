import type { GeoJSONSource, Map as MapLibreMap } from 'maplibre-gl';
import type { ImageryLayer } from '../geo/plan/imagery.ts';
import { baseOpacities, imageryShare, type BaseView } from './base-view.ts';
import {
  contourLabelFeatures,
  contourLabelLayer,
  contourLabelSource,
} from './contours/contour-label-layer.ts';
import { LabelKeeper, type RequestLabels } from './contours/label-keeper.ts';
import type { FrameQueue } from './frame-queue.ts';
import { ImageryLayers } from './imagery/imagery-layers.ts';
import { serveImagery, type RequestImagery } from './imagery/imagery-protocol.ts';
import { LayerStack } from './layer-stack.ts';
import { RasterLayers, type Bounds } from './raster-layers.ts';
import type { TileKind } from './tiles/tile-kind.ts';

/** Online imagery as the plan has it. */
export interface ImageryView {
  readonly layers: readonly ImageryLayer[];
  /** Bottom to top, whole. */
  readonly order: readonly string[];
  /** How often the tiles of a layer were asked to be tried anew. */
  readonly rounds: Readonly<Record<string, number>>;
}

/** Everything under the linework: rasters of the site, online imagery, and the contours' labels. */
export class Underlay {
  private readonly rasters: RasterLayers;
  private readonly imagery: ImageryLayers;
  private readonly stack: LayerStack;
  private readonly labels: LabelKeeper;
  private view: BaseView = { base: 'plan', photoShare: 0.67 };
  private hasImagery = false;

  constructor(
    private readonly map: MapLibreMap,
    frames: FrameQueue,
    requestImagery: RequestImagery,
    requestLabels: RequestLabels,
  ) {
    this.stack = new LayerStack(map);
    this.rasters = new RasterLayers(map, this.stack);
    this.imagery = new ImageryLayers(map, this.stack);
    serveImagery((id) => this.imagery.layerOf(id), requestImagery);
    this.labels = new LabelKeeper(requestLabels, (labels) =>
      frames.add(contourLabelSource, () => {
        const source = map.getSource<GeoJSONSource>(contourLabelSource);
        void source?.setData(contourLabelFeatures(labels));
      }),
    );
  }

  setRaster(kind: TileKind, raster: { version: string; bounds: Bounds } | null): void {
    this.rasters.setVersion(kind, raster?.version ?? null, raster?.bounds ?? null);
    if (kind === 'contours') this.labels.setGround(raster);
    this.show();
  }

  setBase(view: BaseView): void {
    this.view = view;
    this.show();
  }

  setImagery({ layers, order, rounds }: ImageryView): void {
    this.hasImagery = layers.some((layer) => layer.shown && layer.opacity > 0);
    this.imagery.setLayers(layers, rounds);
    this.stack.setOrder(order);
    this.show();
  }

  setCamera(camera: { readonly zoom: number; readonly bounds: Bounds }): void {
    this.labels.setView(camera);
  }

  stop(): void {
    this.labels.stop();
  }

  private show(): void {
    const has = {
      ground: this.rasters.has('relief'),
      photo: this.rasters.has('photo'),
      imagery: this.hasImagery,
    };
    const opacities = baseOpacities(this.view, has);
    this.rasters.setOpacities(opacities);
    this.imagery.setShare(imageryShare(this.view));
    const contoured = opacities.contours > 0 && this.rasters.has('contours');
    this.labels.setOn(contoured);
    this.map.setLayoutProperty(contourLabelLayer.id, 'visibility', contoured ? 'visible' : 'none');
  }
}
