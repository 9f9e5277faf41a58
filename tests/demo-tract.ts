import { HEIGHT, WIDTH, makeSurfaces } from '../fixtures/generator/terrain.ts';
import { polygonMask } from '../geo/raster/polygon-mask.ts';
import type { Grid } from '../geo/raster/grid.ts';
import type { Place } from '../fixtures/generator/layout.ts';
import { gridOf } from './terrain-grids.ts';

/** The demo's bare ground in its own local metres: x east from 0, y north from 0. */
export function demoTract(): Grid {
  const shape = { width: WIDTH, height: HEIGHT, west: 0, north: HEIGHT };
  return { ...gridOf(shape, () => 0), data: makeSurfaces().ground };
}

/** 1 on the cells of a tract whose centre lies in any of the polygons. */
export function maskOf(grid: Grid, polygons: readonly (readonly Place[])[]): Uint8Array {
  const mask = new Uint8Array(grid.data.length);
  for (const polygon of polygons) {
    const { count, row, start, end } = polygonMask(grid, [polygon]);
    for (let i = 0; i < count; i++) {
      mask.fill(1, row[i]! * grid.width + start[i]!, row[i]! * grid.width + end[i]!);
    }
  }
  return mask;
}
