import type { HorizontalCrs } from '../../frame/crs-types.ts';
import { distanceAndBearing } from '../../frame/geodesic.ts';
import { openCrs } from '../../frame/open-frame.ts';
import { affinePoint, type Affine } from '../../raster/affine.ts';

/**
 * Size of a cell on the ground at the raster's centre, metres: the root of the area that one step
 * along a row and one along a column span, both measured as geodesics. Null where the centre has
 * no place on the earth.
 */
export function groundCellMeters(
  crs: HorizontalCrs,
  affine: Affine,
  width: number,
  height: number,
): number | null {
  const points = openCrs(crs);
  const at = (column: number, row: number) => points.toLngLat(...affinePoint(affine, column, row));
  try {
    const middle = at(width / 2, height / 2);
    const east = distanceAndBearing(middle, at(width / 2 + 1, height / 2));
    const south = distanceAndBearing(middle, at(width / 2, height / 2 + 1));
    const angle = ((south.departureDegrees - east.departureDegrees) * Math.PI) / 180;
    const area = east.distanceMeters * south.distanceMeters * Math.abs(Math.sin(angle));
    return area > 0 ? Math.sqrt(area) : null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
