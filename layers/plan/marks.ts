import type { PlanGeometry } from '../../geo/plan/feature.ts';
import type { DashName } from './dashes.ts';

/**
 * What one feature looks like, as plain data: fills, patterns, strokes, symbols and labels with
 * their geometry. The map draws these through a few data-driven layers; paper can draw the same.
 * Larger `order` lies on top.
 */
export type Mark = FillMark | PatternMark | StrokeMark | SymbolMark | LabelMark | LineTextMark;

interface Base {
  readonly geometry: PlanGeometry;
  readonly order: number;
}

export interface FillMark extends Base {
  readonly mark: 'fill';
  readonly color: string;
  readonly opacity: number;
}

export interface PatternMark extends Base {
  readonly mark: 'pattern';
  /** Name of an image of `patterns.ts`. */
  readonly pattern: string;
}

export interface StrokeMark extends Base {
  readonly mark: 'stroke';
  readonly color: string;
  readonly widthPixels: number;
  /** Name of a pattern of `dashes.ts`; null is solid. */
  readonly dash: DashName | null;
  /** Paper under the line, on both sides, so that it reads on a photo; 0 is none. */
  readonly casingPixels: number;
}

export interface SymbolMark extends Base {
  readonly mark: 'symbol';
  /** Name of an image of `symbols.ts`. */
  readonly symbol: string;
  /** Degrees clockwise from true north; null stays upright on the screen. */
  readonly bearingDegrees: number | null;
}

export interface LabelMark extends Base {
  readonly mark: 'label';
  readonly text: string;
  /** Second line, lighter. */
  readonly caption: string;
  readonly color: string;
  readonly sizePixels: number;
  /** Beside a symbol the label keeps clear of it; elsewhere it is centred when it can be. */
  readonly beside: boolean;
  /** Lower is placed first when labels compete. */
  readonly rank: number;
  /** True: left out where there is no room for it, never put beside its place. */
  readonly isFixed?: boolean;
  /** Degrees clockwise that the text is turned; 0 or absent is level. */
  readonly turnDegrees?: number;
}

/** Text that runs along a line: once in its middle, or as a letter again and again. */
export interface LineTextMark extends Base {
  readonly mark: 'line-text';
  readonly text: string;
  readonly repeated: boolean;
  readonly color: string;
  readonly rank: number;
}
