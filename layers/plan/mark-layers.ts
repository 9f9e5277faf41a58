import type {
  ExpressionSpecification,
  FilterSpecification,
  LayerSpecification,
  SymbolLayerSpecification,
} from 'maplibre-gl';
import { paper } from '../palette.ts';
import { dashes } from './dashes.ts';
import { rank } from './mark-order.ts';

/**
 * The few data-driven layers that draw every mark of `marks.ts` from one source. `ground` lies
 * under the low spots, `lines` over them; `text` holds the labels that give way to those of the low
 * spots, `names` those that do not.
 */
export interface MarkLayers {
  readonly ground: readonly LayerSpecification[];
  readonly lines: readonly LayerSpecification[];
  readonly text: readonly LayerSpecification[];
  readonly names: readonly LayerSpecification[];
}

/**
 * Fonts are drawn by the browser itself: no glyph server. The weight is read from the first name,
 * the letters come from the second; the page loads the family.
 */
export const regularFont = ['IBM Plex Sans Condensed Medium', 'IBM Plex Sans Condensed'];
export const boldFont = ['IBM Plex Sans Condensed SemiBold', 'IBM Plex Sans Condensed'];

export function markLayers(source: string): MarkLayers {
  return {
    ground: [
      {
        id: `${source}-fill`,
        source,
        type: 'fill',
        filter: isMark('fill'),
        layout: { 'fill-sort-key': ['get', 'order'] },
        paint: {
          'fill-color': ['get', 'color'],
          'fill-opacity': ['get', 'opacity'],
          'fill-antialias': false,
        },
      },
      {
        id: `${source}-pattern`,
        source,
        type: 'fill',
        filter: isMark('pattern'),
        layout: { 'fill-sort-key': ['get', 'order'] },
        paint: {
          'fill-pattern': ['get', 'pattern'],
          'fill-antialias': false,
        },
      },
    ],
    lines: [
      {
        id: `${source}-casing`,
        source,
        type: 'line',
        filter: ['all', isMark('stroke'), ['>', ['get', 'casingPixels'], 0]] as FilterSpecification,
        layout: {
          'line-sort-key': ['get', 'order'],
          'line-join': 'round',
        },
        paint: {
          'line-color': paper,
          'line-opacity': 0.8,
          'line-width': ['+', ['get', 'widthPixels'], ['*', 2, ['get', 'casingPixels']]],
        },
      },
      {
        id: `${source}-line`,
        source,
        type: 'line',
        filter: isMark('stroke'),
        layout: {
          'line-sort-key': ['get', 'order'],
          'line-join': 'miter',
        },
        paint: {
          'line-color': ['get', 'color'],
          'line-width': ['get', 'widthPixels'],
          'line-dasharray': dashByName,
        },
      },
    ],
    text: [
      lineText(`${source}-letters`, source, true),
      {
        id: `${source}-symbol`,
        source,
        type: 'symbol',
        filter: isMark('symbol'),
        layout: {
          'symbol-sort-key': ['get', 'order'],
          'icon-image': ['get', 'symbol'],
          'icon-allow-overlap': true,
          'icon-ignore-placement': true,
          'icon-rotate': ['coalesce', ['get', 'bearingDegrees'], 0],
          'icon-rotation-alignment': 'map',
        },
      },
      lineText(`${source}-along`, source, false),
      label(`${source}-label`, source, ['>=', ['get', 'rank'], rank.noGo]),
    ],
    names: [label(`${source}-name`, source, ['<', ['get', 'rank'], rank.noGo])],
  };
}

/** By name, because the map turns lists among a feature's properties into text. */
const dashByName = [
  'match',
  ['coalesce', ['get', 'dash'], ''],
  ...Object.entries(dashes).flatMap(([name, lengths]) => [name, ['literal', lengths]]),
  ['literal', [1, 0]],
] as unknown as ExpressionSpecification;

function isMark(name: string): ExpressionSpecification {
  return ['==', ['get', 'mark'], name];
}

const halo = {
  'text-color': ['get', 'color'] as ExpressionSpecification,
  'text-halo-color': paper,
  'text-halo-width': 1.7,
  'text-halo-blur': 0.4,
};

