import { contourInterval } from '../../geo/raster/contour-interval.ts';
import { chooseLevel } from '../tiles/choose-level.ts';
import type { GroundTiles } from '../tiles/tile-source.ts';

/** Contours follow cells at least this wide, so that they do not scribble around survey noise. */
const contourCellPixels = 3;
const contourCellMeters = 3;

/**
 * Which heights contours are drawn from at a scale, and how far apart: the lines and their labels
 * choose alike. `metersPerPixel` is of a device pixel, `pixelScale` how many make one CSS pixel.
 */
export function contourChoice(
  ground: Pick<GroundTiles, 'heights' | 'units'>,
  metersPerPixel: number,
  pixelScale: number,
): { readonly level: number; readonly intervalMeters: number } {
  const cell = Math.max(metersPerPixel * contourCellPixels, contourCellMeters);
  return {
    level: chooseLevel(ground.heights, cell),
    intervalMeters: contourInterval(metersPerPixel * pixelScale, ground.units),
  };
}
