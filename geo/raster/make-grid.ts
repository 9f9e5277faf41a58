import type { Frame } from '../frame/crs-types.ts';
import type { Grid, GridPlace } from './grid.ts';

/** Where cells lie in a frame, before the frame has said what they measure on the ground. */
export interface GridShape {
  readonly width: number;
  readonly height: number;
  /** Frame metres: outer edges of column 0 and row 0, and size of a cell. */
  readonly west: number;
  readonly north: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
}

/**
 * A place in a frame with its true cell area and convergence, both taken at its centre.
 * Throws RangeError on a shape without cells or with coordinates that are not finite.
 */
export function makeGridPlace(shape: GridShape, frame: Frame): GridPlace {
  const { width, height, west, north, cellWidth, cellHeight } = shape;
  if (!Number.isInteger(width) || !Number.isInteger(height) || width < 1 || height < 1) {
    throw new RangeError(`grid of ${width} × ${height} cells`);
  }
  if (!(cellWidth > 0) || !(cellHeight > 0) || !Number.isFinite(west + north)) {
    throw new RangeError(`cells of ${cellWidth} × ${cellHeight} m at ${west}, ${north}`);
  }
  const at = frame.distortionAt(west + (width * cellWidth) / 2, north - (height * cellHeight) / 2);
  return {
    width,
    height,
    west,
    north,
    cellWidth,
    cellHeight,
    frame: frame.definition,
    cellGroundAreaSquareMeters: cellWidth * cellHeight * at.groundAreaPerFrameArea,
    convergenceDegrees: at.convergenceDegrees,
  };
}

/** A grid of heights in metres, row-major, row 0 north, NaN for no data; `data` is kept, not copied. */
export function makeGrid(shape: GridShape, data: Float32Array, frame: Frame): Grid {
  if (data.length !== shape.width * shape.height) {
    throw new RangeError(`${data.length} cells for a grid of ${shape.width} × ${shape.height}`);
  }
  return { ...makeGridPlace(shape, frame), data };
}
