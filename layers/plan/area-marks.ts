import { isKind, type PlanFeature, type PlanGeometry } from '../../geo/plan/feature.ts';
import { earth, ink, leaf, leafText } from '../palette.ts';
import type { DashName } from './dashes.ts';
import type { DrawingChoices } from './feature-marks.ts';
import { labelPoint } from './label-point.ts';
import { localPlane } from './local-plane.ts';
import type { LabelMark, Mark, StrokeMark } from './marks.ts';
import { order, rank } from './mark-order.ts';

export type AreaGeometry = Extract<PlanGeometry, { type: 'Polygon' }>;

/** Polygons whose look depends on their kind only. */
export function areaMarks(feature: PlanFeature, { caption }: DrawingChoices): Mark[] {
  const geometry = feature.geometry as AreaGeometry;
  const label = (place: number, color = ink, size = 13): LabelMark =>
    areaLabel(geometry, feature.name, caption, place, color, size);
  switch (feature.kind) {
    case 'plot':
      return [
        { mark: 'fill', geometry, order: order.plot, color: '#dcc79c', opacity: 0.42 },
        { mark: 'pattern', geometry, order: order.plot, pattern: 'plot-dots' },
        outline(geometry, order.plotOutline, leaf, 2.6, null, 1.8),
        label(rank.plot, leafText, 15),
      ];
    case 'clearing':
      return [outline(geometry, order.clearing, leaf, 1.6, 'clearing', 1), label(rank.timber)];
    case 'timber-block':
      return [
        { mark: 'pattern', geometry, order: order.timber, pattern: 'timber' },
        outline(geometry, order.timber, leafText, 1, 'timber', 0.6),
        label(rank.timber, leafText, 12),
      ];
    case 'bedding-area':
      return [
        { mark: 'fill', geometry, order: order.bedding, color: '#efe6cf', opacity: 0.35 },
        { mark: 'pattern', geometry, order: order.bedding, pattern: 'bedding' },
        outline(geometry, order.bedding, earth, 1.4, 'bedding', 1),
        label(rank.bedding),
      ];
    case 'no-go':
      return [
        { mark: 'pattern', geometry, order: order.noGo, pattern: 'no-go' },
        outline(geometry, order.noGo, ink, 1.2, null, 0.8),
        noGoLabel(feature, geometry, caption),
      ];
    case 'travel-corridor':
      return [
        { mark: 'pattern', geometry, order: order.corridor, pattern: 'corridor' },
        outline(geometry, order.corridor, ink, 1, 'corridor', 0.6),
        label(rank.bedding),
      ];
    case 'soil-area':
      return [outline(geometry, order.soil, earth, 0.9, 'soil', 0), label(rank.soil, earth, 11.5)];
    case 'property-line':
      return [
        outline(geometry, order.property, ink, 2, 'property', 1.4),
        {
          mark: 'line-text',
          order: order.property,
          rank: rank.line,
          color: ink,
          geometry: {
            type: 'LineString',
            coordinates: geometry.coordinates[0],
          },
          text: feature.name,
          repeated: false,
        },
      ];
    default:
      return [outline(geometry, order.structure, ink, 1.2, null, 1), label(rank.structure)];
  }
}

export function outline(
  geometry: PlanGeometry,
  place: number,
  color: string,
  widthPixels: number,
  dash: DashName | null,
  casingPixels: number,
): StrokeMark {
  return { mark: 'stroke', geometry, order: place, color, widthPixels, dash, casingPixels };
}

export function areaLabel(
  geometry: AreaGeometry,
  text: string,
  caption: string,
  place: number,
  color = ink,
  sizePixels = 13,
): LabelMark {
  const plane = localPlane(geometry.coordinates[0][0]);
  const at = labelPoint(geometry.coordinates.map((ring) => ring.map(plane.toPlane)));
  return {
    mark: 'label',
    geometry: {
      type: 'Point',
      coordinates: plane.toPosition(at),
    },
    order: 0,
    text,
    caption,
    color,
    sizePixels,
    beside: false,
    rank: place,
  };
}

const noGoReasons = {
  wetland: 'wetland',
  'stream-buffer': 'stream buffer',
  'flood-zone': 'flood zone',
  utility: 'utility',
  neighbour: 'neighbour',
  'cultural-site': 'cultural site',
  'protected-species': 'protected species',
  'too-steep': 'too steep',
  other: 'keep out',
} as const;

function noGoLabel(feature: PlanFeature, geometry: AreaGeometry, caption: string): LabelMark {
  const reason = isKind(feature, 'no-go') ? noGoReasons[feature.properties.reason] : '';
  return areaLabel(geometry, feature.name || reason, caption || `no go: ${reason}`, rank.noGo);
}
