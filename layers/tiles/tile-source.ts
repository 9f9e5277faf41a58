import type { Frame } from '../../geo/frame/crs-types.ts';
import type { Grid, GridPlace } from '../../geo/raster/grid.ts';

/**
 * What tiles are drawn from. Level 0 is the raster itself; every level after it has cells twice as
 * wide, each the average of the up to four cells with data under it.
 */
export interface TileSource {
  readonly ground: GroundTiles | null;
  readonly photo: PhotoTiles | null;
}

export type TileFrame = Pick<Frame, 'fromLngLat' | 'toLngLat'>;

export interface GroundTiles {
  readonly frame: TileFrame;
  /** Elevations, metres. */
  readonly heights: readonly Grid[];
  /**
   * Slope, rise over run, of levels 1 and up: averages of the slopes of level 0, never the slope of
   * averaged ground. Null while they are being made: near tiles are drawn without them.
   */
  readonly slopes: readonly Grid[] | null;
  readonly lowestMeters: number;
  readonly highestMeters: number;
  /** Contour steps are round in feet or in metres. */
  readonly units: 'us' | 'metric';
}

export interface PhotoTiles {
  readonly frame: TileFrame;
  readonly levels: readonly PhotoLevel[];
}

/** A picture in a projected frame: RGBA, row 0 north, alpha 0 is no data. */
export interface PhotoLevel extends Pick<
  GridPlace,
  'width' | 'height' | 'west' | 'north' | 'cellWidth' | 'cellHeight'
> {
  readonly pixels: Uint8ClampedArray;
}

/** Where a level lies: grids and photo levels alike. */
export type LevelPlace = Omit<PhotoLevel, 'pixels'>;
