import type { Feature, FeatureCollection } from 'geojson';
import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import { waterDepthLimitsMeters } from '../legends.ts';
import { paper, waterRamp, waterText } from '../palette.ts';
import { boldFont } from './mark-layers.ts';

/** A low spot as the map shows it; the app writes the label in the user's units. */
export interface LowSpotShape {
  readonly id: string;
  /** Rings of [longitude, latitude]; a spot may be in several pieces. */
  readonly polygons: readonly (readonly (readonly (readonly [number, number])[])[])[];
  readonly maxDepthMeters: number;
  /** How long water stands: closer hatch for longer; 0 where that has not been worked out. */
  readonly hoursStanding: number;
  readonly labelAt: readonly [number, number];
  /** "P1 about 16 in" */
  readonly label: string;
}

export const lowSpotSource = 'low-spots';

/** Hatch closes at 24 and 48 hours, the limits for field crops (trade notes Q1). */
export function standingHatch(hours: number): 'water-1' | 'water-2' | 'water-3' {
  return hours > 48 ? 'water-3' : hours >= 24 ? 'water-2' : 'water-1';
}

export function lowSpotFeatures(spots: readonly LowSpotShape[]): FeatureCollection {
  const features = spots.flatMap((spot): Feature[] => [
    {
      type: 'Feature',
      geometry: { type: 'MultiPolygon', coordinates: spot.polygons as unknown as number[][][][] },
      properties: {
        id: spot.id,
        maxDepthMeters: spot.maxDepthMeters,
        hatch: standingHatch(spot.hoursStanding),
      },
    },
    {
      type: 'Feature',
      geometry: { type: 'Point', coordinates: [...spot.labelAt] },
      properties: { id: spot.id, label: spot.label, maxDepthMeters: spot.maxDepthMeters },
    },
  ]);
  return { type: 'FeatureCollection', features };
}

const byDepth = [
  'step',
  ['get', 'maxDepthMeters'],
  waterRamp[0],
  ...waterDepthLimitsMeters.flatMap((limit, k) => [limit, waterRamp[k + 1]]),
] as unknown as ExpressionSpecification;

const isArea: ExpressionSpecification = ['!=', ['geometry-type'], 'Point'];

export const lowSpotLayers: readonly LayerSpecification[] = [
  {
    id: 'low-spots-fill',
    type: 'fill',
    source: lowSpotSource,
    filter: isArea,
    paint: {
      'fill-color': byDepth,
      'fill-opacity': 0.66,
      'fill-antialias': false,
    },
  },
  {
    id: 'low-spots-hatch',
    type: 'fill',
    source: lowSpotSource,
    filter: isArea,
    paint: {
      'fill-pattern': ['get', 'hatch'],
      'fill-antialias': false,
    },
  },
  {
    id: 'low-spots-casing',
    type: 'line',
    source: lowSpotSource,
    filter: isArea,
    layout: { 'line-join': 'round' },
    paint: {
      'line-color': paper,
      'line-width': 3,
      'line-opacity': 0.75,
    },
  },
  {
    id: 'low-spots-shore',
    type: 'line',
    source: lowSpotSource,
    filter: isArea,
    layout: { 'line-join': 'round' },
    paint: {
      'line-color': waterRamp[4],
      'line-width': 1.3,
    },
  },
];

export const lowSpotLabelLayer: LayerSpecification = {
  id: 'low-spots-label',
  type: 'symbol',
  source: lowSpotSource,
  filter: ['==', ['geometry-type'], 'Point'],
  layout: {
    // The deepest takes its room first.
    'symbol-sort-key': ['-', 0, ['get', 'maxDepthMeters']],
    'text-field': ['get', 'label'],
    'text-font': boldFont,
    'text-size': 14,
    'text-variable-anchor-offset': [
      'center',
      [0, 0],
      'top',
      [0, 0.5],
      'bottom',
      [0, -0.5],
      'left',
      [0.6, 0],
      'right',
      [-0.6, 0],
      // Beside the name of a plot, which keeps its room: the deepest spot mostly lies in its middle.
      'top',
      [0, 1.6],
      'bottom',
      [0, -1.6],
      'top',
      [0, 2.8],
      'bottom',
      [0, -2.8],
    ] as never,
    'text-justify': 'auto',
    'text-padding': 1,
  },
  paint: {
    'text-color': waterText,
    'text-halo-color': paper,
    'text-halo-width': 1.7,
    'text-halo-blur': 0.4,
  },
};
