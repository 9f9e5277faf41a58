import { slopeHorn } from '../../geo/ground/slope.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { finish } from '../../geo/work.ts';
import { boundsOfControl, type ControlGrid } from './control-grid.ts';
import type { GroundTiles } from './tile-source.ts';
import { cutWindow, type Window, type WindowBuffers } from './window.ts';

/** Cells beyond those under the tile: the outermost ones have a slope from an incomplete window. */
const margin = 4;

/**
 * The window of slopes under a control grid. Levels above 0 hold averages of slopes; level 0, where
 * it is not kept, is worked out from the heights of just this tile.
 */
export function slopeWindow(
  ground: GroundTiles,
  level: number,
  control: ControlGrid,
  buffers: WindowBuffers,
): Window | null {
  const kept = ground.slopes[level];
  if (kept) return cutWindow(kept, control, buffers);
  if (level > 0) throw new RangeError(`Slopes of level ${level} must be kept: they are averages.`);
  const part = cutGrid(ground.heights[level], control);
  if (!part) return null;
  const data = finish(slopeHorn(part, { edges: 'extended' }));
  return cutWindow({ ...part, data }, control, buffers);
}

function cutGrid(grid: Grid, control: ControlGrid): Grid | null {
  const { minX, minY, maxX, maxY } = boundsOfControl(control);
  const { west, north, cellWidth, cellHeight } = grid;
  const c0 = Math.max(0, Math.floor((minX - west) / cellWidth) - margin);
  const c1 = Math.min(grid.width, Math.ceil((maxX - west) / cellWidth) + margin);
  const r0 = Math.max(0, Math.floor((north - maxY) / cellHeight) - margin);
  const r1 = Math.min(grid.height, Math.ceil((north - minY) / cellHeight) + margin);
  const width = c1 - c0;
  const height = r1 - r0;
  if (width <= 0 || height <= 0) return null;
  const data = new Float32Array(width * height);
  for (let r = 0; r < height; r++) {
    const from = (r0 + r) * grid.width + c0;
    data.set(grid.data.subarray(from, from + width), r * width);
  }
  return {
    ...grid,
    data,
    width,
    height,
    west: west + c0 * cellWidth,
    north: north - r0 * cellHeight,
  };
}
