import type { Feature, FeatureCollection } from 'geojson';
import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import { earth, flag, ink, paper } from '../palette.ts';
import { boldFont } from './mark-layers.ts';

/** Where debris is pushed, and how near to things a fire would be. */
export interface PushShapes {
  readonly pushes: readonly {
    readonly from: readonly [number, number];
    readonly to: readonly [number, number];
    /** Of the largest one. */
    readonly share: number;
  }[];
  readonly distances: readonly {
    readonly line: readonly (readonly [number, number])[];
    readonly label: string;
    readonly isShort: boolean;
  }[];
}

export const pushSource = 'push';

/** Pixels of the line of the largest push, and of a very small one. */
const WIDEST = 6;
const NARROWEST = 1.5;

export function pushFeatures({ pushes, distances }: PushShapes): FeatureCollection {
  const line = (
    coordinates: readonly (readonly [number, number])[],
    properties: object,
  ): Feature => {
    const copy = coordinates.map((at) => [...at]);
    return { type: 'Feature', geometry: { type: 'LineString', coordinates: copy }, properties };
  };
  const wide = (share: number) => NARROWEST + (WIDEST - NARROWEST) * Math.sqrt(share);
  return {
    type: 'FeatureCollection',
    features: [
      ...pushes.map(({ from, to, share }) => line([from, to], { is: 'push', width: wide(share) })),
      ...distances.map((one) => line(one.line, { is: one.isShort ? 'short' : 'far', label: one.label })), // prettier-ignore
    ],
  };
}

const is = (...names: string[]): ExpressionSpecification => ['in', ['get', 'is'], ['literal', names]]; // prettier-ignore

export const pushLayers: readonly LayerSpecification[] = [
  {
    id: 'push-casing',
    type: 'line',
    source: pushSource,
    filter: is('push'),
    layout: { 'line-cap': 'round' },
    paint: { 'line-color': paper, 'line-width': ['+', ['get', 'width'], 2.4], 'line-opacity': 0.8 },
  },
  {
    id: 'push-lines',
    type: 'line',
    source: pushSource,
    filter: is('push'),
    layout: { 'line-cap': 'round' },
    paint: { 'line-color': earth, 'line-width': ['get', 'width'] },
  },
  {
    id: 'push-arrows',
    type: 'symbol',
    source: pushSource,
    filter: is('push'),
    layout: {
      'symbol-placement': 'line-center',
      'icon-image': 'flow-arrow',
      'icon-rotate': 90,
      'icon-allow-overlap': true,
      'icon-ignore-placement': true,
    },
  },
  {
    id: 'burn-distances',
    type: 'line',
    source: pushSource,
    filter: is('short', 'far'),
    paint: {
      'line-color': ['case', ['==', ['get', 'is'], 'short'], flag, ink],
      'line-width': 1.8,
      'line-dasharray': [4, 2],
    },
  },
  {
    id: 'burn-distance-labels',
    type: 'symbol',
    source: pushSource,
    filter: is('short', 'far'),
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
