import type { FeatureCollection } from 'geojson';
import type { SymbolLayerSpecification } from 'maplibre-gl';
import { contourText, paper } from '../palette.ts';
import { boldFont } from '../plan/mark-layers.ts';
import type { ContourLabel } from './contour-labels.ts';

export const contourLabelSource = 'contour-labels';

/** Elevations along the contours on a paper halo; they give way to every other label. */
export const contourLabelLayer: SymbolLayerSpecification = {
  id: contourLabelSource,
  type: 'symbol',
  source: contourLabelSource,
  layout: {
    'text-field': ['get', 'text'],
    'text-font': boldFont,
    'text-size': 12,
    'text-rotate': ['get', 'turn'],
    'text-rotation-alignment': 'map',
    'text-padding': 14,
  },
  paint: {
    'text-color': contourText,
    'text-halo-color': paper,
    'text-halo-width': 2,
    'text-halo-blur': 0.4,
  },
};

export function contourLabelFeatures(labels: readonly ContourLabel[]): FeatureCollection {
  return {
    type: 'FeatureCollection',
    features: labels.map(({ lng, lat, text, turnDegrees }) => ({
      type: 'Feature',
      geometry: { type: 'Point', coordinates: [lng, lat] },
      properties: { text, turn: turnDegrees },
    })),
  };
}
