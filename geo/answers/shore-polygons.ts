import { roundDegrees } from '../plan/feature.ts';
import type { CellWindow } from '../raster/cell-window.ts';
import { isoRings } from '../raster/iso-rings.ts';
import { ringPolygons } from '../raster/ring-polygons.ts';
import type { Work } from '../work.ts';
import type { LngLatPolygon } from './answers.ts';
import type { GroundInUse } from './definition.ts';

/** The cells of a box (left, top, right, bottom) of a ground and one more to every side. */
export function windowRound(
  { width, height }: GroundInUse['grid'],
  box: ArrayLike<number>,
): CellWindow {
  const column = Math.max(0, box[0]! - 1);
  const row = Math.max(0, box[1]! - 1);
  return {
    column,
    row,
    width: Math.min(width - 1, box[2]! + 1) - column + 1,
    height: Math.min(height - 1, box[3]! + 1) - row + 1,
  };
}

/**
 * Where the depth of water passes 0 between cell centres of a window of a ground. Depths row-major, row
 * 0 north, 0 or less is dry. Rings of [longitude, latitude], closed, rounded to 1e-9 degree.
 */
export function* shorePolygons(
  { grid, frame }: Pick<GroundInUse, 'grid' | 'frame'>,
  { column: left, row: top, width, height }: CellWindow,
  depth: Float64Array,
): Work<LngLatPolygon[]> {
  const toLngLat = ([column, row]: readonly [number, number]): [number, number] => {
    const [lng, lat] = frame.toLngLat(
      grid.west + (left + column + 0.5) * grid.cellWidth,
      grid.north - (top + row + 0.5) * grid.cellHeight,
    );
    return [roundDegrees(lng), roundDegrees(lat)];
  };
  return ringPolygons(yield* isoRings(depth, width, height, 0), -1).map((rings) =>
    rings.map((ring) => {
      const closed = ring.map(toLngLat);
      return [...closed, closed[0]!];
    }),
  );
}
