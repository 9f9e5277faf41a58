import type { Position } from '../../plan/feature.ts';
import { turnRings, type OutFeature } from './out-feature.ts';

/**
 * GeoJSON text (RFC 7946): longitude and latitude on WGS84, outlines counter-clockwise and holes
 * clockwise, heights in metres as third numbers where they are known, names and attributes as
 * properties. One feature a line, so that two versions can be compared.
 */
export function writeGeoJson(features: readonly OutFeature[]): string {
  const lines = features.map((feature) => JSON.stringify(featureObject(feature)));
  return `{"type":"FeatureCollection","features":[\n${lines.join(',\n')}\n]}\n`;
}

function featureObject(feature: OutFeature): object {
  const { name, description, attributes, layer } = feature;
  return {
    type: 'Feature',
    properties: {
      name,
      ...(description === '' ? {} : { description }),
      ...(layer === '' || layer === attributes.kind ? {} : { layer }),
      ...attributes,
    },
    geometry: geometryObject(feature),
  };
}

function geometryObject({ geometry, pointData }: OutFeature): object {
  const heights = pointData?.heightUnit === 'metre' ? pointData.heights : null;
  const withHeight = ([lng, lat]: Position, i: number) => {
    const height = heights?.[i];
    return height === undefined || Number.isNaN(height) ? [lng, lat] : [lng, lat, height];
  };
  switch (geometry.type) {
    case 'Point':
      return { type: 'Point', coordinates: withHeight(geometry.coordinates, 0) };
    case 'LineString':
      return { type: 'LineString', coordinates: geometry.coordinates.map(withHeight) };
    case 'Polygon':
      return { type: 'Polygon', coordinates: turnRings(geometry.coordinates, true) };
  }
}
