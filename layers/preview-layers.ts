import type { Feature, FeatureCollection, Geometry } from 'geojson';
import type {
  ExpressionSpecification,
  FilterSpecification,
  LayerSpecification,
  Map as MapLibreMap,
} from 'maplibre-gl';
import type { PlanGeometry } from '../geo/plan/feature.ts';
import { chooseHit, reachPixels } from './hit-test.ts';
import { flag, ink, paper } from './palette.ts';

/** One shape of a drawing that is not in the plan yet. */
export interface PreviewShape {
  readonly index: number;
  /** Taken or left; a track as it was walked lies under its cleaned line. */
  readonly role: 'taken' | 'left' | 'walked';
  readonly geometry: PlanGeometry;
}

export const previewSource = 'preview';

export function previewFeatures(shapes: readonly PreviewShape[]): FeatureCollection {
  const features = shapes.flatMap(({ index, role, geometry }): Feature[] => {
    const feature = (part: Geometry): Feature => ({
      type: 'Feature',
      geometry: part,
      properties: { index, role },
    });
    const whole = feature(geometry as Geometry);
    if (geometry.type !== 'Polygon') return [whole];
    // An edge of its own: the map drops outlines without area, such as those that cross themselves.
    const rings = geometry.coordinates.map((ring) => ring.map((position) => [...position]));
    return [whole, feature({ type: 'MultiLineString', coordinates: rings })];
  });
  return { type: 'FeatureCollection', features };
}

function is(role: PreviewShape['role']): ExpressionSpecification {
  return ['==', ['get', 'role'], role];
}

const isPoint: ExpressionSpecification = ['==', ['geometry-type'], 'Point'];
const isLine: ExpressionSpecification = ['==', ['geometry-type'], 'LineString'];

function line(
  name: string,
  filter: ExpressionSpecification,
  paint: Record<string, unknown>,
): LayerSpecification {
  return {
    id: `${previewSource}-${name}`,
    type: 'line',
    source: previewSource,
    filter: ['all', isLine, filter] as FilterSpecification,
    layout: { 'line-join': 'round' },
    paint,
  };
}

/** Dashed in the colour of what to do next; what is left stays thin and grey. */
export const previewLayers: readonly LayerSpecification[] = [
  {
    id: `${previewSource}-fill`,
    type: 'fill',
    source: previewSource,
    filter: ['==', ['geometry-type'], 'Polygon'] as FilterSpecification,
    // What is left is filled too, so that a tap inside takes it.
    paint: {
      'fill-color': ['case', is('taken'), flag, ink],
      'fill-opacity': ['case', is('taken'), 0.1, 0.03],
      'fill-antialias': false,
    },
  },
  line('walked', is('walked'), { 'line-color': ink, 'line-width': 1, 'line-opacity': 0.7 }),
  line('casing', ['!', is('walked')] as unknown as ExpressionSpecification, {
    'line-color': paper,
    'line-width': 5,
    'line-opacity': 0.8,
  }),
  line('left', is('left'), { 'line-color': ink, 'line-width': 1.4, 'line-dasharray': [1, 2.5] }),
  line('taken', is('taken'), { 'line-color': flag, 'line-width': 2.6, 'line-dasharray': [4, 2] }),
  {
    id: `${previewSource}-point`,
    type: 'circle',
    source: previewSource,
    filter: isPoint as FilterSpecification,
    paint: {
      'circle-radius': 6,
      'circle-color': ['case', is('taken'), flag, paper],
      'circle-stroke-color': ['case', is('taken'), paper, ink],
      'circle-stroke-width': 2,
    },
  },
];

const tappable = previewLayers.map(({ id }) => id);

/** The shape of the drawing that a tap means; null where there is none. */
export function previewAt(
  map: Pick<MapLibreMap, 'queryRenderedFeatures' | 'project'>,
  { x, y }: { readonly x: number; readonly y: number },
): number | null {
  const found = map.queryRenderedFeatures(
    [
      [x - reachPixels, y - reachPixels],
      [x + reachPixels, y + reachPixels],
    ],
    { layers: tappable },
  );
  const candidates = found.map(({ geometry, properties }) => ({
    featureId: String(properties['index']),
    mark: markOf(geometry),
    order: 0,
    geometry,
  }));
  const hit = chooseHit(candidates, [x, y], (position) => {
    const at = map.project([position[0], position[1]]);
    return [at.x, at.y];
  });
  return hit === null ? null : Number(hit);
}

/** Points before lines before the smallest ground under the finger, as with what is drawn. */
function markOf({ type }: Geometry): string {
  return type.endsWith('Point') ? 'symbol' : type.endsWith('LineString') ? 'stroke' : 'fill';
}
