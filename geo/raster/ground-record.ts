import type { VerticalReference } from '../frame/crs-types.ts';
import type { GridPlace } from './grid.ts';

/** Whether the surface was measured before or after the timber came off and the stumps came out. */
export type ClearingState = 'before-clearing' | 'after-clearing' | 'unknown';

/**
 * What is kept of a ground besides its numbers. `id` is the SHA-256 of the grid's bytes in hex, so
 * the same ground is stored once.
 */
export interface GroundRecord {
  readonly id: string;
  readonly name: string;
  readonly place: GridPlace;
  /** [west, south, east, north], degrees, of the grid's rim. */
  readonly bounds: readonly [number, number, number, number];
  /** Date flown or shot, `YYYY-MM-DD` or `YYYY`; null when nobody said. */
  readonly surveyedOn: string | null;
  readonly clearing: ClearingState;
  /** Root-mean-square error of the heights, metres; null when nobody said. */
  readonly verticalErrorMeters: number | null;
  /** What the file said of its heights; the grid itself is in metres. */
  readonly vertical: VerticalReference;
  /** What the file's own coordinate system was, for the reader's eyes. */
  readonly sourceCrsName: string;
  /** File names that went in, and how they were stored, for the reader's eyes. */
  readonly sourceFiles: readonly string[];
  /** Cell size in the file, metres on the ground; larger than the grid's own after resampling up. */
  readonly sourceCellMeters: number;
  /** What was done on the way in that touches the numbers: resampled, window cut, holes. */
  readonly notes: readonly string[];
}
