import { openCrs } from '../../geo/frame/open-frame.ts';
import type { PhotoRecord } from '../../geo/raster/photo-record.ts';

/** From degrees to the photo's plane and back. */
export function openPhotoPlane({ plane }: Pick<PhotoRecord, 'plane'>): {
  fromLngLat(lng: number, lat: number): [number, number];
  toLngLat(x: number, y: number): [number, number];
} {
  const { metersPerUnitEast, metersPerUnitNorth } = plane;
  const points = openCrs(plane);
  return {
    fromLngLat(lng, lat) {
      const [x, y] = points.fromLngLat(lng, lat);
      return [x * metersPerUnitEast, y * metersPerUnitNorth];
    },
    toLngLat: (x, y) => points.toLngLat(x / metersPerUnitEast, y / metersPerUnitNorth),
  };
}
