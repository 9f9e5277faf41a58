import type { Feature } from 'geojson';
import { signedArea } from '../../geo/plan/construct/plan-plane.ts';
import type { PlanFeature, PlanGeometry } from '../../geo/plan/feature.ts';
import { featureMarks, type DrawingChoices } from './feature-marks.ts';
import type { Mark } from './marks.ts';

/** Properties that the plan's layers read; every mark of a feature becomes one of these. */
export interface MarkProperties {
  /** Unique on the map: feature id, a slash, the mark's place in its list. */
  readonly key: string;
  readonly featureId: string;
  readonly kind: string;
  readonly mark: Mark['mark'];
  readonly order: number;
  readonly [name: string]: unknown;
}

export type MarkFeature = Feature<Feature['geometry'], MarkProperties> & { id: string };

/** One plan feature as the GeoJSON that the plan's layers draw. */
export function markFeatures(feature: PlanFeature, choices: DrawingChoices): MarkFeature[] {
  return featureMarks(feature, choices).map((mark, index) => {
    const { geometry, ...look } = mark;
    const key = `${feature.id}/${index}`;
    return {
      type: 'Feature',
      id: key,
      geometry: mark.mark === 'stroke' ? traced(geometry) : (geometry as Feature['geometry']),
      properties: { ...look, key, featureId: feature.id, kind: feature.kind },
    };
  });
}

/**
 * The map leaves out rings whose loops cancel each other, as those of an even bow tie do. Their
 * strokes are handed over as lines, so that what has to be mended is seen.
 */
function traced(geometry: PlanGeometry): Feature['geometry'] {
  if (geometry.type !== 'Polygon') return geometry as Feature['geometry'];
  const [outer] = geometry.coordinates;
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [lng, lat] of outer) {
    west = Math.min(west, lng);
    east = Math.max(east, lng);
    south = Math.min(south, lat);
    north = Math.max(north, lat);
  }
  const isHollow = Math.abs(signedArea(outer)) < 0.01 * (east - west) * (north - south);
  const coordinates = geometry.coordinates as unknown as number[][][];
  return { type: isHollow ? 'MultiLineString' : 'Polygon', coordinates };
}
