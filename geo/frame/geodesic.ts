import geodesy from 'geographiclib-geodesic';

/**
 * Lengths and areas of record: on the WGS84 ellipsoid, along geodesics, by Karney (2013),
 * "Algorithms for geodesics", J. Geodesy 87:43–55. Never from a sphere, which is up to 0.25 % off.
 * NAD83's ellipsoid differs from WGS84's by 1e-11 of an area, so one ellipsoid serves both.
 */
const EARTH = geodesy.Geodesic.WGS84;
const DISTANCE_AND_AZIMUTH = geodesy.Geodesic.DISTANCE | geodesy.Geodesic.AZIMUTH;

/** Longitude, latitude in degrees; further members (a height) are not read. */
export type LngLat = readonly [number, number, ...number[]];

export interface RingMeasure {
  readonly perimeterMeters: number;
  /** Positive when the ring runs counter-clockwise as seen from above. */
  readonly signedAreaSquareMeters: number;
}

export interface PolygonMeasure {
  /** Outer ring less its holes. */
  readonly areaSquareMeters: number;
  /** Round the outer ring only. */
  readonly perimeterMeters: number;
  /** Round all holes together. */
  readonly holesPerimeterMeters: number;
}

/**
 * Perimeter and signed area of one ring on the ellipsoid. The ring may repeat its first point at
 * the end or not. A ring that crosses itself gives the sum of its signed parts. Fewer than two
 * points give zero.
 * Throws RangeError for a coordinate that is not finite or a latitude beyond 90 degrees.
 */
export function measureRing(ring: readonly LngLat[]): RingMeasure {
  const walk = EARTH.Polygon(false);
  for (const point of ring) addPoint(walk, point);
  const { perimeter, area } = walk.Compute(false, true);
  return { perimeterMeters: perimeter, signedAreaSquareMeters: area ?? 0 };
}

/**
 * Area and perimeter of a polygon: first ring outside, the others holes, in any direction.
 * The 1-acre check square of handbook section 9 gives 4046.836965 m² and 254.459017 m.
 * Throws RangeError as `measureRing` does.
 */
export function measurePolygon(rings: readonly (readonly LngLat[])[]): PolygonMeasure {
  let areaSquareMeters = 0;
  let perimeterMeters = 0;
  let holesPerimeterMeters = 0;
  rings.forEach((ring, i) => {
    const measure = measureRing(ring);
    const area = Math.abs(measure.signedAreaSquareMeters);
    if (i === 0) {
      areaSquareMeters = area;
      perimeterMeters = measure.perimeterMeters;
    } else {
      areaSquareMeters -= area;
      holesPerimeterMeters += measure.perimeterMeters;
    }
  });
  return { areaSquareMeters, perimeterMeters, holesPerimeterMeters };
}

/** Length of an open line, metres. Fewer than two points give zero. Throws RangeError as above. */
export function lineLengthMeters(line: readonly LngLat[]): number {
  const walk = EARTH.Polygon(true);
  for (const point of line) addPoint(walk, point);
  return walk.Compute(false, true).perimeter;
}

/**
 * Distance between two points and the bearings of the geodesic there, degrees clockwise from true
 * north, 0 to 360. `arrivalDegrees` is the direction of travel on reaching `to`.
 * Throws RangeError as above.
 */
export function distanceAndBearing(
  from: LngLat,
  to: LngLat,
): { distanceMeters: number; departureDegrees: number; arrivalDegrees: number } {
  checkPoint(from);
  checkPoint(to);
  const line = EARTH.Inverse(from[1], from[0], to[1], to[0], DISTANCE_AND_AZIMUTH);
  return {
    distanceMeters: line.s12!,
    departureDegrees: bearing(line.azi1!),
    arrivalDegrees: bearing(line.azi2!),
  };
}

/**
 * The point that lies `distanceMeters` from `from` along the geodesic that leaves at
 * `departureDegrees` (clockwise from true north). Throws RangeError as above.
 */
export function pointAtBearing(
  from: LngLat,
  departureDegrees: number,
  distanceMeters: number,
): [number, number] {
  checkPoint(from);
  const end = EARTH.Direct(from[1], from[0], departureDegrees, distanceMeters);
  return [end.lon2!, end.lat2!];
}

function bearing(azimuthDegrees: number): number {
  const turned = azimuthDegrees < 0 ? azimuthDegrees + 360 : azimuthDegrees;
  return turned === 360 ? 0 : turned;
}

function addPoint(walk: ReturnType<typeof EARTH.Polygon>, point: LngLat): void {
  checkPoint(point);
  walk.AddPoint(point[1], point[0]);
}

// The library returns NaN quietly for such points, and a NaN area would reach the sheet.
function checkPoint(point: LngLat): void {
  if (!Number.isFinite(point[0]) || !(Math.abs(point[1]) <= 90)) {
    throw new RangeError(`not a longitude and latitude: ${point[0]}, ${point[1]}`);
  }
}
