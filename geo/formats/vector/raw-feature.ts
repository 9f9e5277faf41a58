import type { HorizontalCrs } from '../../frame/crs-types.ts';
import type { Result } from '../../result.ts';
import type { FeatureSort, VectorFormat } from './vector-types.ts';

/** What the readers hand over: features as the file has them, in the file's own coordinates. */

export type XY = [number, number];

export interface RawPart {
  readonly type: 'Point' | 'LineString' | 'Polygon';
  /** A point: one list of one position; a line: one list; a polygon: its rings, the outer first. */
  readonly rings: XY[][];
  /** One per position of a point or line; NaN where unknown. */
  readonly heights?: readonly number[];
  readonly timesMs?: readonly number[];
  readonly hdop?: readonly number[];
}

export interface RawFeature {
  readonly name: string;
  readonly description: string;
  readonly attributes: readonly (readonly [string, string | number])[];
  readonly layer: string;
  readonly sort: FeatureSort;
  readonly parts: readonly RawPart[];
}

export interface RawLayer {
  readonly file: string;
  readonly format: VectorFormat;
  readonly crs: Result<HorizontalCrs>;
  /** The format fixes the system (GPX, KML): nobody can name another. */
  readonly isFixed: boolean;
  readonly heightUnit: 'metre' | 'unknown';
  readonly features: readonly RawFeature[];
  readonly notes: readonly string[];
}
