import { planeSlopeIn } from '../../geo/ground/plane-slope.ts';
import type { CellWindow } from '../../geo/raster/cell-window.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { boundsOfControl, type ControlGrid } from './control-grid.ts';
import type { GroundTiles } from './tile-source.ts';
import { cutWindow, type Window, type WindowBuffers } from './window.ts';

/** Cells beyond those under the tile that bilinear sampling and the window's rim ask for. */
const margin = 4;

/**
 * The window of slopes under a control grid: the slope of the same 3 to 5 m planes that the
 * answers count, so map and acres agree. Levels above 0 hold averages of it; level 0 is worked out
 * for the cells of just this tile, which saves a raster as large as the ground.
 */
export function slopeWindow(
  ground: GroundTiles,
  level: number,
  control: ControlGrid,
  buffers: WindowBuffers,
): Window | null {
  if (level > 0) {
    const kept = ground.slopes?.[level - 1];
    if (!kept) throw new RangeError(`Averages of slope for level ${level} are not there yet.`);
    return cutWindow(kept, control, buffers);
  }
  const grid = ground.heights[0];
  const cells = cellsUnder(grid, control);
  if (!cells) return null;
  return cutWindow({ ...placeOf(grid, cells), data: planeSlopeIn(grid, cells) }, control, buffers);
}

function cellsUnder(grid: Grid, control: ControlGrid): CellWindow | null {
  const { minX, minY, maxX, maxY } = boundsOfControl(control);
  const { west, north, cellWidth, cellHeight } = grid;
  const left = Math.max(0, Math.floor((minX - west) / cellWidth) - margin);
  const right = Math.min(grid.width, Math.ceil((maxX - west) / cellWidth) + margin);
  const top = Math.max(0, Math.floor((north - maxY) / cellHeight) - margin);
  const bottom = Math.min(grid.height, Math.ceil((north - minY) / cellHeight) + margin);
  if (left >= right || top >= bottom) return null;
  return { column: left, row: top, width: right - left, height: bottom - top };
}

function placeOf(grid: Grid, cells: CellWindow): Omit<Grid, 'data'> {
  return {
    ...grid,
    width: cells.width,
    height: cells.height,
    west: grid.west + cells.column * grid.cellWidth,
    north: grid.north - cells.row * grid.cellHeight,
  };
}
