import type { PlanFeature } from '../../geo/plan/feature.ts';
import { ink } from '../palette.ts';
import type { DrawingChoices } from './feature-marks.ts';
import type { LabelMark, Mark, SymbolMark } from './marks.ts';
import { order, rank } from './mark-order.ts';

/** A stand: a plain seat, a tick the way it faces, its name. */
export function standMarks(feature: PlanFeature<'stand'>, choices: DrawingChoices): Mark[] {
  const { facingDegrees } = feature.properties;
  const marks: Mark[] = [];
  if (facingDegrees !== null) {
    marks.push(symbolAt(feature, 'facing', order.symbol, facingDegrees));
  }
  marks.push(symbolAt(feature, 'seat', order.symbol + 1));
  marks.push(besideLabel(feature, choices.caption, rank.stand, 15));
  return marks;
}

/** Points whose look depends on their kind only. */
export function pointMarks(feature: PlanFeature, { caption }: DrawingChoices): Mark[] {
  const symbols: Partial<Record<PlanFeature['kind'], string>> = {
    'access-point': 'access',
    outlet: 'outlet',
    'soil-sample': 'soil-sample',
    note: 'note',
  };
  const labelRank = feature.kind === 'access-point' ? rank.structure : rank.note;
  return [
    symbolAt(feature, symbols[feature.kind] ?? 'point', order.symbol),
    besideLabel(feature, caption, labelRank, 13),
  ];
}

export function symbolAt(
  feature: PlanFeature,
  symbol: string,
  place: number,
  bearingDegrees: number | null = null,
): SymbolMark {
  return { mark: 'symbol', geometry: feature.geometry, order: place, symbol, bearingDegrees };
}

export function besideLabel(
  feature: PlanFeature,
  caption: string,
  labelRank: number,
  sizePixels: number,
): LabelMark {
  return {
    mark: 'label',
    geometry: feature.geometry,
    order: 0,
    text: feature.name,
    caption,
    color: ink,
    sizePixels,
    beside: true,
    rank: labelRank,
  };
}
