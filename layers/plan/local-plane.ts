import type { Position } from '../../geo/plan/feature.ts';

/**
 * A plane of metres around a point, x east and y north, for drawing to scale: berm bands, ticks,
 * heaps. Good to a few centimetres over a kilometre; lengths and areas of record come from
 * `geo/frame`, never from here.
 */
export interface LocalPlane {
  toPlane(position: Position): Point;
  toPosition(point: Point): Position;
}

export type Point = readonly [x: number, y: number];

/** GRS80, as WGS84 to a tenth of a millimetre. */
const equatorialRadiusMeters = 6378137;
const eccentricitySquared = 0.0066943800229;
const degree = Math.PI / 180;

export function localPlane([lng0, lat0]: Position): LocalPlane {
  const sin = Math.sin(lat0 * degree);
  const w = Math.sqrt(1 - eccentricitySquared * sin * sin);
  // Radii of curvature in the prime vertical and in the meridian.
  const east = (equatorialRadiusMeters / w) * Math.cos(lat0 * degree) * degree;
  const north = ((equatorialRadiusMeters * (1 - eccentricitySquared)) / (w * w * w)) * degree;
  return {
    toPlane: ([lng, lat]) => [(lng - lng0) * east, (lat - lat0) * north],
    toPosition: ([x, y]) => [lng0 + x / east, lat0 + y / north],
  };
}
