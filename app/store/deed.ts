import type { Position } from '../../geo/plan/feature.ts';

/** The calls of a deed as they are being written; kept while the page is open, until they are used. */
export interface DeedDraft {
  /** The property line that gets this shape; null makes a new one. */
  readonly of: string | null;
  /** The point of beginning. */
  readonly start: Position | null;
  readonly text: string;
  /** From true north to the deed's, east positive. */
  readonly northDegrees: number;
  /** How the last corner meets the first: a straight line, or the miss shared out. */
  readonly closes: 'straight' | 'balanced';
}

export const blankDeed: DeedDraft = {
  of: null,
  start: null,
  text: '',
  northDegrees: 0,
  closes: 'straight',
};
