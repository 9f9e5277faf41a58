import type { PlanFeature } from '../../geo/plan/feature.ts';
import { isKind } from '../../geo/plan/feature.ts';
import { flag } from '../palette.ts';
import { areaMarks } from './area-marks.ts';
import { bermMarks } from './berm-marks.ts';
import { heapMarks } from './heap-marks.ts';
import { lineMarks } from './line-marks.ts';
import type { Mark } from './marks.ts';
import { pointMarks, standMarks } from './point-marks.ts';
import { structureMarks } from './structure-marks.ts';

export interface DrawingChoices {
  readonly units: 'us' | 'metric';
  /** Second line of the label, worked out by the app: "3.11 ac"; empty for none. */
  readonly caption: string;
  /** Drawn in the flag colour. */
  readonly selected: boolean;
}

/** What a feature looks like on the plan. Hidden features look like nothing. */
export function featureMarks(feature: PlanFeature, choices: DrawingChoices): Mark[] {
  if (feature.hidden) return [];
  const marks = marksOf(feature, choices);
  return choices.selected ? marks.map(flagged) : marks;
}

function marksOf(feature: PlanFeature, choices: DrawingChoices): Mark[] {
  if (isKind(feature, 'berm')) return bermMarks(feature, choices);
  if (isKind(feature, 'heap')) return heapMarks(feature, choices);
  if (isKind(feature, 'stand')) return standMarks(feature, choices);
  if (isKind(feature, 'structure')) return structureMarks(feature, choices);
  const byType: Record<string, (f: PlanFeature, c: DrawingChoices) => Mark[]> = {
    Polygon: areaMarks,
    LineString: lineMarks,
    Point: pointMarks,
  };
  return byType[feature.geometry.type](feature, choices);
}

/** Selected: lines, symbols and text in the flag colour, a little heavier; grounds as they are. */
function flagged(mark: Mark): Mark {
  switch (mark.mark) {
    case 'fill':
    case 'pattern':
      return mark;
    case 'stroke':
      return {
        ...mark,
        color: flag,
        widthPixels: mark.widthPixels + 0.6,
        casingPixels: mark.casingPixels + 0.8,
      };
    case 'symbol':
      return { ...mark, symbol: `${mark.symbol}-flag` };
    case 'label':
      // Stations keep the order in which they give way to each other.
      return { ...mark, color: flag, rank: mark.isFixed ? mark.rank : 0 };
    case 'line-text':
      return { ...mark, color: flag, rank: 0 };
  }
}
