import type { Feature, FeatureCollection } from 'geojson';
import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import { paper, waterRamp, waterText } from '../palette.ts';

/** Where water runs, as the map shows it. */
export interface FlowShapes {
  readonly lines: readonly {
    readonly line: readonly (readonly [number, number])[];
    readonly catchmentSquareMeters: readonly number[];
  }[];
  /** What drains into the low spot or place that is looked at, and where it runs over or lies. */
  readonly catchment: readonly (readonly (readonly (readonly [number, number])[])[])[];
  readonly ringAt: readonly [number, number] | null;
}

export const flowSource = 'flow';

/** Widths, in pixels, go up where the catchment has grown so far, square metres: ours. */
const widthSteps = [
  [0, 1],
  [8_000, 1.8],
  [20_000, 2.8],
  [60_000, 4],
  [200_000, 5.5],
] as const;

/** Pixels of a line through which so much ground drains. */
export function flowWidth(catchmentSquareMeters: number): number {
  return widthSteps.findLast(([from]) => catchmentSquareMeters >= from)?.[1] ?? widthSteps[0][1];
}

/** A line is cut where its width changes. */
export function flowFeatures({ lines, catchment, ringAt }: FlowShapes): FeatureCollection {
  const features: Feature[] = [];
  for (const { line, catchmentSquareMeters: drains } of lines) {
    for (let from = 0; from < line.length - 1;) {
      const width = flowWidth(drains[from]!);
      let to = from + 1;
      while (to < line.length - 1 && flowWidth(drains[to]!) === width) to++;
      features.push({
        type: 'Feature',
        geometry: {
          type: 'LineString',
          coordinates: line.slice(from, to + 1).map((at) => [...at]),
        },
        properties: { width },
      });
      from = to;
    }
  }
  if (catchment.length > 0) {
    features.push({
      type: 'Feature',
      geometry: { type: 'MultiPolygon', coordinates: catchment as unknown as number[][][][] },
      properties: {},
    });
  }
  if (ringAt) {
    features.push({
      type: 'Feature',
      geometry: { type: 'Point', coordinates: [...ringAt] },
      properties: {},
    });
  }
  return { type: 'FeatureCollection', features };
}

const is = (type: string): ExpressionSpecification => ['==', ['geometry-type'], type];

export const flowLayers: readonly LayerSpecification[] = [
  {
    id: 'flow-catchment',
    type: 'fill',
    source: flowSource,
    filter: ['in', ['geometry-type'], ['literal', ['Polygon', 'MultiPolygon']]],
    paint: { 'fill-color': waterRamp[1], 'fill-opacity': 0.38, 'fill-outline-color': waterText },
  },
  {
    id: 'flow-lines-casing',
    type: 'line',
    source: flowSource,
    filter: is('LineString'),
    layout: { 'line-join': 'round', 'line-cap': 'round' },
    paint: { 'line-color': paper, 'line-width': ['+', ['get', 'width'], 1.6], 'line-opacity': 0.7 },
  },
  {
    id: 'flow-lines',
    type: 'line',
    source: flowSource,
    filter: is('LineString'),
    layout: { 'line-join': 'round', 'line-cap': 'round' },
    paint: { 'line-color': waterRamp[4], 'line-width': ['get', 'width'] },
  },
];

/** Over all linework: a spill is often at a corner of what is drawn. */
export const flowSpillLayer: LayerSpecification = {
  id: 'flow-spill',
  type: 'circle',
  source: flowSource,
  filter: is('Point'),
  paint: {
    'circle-radius': 6,
    'circle-color': paper,
    'circle-stroke-color': waterText,
    'circle-stroke-width': 3,
  },
};
