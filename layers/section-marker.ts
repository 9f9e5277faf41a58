import type { Feature, FeatureCollection } from 'geojson';
import type { CircleLayerSpecification } from 'maplibre-gl';
import { flag, paper } from './palette.ts';

export const sectionMarkerSource = 'section-marker';

/** Where the section chart is pointed at, on its line. */
export const sectionMarkerLayer: CircleLayerSpecification = {
  id: sectionMarkerSource,
  type: 'circle',
  source: sectionMarkerSource,
  paint: {
    'circle-radius': 7,
    'circle-color': flag,
    'circle-stroke-color': paper,
    'circle-stroke-width': 3,
  },
};

export function sectionMarkerFeatures(place: readonly [number, number] | null): FeatureCollection {
  const features: Feature[] = place
    ? [{ type: 'Feature', geometry: { type: 'Point', coordinates: [...place] }, properties: {} }]
    : [];
  return { type: 'FeatureCollection', features };
}
