import type { Feature, FeatureCollection } from 'geojson';
import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { Position } from '../../geo/plan/feature.ts';
import { flag, ink, paper } from '../palette.ts';
import { localPlane } from './local-plane.ts';
import { besidePlace, boldFont } from './mark-layers.ts';

type Place = readonly [number, number];

/** Which ways a stand may not shoot, what it is too near to, and where stands could go. */
export interface StandShapes {
  /** Blocked bearings: short ticks side by side at the range, never an outline or a filled fan. */
  readonly blocked: readonly {
    readonly seat: Place;
    /** True, clockwise. */
    readonly fromDegrees: number;
    readonly toDegrees: number;
    readonly rangeMeters: number;
    readonly label: string;
  }[];
  /** To what is too near, or sits in the arc. */
  readonly lines: readonly { readonly line: readonly [Place, Place]; readonly label: string }[];
  /** Where a stand could go. */
  readonly places: readonly {
    readonly at: Place;
    readonly label: string;
    /** The one that was asked to be shown. */
    readonly isShown: boolean;
  }[];
}

export const standSource = 'stand-shots';

/** Ticks are so far apart and so long, in shares of the range. */
const APART = 0.035;
const LONG = 0.06;

export function standFeatures({ blocked, lines, places }: StandShapes): FeatureCollection {
  return {
    type: 'FeatureCollection',
    features: [
      ...blocked.flatMap(ticks),
      ...lines.flatMap(({ line: [from, to], label }) => [
        feature('LineString', [[...from], [...to]], { is: 'line' }),
        feature('Point', [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], { is: 'measure', label }),
      ]),
      ...places.map(({ at, label, isShown }) =>
        feature('Point', [...at], { is: 'place', label, isShown }),
      ),
    ],
  };
}

function ticks({
  seat,
  fromDegrees,
  toDegrees,
  rangeMeters,
  label,
}: StandShapes['blocked'][number]): Feature[] {
  // prettier-ignore
  const plane = localPlane([seat[0], seat[1]]);
  const at = (degrees: number, meters: number): Position => {
    const angle = (degrees * Math.PI) / 180;
    return plane.toPosition([Math.sin(angle) * meters, Math.cos(angle) * meters]);
  };
  const span = toDegrees - fromDegrees;
  const count = Math.max(1, Math.round((span * Math.PI) / 180 / APART));
  const made = Array.from({ length: count }, (_, i) => {
    const degrees = fromDegrees + ((i + 0.5) * span) / count;
    const line = [at(degrees, rangeMeters * (1 - LONG)), at(degrees, rangeMeters)];
    return feature('LineString', line, { is: 'tick' });
  });
  return [...made, feature('Point', at(fromDegrees + span / 2, rangeMeters * (1 + LONG)), { is: 'word', label })]; // prettier-ignore
}

function feature(type: 'LineString' | 'Point', coordinates: unknown, properties: object): Feature {
  return { type: 'Feature', geometry: { type, coordinates } as Feature['geometry'], properties };
}

const is = (...names: string[]): ExpressionSpecification => ['in', ['get', 'is'], ['literal', names]]; // prettier-ignore
const written = {
  'text-field': ['get', 'label'],
  'text-font': boldFont,
  'text-size': 13,
} satisfies Extract<LayerSpecification, { type: 'symbol' }>['layout'];
/** A name that is placed before them keeps its room: they go to the next side that is free. */
const besideOthers = {
  'text-justify': 'auto',
  'text-variable-anchor-offset': ['center', [0, 0], 'top', [0, 0.9], 'bottom', [0, -0.9], 'left', [1.2, 0], 'right', [-1.2, 0], 'top', [0, 2.2], 'bottom', [0, -2.2]], // prettier-ignore
} satisfies Extract<LayerSpecification, { type: 'symbol' }>['layout'];
const besidePlaces = {
  'text-justify': 'auto',
  'text-variable-anchor-offset': besidePlace,
} satisfies Extract<LayerSpecification, { type: 'symbol' }>['layout'];
const haloed = { 'text-color': ink, 'text-halo-color': paper, 'text-halo-width': 2 };

export const standLayers: readonly LayerSpecification[] = [
  {
    id: 'stand-tick-casing',
    type: 'line',
    source: standSource,
    filter: is('tick'),
    paint: { 'line-color': paper, 'line-width': 4.6, 'line-opacity': 0.8 },
  },
  {
    id: 'stand-ticks',
    type: 'line',
    source: standSource,
    filter: is('tick'),
    paint: { 'line-color': ink, 'line-width': 2.2 },
  },
  {
    id: 'stand-lines',
    type: 'line',
    source: standSource,
    filter: is('line'),
    paint: { 'line-color': flag, 'line-width': 1.8, 'line-dasharray': [4, 2] },
  },
  {
    id: 'stand-line-labels',
    type: 'symbol',
    source: standSource,
    filter: is('measure'),
    // Where there is no room the panel says it.
    layout: { ...written, ...besideOthers },
    paint: haloed,
  },
  {
    id: 'stand-words',
    type: 'symbol',
    source: standSource,
    filter: is('word'),
    layout: { ...written, ...besideOthers, 'text-max-width': 8 },
    paint: haloed,
  },
  {
    id: 'stand-places',
    type: 'symbol',
    source: standSource,
    filter: ['all', is('place'), ['!', ['get', 'isShown']]],
    layout: {
      ...written,
      ...besidePlaces,
      'icon-image': 'stand-place',
      'icon-allow-overlap': true,
      // Its square stays where its name has no room: the panel shows which is which.
      'text-optional': true,
    },
    paint: haloed,
  },
  {
    // Placed before the others, and named whatever lies there: it was asked for.
    id: 'stand-place-shown',
    type: 'symbol',
    source: standSource,
    filter: ['all', is('place'), ['get', 'isShown']],
    layout: {
      ...written,
      ...besidePlaces,
      'icon-image': 'stand-place-flag',
      'icon-size': 1.35,
      'icon-allow-overlap': true,
      'text-allow-overlap': true,
    },
    paint: { ...haloed, 'text-color': flag },
  },
];
