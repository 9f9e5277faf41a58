import { isoRings } from '../raster/iso-rings.ts';
import { ringPolygons } from '../raster/ring-polygons.ts';
import type { Work } from '../work.ts';
import type { LngLatPolygon } from './answers.ts';
import type { GroundInUse } from './definition.ts';

/** Rings round some cells of a ground, half a cell out: longitude and latitude, rounded to 1e-7. */
export function* cellOutline(
  { grid, frame }: Pick<GroundInUse, 'grid' | 'frame'>,
  cells: Int32Array,
): Work<LngLatPolygon[]> {
  let [left, top, right, bottom] = [grid.width, grid.height, -1, -1];
  for (const cell of cells) {
    const row = Math.floor(cell / grid.width);
    const column = cell - row * grid.width;
    left = Math.min(left, column);
    right = Math.max(right, column);
    top = Math.min(top, row);
    bottom = Math.max(bottom, row);
  }
  if (right < left) return [];
  const width = right - left + 1;
  const field = new Uint8Array(width * (bottom - top + 1));
  for (const cell of cells) {
    const row = Math.floor(cell / grid.width);
    field[(row - top) * width + cell - row * grid.width - left] = 1;
  }
  const rings = yield* isoRings(field, width, bottom - top + 1, 0.5);
  const toLngLat = ([column, row]: readonly [number, number]): [number, number] => {
    const [lng, lat] = frame.toLngLat(
      grid.west + (left + column + 0.5) * grid.cellWidth,
      grid.north - (top + row + 0.5) * grid.cellHeight,
    );
    return [Math.round(lng * 1e7) / 1e7, Math.round(lat * 1e7) / 1e7];
  };
  return ringPolygons(rings, -1).map((polygon) =>
    polygon.map((ring) => {
      const closed = ring.map(toLngLat);
      return [...closed, closed[0]!];
    }),
  );
}
