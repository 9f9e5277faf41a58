import type { FrameDefinition } from '../frame/crs-types.ts';

/**
 * The one raster type of `geo/`: row-major, row 0 north, NaN is no data, in the site frame (metres).
 */
export interface Grid {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
  /** Frame x of the west edge of column 0, metres. */
  readonly west: number;
  /** Frame y of the north edge of row 0, metres. */
  readonly north: number;
  /** Metres in the frame, both positive. */
  readonly cellWidth: number;
  readonly cellHeight: number;
  readonly frame: FrameDefinition;
  /** True ground area of one cell at the grid's centre, square metres. */
  readonly cellGroundAreaSquareMeters: number;
  /** At the grid's centre: a true bearing is the grid bearing plus this, degrees. */
  readonly convergenceDegrees: number;
}

/** Where a grid lies, without its numbers. */
export type GridPlace = Omit<Grid, 'data'>;
