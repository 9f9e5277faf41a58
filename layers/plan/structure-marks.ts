import type { PlanFeature, PlanGeometry } from '../../geo/plan/feature.ts';
import { ink, paper, waterRamp, waterText } from '../palette.ts';
import { areaLabel, outline, type AreaGeometry } from './area-marks.ts';
import type { DrawingChoices } from './feature-marks.ts';
import { along } from './line-marks.ts';
import type { Mark } from './marks.ts';
import { order, rank } from './mark-order.ts';
import { besideLabel, symbolAt } from './point-marks.ts';

/** Buildings and wells, roads and tracks, streams: what was there before the job. */
export function structureMarks(
  feature: PlanFeature<'structure'>,
  { caption }: DrawingChoices,
): Mark[] {
  const { geometry, properties, name } = feature;
  if (geometry.type === 'Point') {
    const symbol = properties.use === 'well' ? 'well' : 'building';
    return [
      symbolAt(feature, symbol, order.symbol),
      besideLabel(feature, caption, rank.structure, 13),
    ];
  }
  if (geometry.type === 'Polygon') {
    const isWater = properties.use === 'stream';
    return [
      isWater
        ? { mark: 'fill', geometry, order: order.stream, color: waterRamp[2], opacity: 0.8 }
        : { mark: 'fill', geometry, order: order.structure, color: ink, opacity: 0.75 },
      outline(geometry, order.structure, isWater ? waterRamp[4] : ink, 1.4, null, 1.2),
      areaLabel(geometry as AreaGeometry, name, caption, rank.structure),
    ];
  }
  const line = geometry as Extract<PlanGeometry, { type: 'LineString' }>;
  const words = [name, caption].filter(Boolean).join(' · ');
  switch (properties.use) {
    case 'stream':
      return [
        outline(line, order.stream, waterRamp[4], 2.2, null, 0.6),
        along(line, words, order.stream, waterText, rank.line),
      ];
    case 'road':
      return [
        outline(line, order.track, ink, 6, null, 0.8),
        outline(line, order.track + 0.5, paper, 3.6, null, 0),
        along(line, words, order.track, ink, rank.line),
      ];
    case 'track':
      return [
        outline(line, order.track, '#e8ddc0', 4.4, null, 0),
        outline(line, order.track + 0.5, ink, 1.1, 'track', 0),
        along(line, words, order.track, ink, rank.line),
      ];
    default:
      return [
        outline(line, order.structure, ink, 1.4, null, 1),
        along(line, words, order.structure, ink, rank.line),
      ];
  }
}
