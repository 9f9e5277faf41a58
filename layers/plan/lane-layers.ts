import type { Feature, FeatureCollection } from 'geojson';
import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import { flag, ink, paper } from '../palette.ts';
import { boldFont } from './mark-layers.ts';

/** Ways in to a stand, as found and not yet drawn on the plan. */
export interface LaneShape {
  readonly line: readonly (readonly [number, number])[];
  readonly is: 'best' | 'second' | 'out';
  readonly label: string;
  /** Where scent gives the walk away. */
  readonly exposed: readonly (readonly (readonly [number, number])[])[];
}

export const laneSource = 'ways-in';

export function laneFeatures(lanes: readonly LaneShape[]): FeatureCollection {
  const line = (coordinates: LaneShape['line'], properties: object): Feature => ({
    type: 'Feature',
    geometry: { type: 'LineString', coordinates: coordinates.map((at) => [...at]) },
    properties,
  });
  return {
    type: 'FeatureCollection',
    features: lanes.flatMap(({ line: way, is, label, exposed }) => [
      line(way, { is, label }),
      ...exposed.map((part) => line(part, { is: 'exposed' })),
    ]),
  };
}

const is = (...names: string[]): ExpressionSpecification => ['in', ['get', 'is'], ['literal', names]]; // prettier-ignore

export const laneLayers: readonly LayerSpecification[] = [
  {
    id: 'ways-in-casing',
    type: 'line',
    source: laneSource,
    filter: is('best', 'second', 'out'),
    paint: { 'line-color': paper, 'line-width': 5.5, 'line-opacity': 0.8 },
  },
  {
    id: 'ways-in-exposed',
    type: 'line',
    source: laneSource,
    filter: is('exposed'),
    paint: { 'line-color': flag, 'line-width': 6, 'line-opacity': 0.55 },
  },
  {
    id: 'ways-in-best',
    type: 'line',
    source: laneSource,
    filter: is('best'),
    paint: { 'line-color': ink, 'line-width': 3, 'line-dasharray': [3, 1.6] },
  },
  {
    id: 'ways-in-other',
    type: 'line',
    source: laneSource,
    filter: is('second', 'out'),
    paint: { 'line-color': ink, 'line-width': 1.8, 'line-dasharray': [1.5, 2] },
  },
  {
    id: 'ways-in-labels',
    type: 'symbol',
    source: laneSource,
    filter: is('best', 'second', 'out'),
    layout: {
      'symbol-placement': 'line-center',
      'text-field': ['get', 'label'],
      'text-font': boldFont,
      'text-size': 13,
      'text-allow-overlap': true,
    },
    paint: { 'text-color': ink, 'text-halo-color': paper, 'text-halo-width': 2 },
  },
];
