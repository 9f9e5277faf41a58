import type { LinearUnit } from '../frame/crs-types.ts';
import type { Affine } from '../raster/affine.ts';
import type { ClearingState, GroundRecord } from '../raster/ground-record.ts';
import type { Grid } from '../raster/grid.ts';
import type { Problem } from '../result.ts';
import type { Progress } from '../work.ts';
import type { PointColumns, PointPreview } from './point-columns.ts';

/** Types of opening a ground: what the user may choose, and how an opening can end. */

/** What the user has said of files that do not say it themselves. */
export interface GroundChoices {
  readonly epsg?: number;
  readonly verticalUnit?: LinearUnit;
  readonly surveyedOn?: string | null;
  readonly clearing?: ClearingState;
  readonly verticalErrorMeters?: number | null;
  /** Part of a large raster, in its own pixels. */
  readonly window?: PixelWindow;
  /** Point files only: which column is which, as the user corrected the guess. */
  readonly columns?: PointColumns;
  /** Point files only: cell size of the ground made of them; chosen from their spacing if not given. */
  readonly cellMeters?: number;
  /** Point files only: sides longer than this many median spacings are holes. */
  readonly longestSideInSpacings?: number;
}

export interface PixelWindow {
  readonly column: number;
  readonly row: number;
  readonly width: number;
  readonly height: number;
}

/** A small picture of a raster that is too large to open whole, for choosing a window. */
export interface Overview {
  readonly width: number;
  readonly height: number;
  /** RGBA, row 0 north. */
  readonly pixels: Uint8ClampedArray;
  readonly fullWidth: number;
  readonly fullHeight: number;
  readonly cellMeters: number;
}

/** What is known of a ground before it has its hash: all but the id. */
export type GroundDraft = Omit<GroundRecord, 'id'>;

export interface Asked {
  readonly kind: 'ask';
  readonly question: 'crs' | 'vertical-unit' | 'window';
  /** One plain sentence: why it must be asked. */
  readonly why: string;
  readonly overview?: Overview;
  readonly maxCells?: number;
  /** Point files: the first rows and the guess of the columns, to be corrected beside the question. */
  readonly points?: PointPreview;
}

/** How long reading talks to whoever runs it. */
export interface Reading {
  /** Awaited, so the caller may let other work in. */
  readonly onProgress?: (progress: Progress) => void | Promise<void>;
  readonly shouldStop?: () => boolean;
}

/** An encoded picture whose pixels the caller decodes (a browser does JPEG and PNG itself). */
export interface EncodedPhoto {
  readonly name: string;
  readonly mime: 'image/jpeg' | 'image/png';
  readonly bytes: Uint8Array;
  /** Pixel corners to coordinates of its system. */
  readonly affine: Affine;
}

export type OpenedGround =
  | { readonly kind: 'opened'; readonly grid: Grid; readonly draft: GroundDraft }
  | Asked
  | { readonly kind: 'refused'; readonly problem: Problem };

export function refused(problem: Problem): OpenedGround {
  return { kind: 'refused', problem };
}
