import { openCrs } from '../../frame/open-frame.ts';
import type { GroundRecord } from '../../raster/ground-record.ts';
import type { PhotoRecord } from '../../raster/photo-record.ts';
import { MOST_CELLS } from '../geotiff/read-elevation.ts';

/** Most pixels of a photo that is held whole: 256 MB of RGBA. */
const MOST_PIXELS = 64 * 1024 * 1024;

export type RecordFound =
  | { readonly kind: 'ground'; readonly record: GroundRecord }
  | { readonly kind: 'photo'; readonly record: PhotoRecord };

/**
 * Why a record from a file cannot be used although its form is right: a size that does not fit into
 * memory, a coordinate system that does not open, a place off the earth. Null where it can. The
 * sentence goes on from the raster's name.
 */
export function recordFault(raster: RecordFound): string | null {
  const { place, proj, scaleX, scaleY, most } = placeOf(raster);
  const { width, height, west, north, cellWidth, cellHeight } = place;
  if (width * height > most) return `says it is ${width} × ${height} cells, more than fit.`;
  try {
    const crs = openCrs({ proj });
    for (const [column, row] of [
      [0, 0],
      [width, 0],
      [0, height],
      [width, height],
    ] as const) {
      crs.toLngLat((west + column * cellWidth) / scaleX, (north - row * cellHeight) / scaleY);
    }
    return null;
  } catch {
    // proj4 throws errors of several kinds for a definition that it does not understand.
    return 'lies in a coordinate system that cannot be read.';
  }
}

function placeOf(raster: RecordFound) {
  if (raster.kind === 'ground') {
    const { place } = raster.record;
    return { place, proj: place.frame.proj, scaleX: 1, scaleY: 1, most: MOST_CELLS };
  }
  const { plane } = raster.record;
  return {
    place: raster.record,
    proj: plane.proj,
    scaleX: plane.metersPerUnitEast,
    scaleY: plane.metersPerUnitNorth,
    most: MOST_PIXELS,
  };
}
