import { fitPlane } from '../ground/plane-fit.ts';
import { wholeWindow } from '../raster/cell-window.ts';
import type { Grid } from '../raster/grid.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import type { SeatSlope } from './slope-flow.ts';

/** As far as slope air asks the ground round a seat; ours, no source. */
const RADIUS_METERS = 30;
const CORNERS = 48;

/**
 * The slope that air at a seat goes by: the best plane through the ground within some tens of metres
 * (m, frame coordinates), so that no rut or berm turns it. Bearing of the grid. Null off the ground
 * or where fewer than three cells have data. Throws RangeError for a place that is not finite.
 */
export function seatSlope(
  grid: Grid,
  x: number,
  y: number,
  radiusMeters = RADIUS_METERS,
): SeatSlope | null {
  const circle = Array.from({ length: CORNERS }, (_, i): [number, number] => {
    const angle = (2 * Math.PI * i) / CORNERS;
    return [x + radiusMeters * Math.cos(angle), y + radiusMeters * Math.sin(angle)];
  });
  const heights = { data: grid.data, window: wholeWindow(grid) };
  const plane = fitPlane(grid, heights, polygonCoverage(grid, [circle]));
  return plane && { grade: plane.slope, fallsTowardDegrees: plane.fallsTowardGridDegrees };
}
