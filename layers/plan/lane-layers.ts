import type { Feature, FeatureCollection } from 'geojson';
import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import { flag, ink, paper } from '../palette.ts';
import { placesApart } from './labels-apart.ts';
import { localPlane } from './local-plane.ts';
import { besidePlace, boldFont, eastOfPlace, westOfPlace } from './mark-layers.ts';

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
    features: [
      ...lanes.flatMap(({ line: way, is, exposed }) => [
        line(way, { is }),
        ...exposed.map((part) => line(part, { is: 'exposed' })),
      ]),
      ...labels(lanes),
    ],
  };
}

/** A point for each label where its lane has parted from the others; the best lane's goes first. */
function labels(lanes: readonly LaneShape[]): Feature[] {
  const from = lanes[0]?.line[0];
  if (!from) return [];
  const plane = localPlane([from[0], from[1]]);
  const firstBest = lanes.toSorted((a, b) => ranks[a.is] - ranks[b.is]);
  const lines = firstBest.map(({ line }) => line.map(([lng, lat]) => plane.toPlane([lng, lat])));
  const places = placesApart(lines);
  const xs = lines.flat().map(([x]) => x);
  const [west, east] = [Math.min(...xs), Math.max(...xs)];
  return firstBest.map(({ is, label }, i) => ({
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [...plane.toPosition(places[i]!)] },
    properties: { is: 'label', label, rank: ranks[is], side: sideOf(places[i]![0], west, east) },
  }));
}

/** In which third of the ways a label stands: in the outer ones its words go inwards. */
function sideOf(x: number, west: number, east: number): 'west' | 'middle' | 'east' {
  const share = (x - west) / Math.max(1e-9, east - west);
  if (share < 1 / 3) return 'west';
  return share > 2 / 3 ? 'east' : 'middle';
}

const inwards = [
  'match',
  ['get', 'side'],
  'west',
  ['literal', eastOfPlace],
  'east',
  ['literal', westOfPlace],
  ['literal', besidePlace],
] as unknown as ExpressionSpecification;

const ranks: Readonly<Record<LaneShape['is'], number>> = { best: 0, second: 1, out: 2 };

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
    filter: is('label'),
    // Where there is no room the panel says it.
    layout: {
      'symbol-sort-key': ['get', 'rank'],
      'text-variable-anchor-offset': inwards,
      'text-justify': 'auto',
      'text-field': ['get', 'label'],
      'text-font': boldFont,
      'text-size': 13,
    },
    paint: { 'text-color': ink, 'text-halo-color': paper, 'text-halo-width': 2 },
  },
];
