import { problem, ok, type Result } from '../result.ts';
import { crsFromEpsg } from './crs.ts';
import { openCrs } from './open-frame.ts';

/**
 * Longitude and latitude (degrees, of the system's own datum) of an easting and northing, both in
 * the unit of the coordinate system with that EPSG code; of a system in degrees, x is the longitude.
 * A problem where the code is not accepted or the pair lies nowhere in it.
 * Example: 500,000, 3,985,000 in 26918 is on the meridian 75° W.
 */
export function placeIn(epsg: number, x: number, y: number): Result<[number, number]> {
  const crs = crsFromEpsg(epsg);
  if (!crs.ok) return crs;
  try {
    const [lng, lat] = crs.value.kind === 'geographic' ? [x, y] : openCrs(crs.value).toLngLat(x, y);
    if (Math.abs(lng) <= 180 && Math.abs(lat) <= 90) return ok([lng, lat]);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
  }
  return problem(
    'place-off-system',
    `${x}, ${y} lies nowhere on the earth in ${crs.value.name}.`,
    'Check the numbers, easting first, and the system.',
  );
}
