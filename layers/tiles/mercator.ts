import type { TileAddress } from './tile-kind.ts';

/**
 * Web mercator as slippy-map tiles use it (spherical formula on geodetic latitude, EPSG:3857),
 * in world pixels: x right from 180° W, y down from 85.05° N.
 */

/** WGS84 and GRS80 equatorial radius, metres: the sphere of EPSG:3857. */
export const mercatorRadiusMeters = 6378137;

const degree = Math.PI / 180;

/** Edge of the whole world in pixels of the tile's zoom. */
export function worldSizePixels(tile: TileAddress): number {
  return tile.size * 2 ** tile.z;
}

/** World x, in shares of the world's edge, 0 to 1, to longitude in degrees. */
export function longitudeOf(worldX: number): number {
  return worldX * 360 - 180;
}

/** World y, in shares of the world's edge, 0 to 1 from the north, to latitude in degrees. */
export function latitudeOf(worldY: number): number {
  return Math.atan(Math.sinh(Math.PI * (1 - 2 * worldY))) / degree;
}

export function worldXOf(longitude: number): number {
  return (longitude + 180) / 360;
}

export function worldYOf(latitude: number): number {
  return (1 - Math.asinh(Math.tan(latitude * degree)) / Math.PI) / 2;
}

/** Metres on the ground across one pixel at that latitude (0.597 at the equator, z 18, 256 px). */
export function metersPerPixel(latitude: number, z: number, size: number): number {
  return (2 * Math.PI * mercatorRadiusMeters * Math.cos(latitude * degree)) / (size * 2 ** z);
}
