import type { CellWindow } from '../raster/cell-window.ts';
import type { Grid } from '../raster/grid.ts';
import { cellAt } from '../raster/sample.ts';

/** Who looks, from where, how far. */
export interface Lookout {
  /** Frame metres; the eye stands over the middle of the cell that holds them. */
  readonly x: number;
  readonly y: number;
  /** Of the eye over the ground of that cell, metres. */
  readonly eyeMeters: number;
  /** Cells whose centre lies farther are left out; Infinity for no end. */
  readonly radiusMeters: number;
  /**
   * Metres that stand opaque on each cell (berm, timber), as long as the grid; NaN counts as 0. It
   * hides what is beyond it, not what is in its own cell, and never the eye's own cell.
   */
  readonly screens?: Float32Array | null;
  /**
   * Share of the earth's curvature that counts: 0 (default) for none, 1 for light in straight
   * lines, 6/7 with the usual refraction. At 1 km it comes to 8 and 7 cm.
   */
  readonly earthCurve?: number;
}

/** A lookout on its grid, in cells. */
export interface Eye {
  readonly column: number;
  readonly row: number;
  /** Height of the eye, metres. */
  readonly height: number;
  readonly window: CellWindow;
  /** A cell at x, y metres away counts as this times x² + y² lower. */
  readonly dropPerSquareMeter: number;
  readonly screens: Float32Array | null;
}

const EARTH_RADIUS_METERS = 6_371_008.8;

/**
 * The eye's cell and the rectangle of cells that it can reach; null off the grid or over no data.
 * Throws RangeError for a height that is not finite, a radius that is not above 0 or screens of
 * another length than the grid.
 */
export function eyeOn(ground: Grid, lookout: Lookout): Eye | null {
  const { x, y, eyeMeters, radiusMeters, earthCurve = 0 } = lookout;
  const screens = lookout.screens ?? null;
  if (!Number.isFinite(eyeMeters)) throw new RangeError(`an eye ${eyeMeters} m up`);
  if (!(radiusMeters > 0)) throw new RangeError(`a radius of ${radiusMeters} m`);
  if (screens !== null && screens.length !== ground.data.length) {
    throw new RangeError(`screens for ${screens.length} of ${ground.data.length} cells`);
  }
  const cell = cellAt(ground, x, y);
  if (cell < 0 || Number.isNaN(ground.data[cell]!)) return null;
  const row = Math.floor(cell / ground.width);
  const column = cell - row * ground.width;
  const left = Math.max(0, column - Math.floor(radiusMeters / ground.cellWidth));
  const top = Math.max(0, row - Math.floor(radiusMeters / ground.cellHeight));
  const right = Math.min(ground.width - 1, column + Math.floor(radiusMeters / ground.cellWidth));
  const bottom = Math.min(ground.height - 1, row + Math.floor(radiusMeters / ground.cellHeight));
  return {
    column,
    row,
    height: ground.data[cell]! + eyeMeters,
    window: { column: left, row: top, width: right - left + 1, height: bottom - top + 1 },
    dropPerSquareMeter: earthCurve / (2 * EARTH_RADIUS_METERS),
    screens,
  };
}
