import type { Feature } from 'geojson';
import type { PlanFeature } from '../../geo/plan/feature.ts';
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
      geometry: geometry as Feature['geometry'],
      properties: { ...look, key, featureId: feature.id, kind: feature.kind },
    };
  });
}
