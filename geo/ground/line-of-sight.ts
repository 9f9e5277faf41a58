import type { Grid } from '../raster/grid.ts';

/** An eye over the ground; frame metres and a height of the grid's. */
export interface Eye {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/**
 * Whether the line from an eye to a place so high over the ground is free of it: the grid's heights
 * are looked at once a cell along the line, at the nearest cell's middle, and the cells of the eye
 * and of the place do not count. Ground without heights hides nothing; a place off the ground or
 * without a height is not seen. Curvature and refraction are left out: under 1 cm in 300 m.
 * Example: over level ground everything is seen; behind a wall higher than the line, nothing.
 */
export function isSeen(grid: Grid, eye: Eye, x: number, y: number, heightMeters: number): boolean {
  const ground = heightAt(grid, x, y);
  if (Number.isNaN(ground)) return false;
  const [dx, dy] = [x - eye.x, y - eye.y];
  const steps = Math.ceil(Math.hypot(dx, dy) / Math.min(grid.cellWidth, grid.cellHeight));
  const rise = ground + heightMeters - eye.z;
  for (let i = 1; i < steps; i++) {
    const share = i / steps;
    if (heightAt(grid, eye.x + share * dx, eye.y + share * dy) > eye.z + share * rise) return false;
  }
  return true;
}

/** NaN off the grid and without data. */
function heightAt(
  { west, north, cellWidth, cellHeight, width, height, data }: Grid,
  x: number,
  y: number,
): number {
  const column = Math.floor((x - west) / cellWidth);
  const row = Math.floor((north - y) / cellHeight);
  if (column < 0 || row < 0 || column >= width || row >= height) return NaN;
  return data[row * width + column]!;
}
