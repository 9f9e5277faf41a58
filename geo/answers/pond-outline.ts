import type { CellWindow } from '../raster/cell-window.ts';
import type { Work } from '../work.ts';
import type { LngLatPolygon } from './answers.ts';
import type { GroundInUse } from './definition.ts';
import { shorePolygons, windowRound } from './shore-polygons.ts';
import type { StormGroundInUse } from './storm-ground.ts';

/** Far enough under water level that a shoreline keeps clear of the cell's centre. */
const DRY = -1;

/**
 * Shorelines of the water that stands in one low spot, each pool at its own level. `spots` and the
 * basins' `levels` as in `pondTally`. Rings of [longitude, latitude], closed, rounded to 1e-9 degree.
 */
export function* pondOutline(
  ground: Pick<GroundInUse, 'grid' | 'frame'>,
  spots: Int32Array,
  prepared: StormGroundInUse,
  levels: Float64Array,
  spot: number,
): Work<LngLatPolygon[]> {
  const { grid } = ground;
  const window = windowRound(grid, prepared.boxes.subarray((spot - 1) * 4, spot * 4));
  const { column: left, row: top, width, height } = window;
  const depth = new Float64Array(width * height);
  const highest = highestLevel(spots, prepared, levels, spot, window, grid.width); // prettier-ignore
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const cell = (top + row) * grid.width + left + column;
      const z = prepared.z[cell]!;
      const level = spots[cell] === spot ? levels[prepared.labels[cell]!]! : -Infinity;
      const under = level - z;
      // Dry ground counts by the highest water, so that the shore runs where that meets the slope.
      depth[row * width + column] =
        under > 0 ? under : Math.max(DRY, Math.min(Number.isNaN(z) ? DRY : highest - z, -1e-9));
    }
  }
  return yield* shorePolygons(ground, window, depth);
}

function highestLevel(
  spots: Int32Array,
  { labels }: StormGroundInUse,
  levels: Float64Array,
  spot: number,
  { column: left, row: top, width, height }: CellWindow,
  gridWidth: number,
): number {
  let highest = -Infinity;
  for (let row = top; row < top + height; row++) {
    for (let cell = row * gridWidth + left; cell < row * gridWidth + left + width; cell++) {
      if (spots[cell] !== spot) continue;
      const level = levels[labels[cell]!]!;
      if (level > highest) highest = level;
    }
  }
  return highest;
}