function lineText(id: string, source: string, repeated: boolean): SymbolLayerSpecification {
  return {
    id,
    source,
    type: 'symbol',
    filter: ['all', isMark('line-text'), ['==', ['get', 'repeated'], repeated]],
    layout: {
      'symbol-placement': repeated ? 'line' : 'line-center',
      ...(repeated ? { 'symbol-spacing': 90 } : {}),
      'symbol-sort-key': ['get', 'rank'],
      'text-field': ['get', 'text'],
      'text-font': repeated ? boldFont : regularFont,
      'text-size': repeated ? 12 : 13,
      'text-offset': repeated ? [0, 0] : [0, -0.95],
      'text-max-angle': 40,
      'text-keep-upright': true,
      ...(repeated
        ? {
            'text-allow-overlap': true,
            'text-ignore-placement': true,
          }
        : {}),
    },
    paint: halo,
  };
}

function label(
  id: string,
  source: string,
  which: ExpressionSpecification,
): SymbolLayerSpecification {
  return {
    id,
    source,
    type: 'symbol',
    filter: ['all', isMark('label'), which],
    layout: {
      'symbol-sort-key': ['get', 'rank'],
      'text-field': twoLines,
      'text-font': regularFont,
      'text-size': ['get', 'sizePixels'],
      'text-rotate': ['coalesce', ['get', 'turnDegrees'], 0],
      'text-line-height': 1.15,
      'text-max-width': 14,
      'text-padding': 1,
      'text-variable-anchor-offset': [
        'case',
        ['get', 'beside'],
        besideSymbol,
        ['coalesce', ['get', 'isFixed'], false],
        atPoint,
        aroundPoint,
      ],
      'text-justify': 'auto',
    },
    paint: halo,
  };
}

/** Offsets in ems: clear of a symbol of 20 pixels, or about the point itself. */
const besideSymbol: ExpressionSpecification = [
  'literal',
  // prettier-ignore
  ['left', [1, -0.1], 'top-left', [0.7, 0.7], 'bottom-left', [0.7, -0.7], 'right', [-1, -0.1], 'top', [0, 0.9], 'bottom', [0, -0.9], 'top-right', [-0.7, 0.7], 'bottom-right', [-0.7, -0.7]],
];
const atPoint: ExpressionSpecification = ['literal', ['center', [0, 0]]];
const aroundPoint: ExpressionSpecification = [
  'literal',
  ['center', [0, 0], 'top', [0, 0.6], 'bottom', [0, -0.6], 'left', [0.6, 0], 'right', [-0.6, 0]],
];

type Anchors = Extract<
  NonNullable<NonNullable<SymbolLayerSpecification['layout']>['text-variable-anchor-offset']>,
  readonly unknown[]
>;

/**
 * Beside a place of a line or a small square, wherever there is room for it; left out where there is
 * none. `eastOfPlace` and `westOfPlace` keep a label that stands near a side of the map from running
 * over it.
 */
export const eastOfPlace: Anchors = [
  'left', [0.9, 0], 'bottom-left', [0.6, -0.6], 'top-left', [0.6, 0.6], 'bottom-left', [0.6, -1.8], 'top-left', [0.6, 1.8],
]; // prettier-ignore
export const westOfPlace: Anchors = [
  'right', [-0.9, 0], 'bottom-right', [-0.6, -0.6], 'top-right', [-0.6, 0.6], 'bottom-right', [-0.6, -1.8], 'top-right', [-0.6, 1.8],
]; // prettier-ignore
export const besidePlace: Anchors = [
  'left', [0.9, 0], 'right', [-0.9, 0], 'bottom', [0, -0.8], 'top', [0, 0.8],
  'bottom-left', [0.6, -0.6], 'top-left', [0.6, 0.6], 'bottom-right', [-0.6, -0.6], 'top-right', [-0.6, 0.6],
]; // prettier-ignore

/** Name in semibold, caption below it in medium and a little smaller; either may be missing. */
const twoLines: ExpressionSpecification = [
  'case',
  ['==', ['get', 'caption'], ''],
  ['format', ['get', 'text'], { 'text-font': ['literal', boldFont] }],
  ['==', ['get', 'text'], ''],
  ['format', ['get', 'caption'], {}],
  [
    'format',
    ['get', 'text'],
    { 'text-font': ['literal', boldFont] },
    '\n',
    {},
    ['get', 'caption'],
    { 'font-scale': 0.9 },
  ],
];
