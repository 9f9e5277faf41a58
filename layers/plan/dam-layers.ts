import type { Feature, FeatureCollection } from 'geojson';
import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import { flag, ink, paper, waterRamp, waterText } from '../palette.ts';
import { boldFont, regularFont } from './mark-layers.ts';

type At = readonly [number, number];

/** What berms, heaps and fills do to the water, as the map shows it; the app writes the words. */
export interface DamShapes {
  readonly ponds: readonly {
    readonly polygons: readonly (readonly (readonly At[])[])[];
    readonly labelAt: At;
    /** "dams 0.66 ac, 14 in" */
    readonly label: string;
  }[];
  /** Ways of the water that is turned aside, downhill. */
  readonly turned: readonly (readonly At[])[];
  /** Where a gap would let it through. */
  readonly gaps: readonly { readonly at: At; readonly label: string }[];
}

export const damSource = 'dams';

export function damFeatures({ ponds, turned, gaps }: DamShapes): FeatureCollection {
  const features: Feature[] = [];
  for (const { polygons, labelAt, label } of ponds) {
    const geometry = {
      type: 'MultiPolygon',
      coordinates: polygons as unknown as number[][][][],
    } as const;
    features.push({ type: 'Feature', geometry, properties: { is: 'pond' } });
    features.push(point(labelAt, { is: 'pond-label', label }));
  }
  for (const line of turned) {
    if (line.length < 2) continue;
    const geometry = { type: 'LineString', coordinates: line.map((at) => [...at]) } as const;
    features.push({ type: 'Feature', geometry, properties: { is: 'turned' } });
  }
  for (const { at, label } of gaps) features.push(point(at, { is: 'gap', label }));
  return { type: 'FeatureCollection', features };
}

function point(at: At, properties: Record<string, string>): Feature {
  return { type: 'Feature', geometry: { type: 'Point', coordinates: [...at] }, properties };
}

const is = (name: string): ExpressionSpecification => ['==', ['get', 'is'], name];

/** A broken shore: brim full it would stand so, which the rain of the hour need not do. */
export const damLayers: readonly LayerSpecification[] = [
  {
    id: 'dams-pond',
    type: 'fill',
    source: damSource,
    filter: is('pond'),
    paint: { 'fill-color': waterRamp[2], 'fill-opacity': 0.4, 'fill-antialias': false },
  },
  {
    id: 'dams-casing',
    type: 'line',
    source: damSource,
    filter: is('pond'),
    layout: { 'line-join': 'round' },
    paint: { 'line-color': paper, 'line-width': 3.4, 'line-opacity': 0.8 },
  },
  {
    id: 'dams-shore',
    type: 'line',
    source: damSource,
    filter: is('pond'),
    layout: { 'line-join': 'round' },
    paint: { 'line-color': waterText, 'line-width': 1.6, 'line-dasharray': [3, 2] },
  },
];

/** Over the linework: the water is turned along the foot of what is drawn. */
export const damLineLayers: readonly LayerSpecification[] = [
  {
    id: 'dams-turned-casing',
    type: 'line',
    source: damSource,
    filter: is('turned'),
    layout: { 'line-join': 'round', 'line-cap': 'round' },
    paint: { 'line-color': paper, 'line-width': 5.4, 'line-opacity': 0.85 },
  },
  {
    id: 'dams-turned',
    type: 'line',
    source: damSource,
    filter: is('turned'),
    layout: { 'line-join': 'round' },
    paint: { 'line-color': waterText, 'line-width': 2.6, 'line-dasharray': [2.4, 1.2] },
  },
  {
    id: 'dams-turned-arrow',
    type: 'symbol',
    source: damSource,
    filter: is('turned'),
    layout: {
      'symbol-placement': 'line',
      'symbol-spacing': 70,
      'icon-image': 'flow-arrow',
      // The picture points up; along a line, right is on.
      'icon-rotate': 90,
      'icon-allow-overlap': true,
      'icon-ignore-placement': true,
    },
  },
  {
    id: 'dams-gap',
    type: 'circle',
    source: damSource,
    filter: is('gap'),
    paint: {
      'circle-radius': 6,
      'circle-color': paper,
      'circle-stroke-color': flag,
      'circle-stroke-width': 3,
    },
  },
];

export const damLabelLayers: readonly LayerSpecification[] = [
  label('dams-gap-label', 'gap', ink, boldFont, [
    ['left', [0.9, 0]],
    ['right', [-0.9, 0]],
    ['top', [0, 0.8]],
    ['bottom', [0, -0.8]],
  ]),
  label('dams-pond-label', 'pond-label', waterText, regularFont, [
    ['center', [0, 0]],
    ['top', [0, 0.6]],
    ['bottom', [0, -0.6]],
  ]),
];

function label(
  id: string,
  what: string,
  color: string,
  font: string[],
  anchors: readonly (readonly [string, readonly [number, number]])[],
): LayerSpecification {
  return {
    id,
    type: 'symbol',
    source: damSource,
    filter: is(what),
    layout: {
      'text-field': ['get', 'label'],
      'text-font': font,
      'text-size': 13,
      'text-variable-anchor-offset': anchors.flat() as never,
      'text-justify': 'auto',
      'text-padding': 1,
    },
    paint: {
      'text-color': color,
      'text-halo-color': paper,
      'text-halo-width': 1.7,
      'text-halo-blur': 0.4,
    },
  };
}
