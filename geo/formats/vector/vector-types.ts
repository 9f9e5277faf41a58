import type { Kind } from '../../plan/kinds.ts';
import type { OutlineFault } from '../../plan/outline-faults.ts';
import type { PlanGeometry } from '../../plan/feature.ts';
import type { Problem } from '../../result.ts';

/** Types of opening vector files: what the user may choose, and how an opening can end. */

export type VectorFormat = 'geojson' | 'kml' | 'gpx' | 'shapefile';

/** What the file calls it; decides what is suggested and how it may be cleaned. */
export type FeatureSort = 'shape' | 'waypoint' | 'route' | 'track';

/** What a file knows of each position of a point or line, in their order; NaN where it is silent. */
export interface PointData {
  readonly heights: Float64Array | null;
  /** GPX and KML say metres; a shapefile does not say. */
  readonly heightUnit: 'metre' | 'unknown';
  /** Milliseconds since 1970, UTC. */
  readonly timesMs: Float64Array | null;
  /** Horizontal dilution of precision, without unit. */
  readonly hdop: Float64Array | null;
}

export interface SuggestedKind {
  readonly kind: Kind;
  /** One short reason, for the preview. */
  readonly why: string;
}

/** One part of a feature of a file, placed; not yet in the plan. */
export interface VectorFeature {
  /** From 0, in the order of the files. */
  readonly index: number;
  /** Longitude and latitude in degrees, not rounded; rings closed. */
  readonly geometry: PlanGeometry;
  /** Plain text, never markup. */
  readonly name: string;
  readonly description: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  /** Folder path, shapefile name or GPX section. */
  readonly layer: string;
  readonly file: string;
  readonly sort: FeatureSort;
  /** Which part of a multi-part feature, from 0; null where there is only one. */
  readonly part: { readonly index: number; readonly of: number } | null;
  readonly pointData: PointData | null;
  readonly fault: OutlineFault | null;
  readonly suggested: SuggestedKind;
}

export interface VectorChoices {
  /** System of files that do not say it themselves. */
  readonly epsg?: number;
  /** Whether latitude and longitude are to be exchanged where they look exchanged. */
  readonly swapped?: boolean;
  /** Keeps columns that look like a person's (owner, mail, address, phone). */
  readonly keepPersonal?: boolean;
  /** Middle of the ground in use, longitude and latitude: tells swapped files apart. */
  readonly near?: readonly [number, number];
}

export interface DroppedColumn {
  readonly file: string;
  readonly column: string;
  /** In how many features it held something. */
  readonly values: number;
}

export interface OpenedVectors {
  readonly kind: 'opened';
  readonly formats: readonly VectorFormat[];
  readonly files: readonly string[];
  readonly features: readonly VectorFeature[];
  /** Systems of the files, each once. */
  readonly crsName: string;
  /** Plain sentences: what was done and left out on the way in. */
  readonly notes: readonly string[];
  /** Columns that look like a person's: left out, or kept where that was chosen. */
  readonly personalColumns: readonly DroppedColumn[];
}

export interface AskedVectors {
  readonly kind: 'ask';
  readonly question: 'crs' | 'swapped';
  /** One plain sentence: why it must be asked. */
  readonly why: string;
  readonly file: string;
}

export type VectorOpening =
  OpenedVectors | AskedVectors | { readonly kind: 'refused'; readonly problem: Problem };
