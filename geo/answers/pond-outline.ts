import { isoRings } from '../raster/iso-rings.ts';
import { ringPolygons } from '../raster/ring-polygons.ts';
import type { Work } from '../work.ts';
import type { LngLatPolygon } from './answers.ts';
import type { GroundInUse } from './definition.ts';
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
  const { grid, frame } = ground;
  const box = prepared.boxes.subarray((spot - 1) * 4, spot * 4);
  const left = Math.max(0, box[0]! - 1);
  const top = Math.max(0, box[1]! - 1);
  const width = Math.min(grid.width - 1, box[2]! + 1) - left + 1;
  const height = Math.min(grid.height - 1, box[3]! + 1) - top + 1;
  const depth = new Float64Array(width * height);
  const highest = highestLevel(spots, prepared, levels, spot, { left, top, width, height }, grid.width); // prettier-ignore
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
  const toLngLat = ([column, row]: readonly [number, number]): [number, number] => {
    const [lng, lat] = frame.toLngLat(
      grid.west + (left + column + 0.5) * grid.cellWidth,
      grid.north - (top + row + 0.5) * grid.cellHeight,
    );
    return [Math.round(lng * 1e9) / 1e9, Math.round(lat * 1e9) / 1e9];
  };
  return ringPolygons(yield* isoRings(depth, width, height, 0), -1).map((rings) =>
    rings.map((ring) => {
      const closed = ring.map(toLngLat);
      return [...closed, closed[0]!];
    }),
  );
}

interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

function highestLevel(
  spots: Int32Array,
  { labels }: StormGroundInUse,
  levels: Float64Array,
  spot: number,
  { left, top, width, height }: Box,
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
