import type { LayerSpecification, StyleSpecification } from 'maplibre-gl';
import { contourLabelLayer, contourLabelSource } from './contours/contour-label-layer.ts';
import { paper } from './palette.ts';
import { damLabelLayers, damLayers, damLineLayers, damSource } from './plan/dam-layers.ts';
import { airLayers, airSource } from './plan/air-layers.ts';
import { laneLayers, laneSource } from './plan/lane-layers.ts';
import { flowLayers, flowSource, flowSpillLayer } from './plan/flow-layers.ts';
import { pushLayers, pushSource } from './plan/push-layers.ts';
import { standLayers, standSource } from './plan/stand-layers.ts';
import { lowSpotLabelLayer, lowSpotLayers, lowSpotSource } from './plan/low-spot-layers.ts';
import { markLayers } from './plan/mark-layers.ts';
import { previewLayers, previewSource } from './preview-layers.ts';
import { sectionMarkerLayer, sectionMarkerSource } from './section-marker.ts';

/** Sources of linework: what is committed, and the one feature in hand. */
export const planSource = 'plan';
export const editingSource = 'editing';

/** Rasters are put in under this layer when there is something to draw. */
export const rasterAnchor = 'plan-fill';

/**
 * The whole style, once: nothing is fetched, and `setStyle` is never called after start. Rasters
 * are added as they come (`layer-stack.ts`).
 */
export function mapStyle(): StyleSpecification {
  const plan = markLayers(planSource);
  const editing = markLayers(editingSource);
  const empty = { type: 'FeatureCollection' as const, features: [] };
  // A wide rim keeps a line's middle, and so its label, in one tile however long the line is.
  const vector = {
    type: 'geojson' as const,
    data: empty,
    promoteId: 'key',
    maxzoom: 20,
    tolerance: 0.1,
    buffer: 512,
  };
  const layers: LayerSpecification[] = [
    { id: 'paper', type: 'background', paint: { 'background-color': paper } },
    ...plan.ground,
    ...editing.ground,
    ...flowLayers,
    ...lowSpotLayers,
    ...damLayers,
    ...plan.lines,
    ...editing.lines,
    ...damLineLayers,
    ...airLayers,
    ...laneLayers,
    ...standLayers,
    ...pushLayers,
    contourLabelLayer,
    ...plan.text,
    flowSpillLayer,
    lowSpotLabelLayer,
    ...damLabelLayers,
    ...plan.names,
    ...editing.text,
    ...editing.names,
    ...previewLayers,
    sectionMarkerLayer,
  ];
  return {
    version: 8,
    sources: {
      [planSource]: vector,
      [editingSource]: vector,
      [previewSource]: { type: 'geojson', data: empty, maxzoom: 20, tolerance: 0.1 },
      [sectionMarkerSource]: { type: 'geojson', data: empty, maxzoom: 22 },
      [contourLabelSource]: { type: 'geojson', data: empty, maxzoom: 22 },
      [flowSource]: { type: 'geojson', data: empty, maxzoom: 20, tolerance: 0.1 },
      [laneSource]: { type: 'geojson', data: empty, maxzoom: 20, tolerance: 0.1 },
      [standSource]: { type: 'geojson', data: empty, maxzoom: 20, tolerance: 0.1 },
      [airSource]: { type: 'geojson', data: empty, maxzoom: 20, tolerance: 0.1 },
      [pushSource]: { type: 'geojson', data: empty, maxzoom: 20, tolerance: 0.1 },
      [damSource]: { type: 'geojson', data: empty, maxzoom: 20, tolerance: 0.1 },
      [lowSpotSource]: { type: 'geojson', data: empty, maxzoom: 20, tolerance: 0.1 },
    },
    layers,
  };
}
