/** Types of coordinate systems and heights; no computation. */

export type LinearUnit = 'metre' | 'us-survey-foot' | 'international-foot';

export type HorizontalDatum = 'NAD83' | 'NAD83(2011)' | 'WGS84';

/** A horizontal coordinate system that Assart accepts (an allow-list: see `crs.ts`). */
export interface HorizontalCrs {
  /** EPSG code, or null where a definition without a code was recognised. */
  readonly epsg: number | null;
  readonly name: string;
  readonly kind: 'projected' | 'geographic' | 'web-mercator';
  readonly datum: HorizontalDatum;
  /** Unit of its coordinates. */
  readonly unit: LinearUnit | 'degree';
  /** PROJ string in the system's own unit, easting/northing or longitude/latitude order. */
  readonly proj: string;
}

export type VerticalDatum = 'NAVD88' | 'ellipsoid' | 'unknown';

/** What a raster or point file says of its heights; `unit: null` means it does not say. */
export interface VerticalReference {
  readonly unit: LinearUnit | null;
  readonly datum: VerticalDatum;
  /** EPSG code of the vertical system where one was given. */
  readonly epsg: number | null;
}

/**
 * The site frame: a projected plane in true-ish metres (UTM or state plane, never web mercator),
 * x east and y north. Plain data, so it can be stored and sent to a worker; `openFrame` gives the
 * functions.
 */
export interface FrameDefinition {
  readonly epsg: number | null;
  readonly name: string;
  readonly datum: HorizontalDatum;
  /** PROJ string with coordinates in metres. */
  readonly proj: string;
}

export interface Frame {
  readonly definition: FrameDefinition;
  /** Frame metres to [longitude, latitude] in degrees. Throws RangeError where not finite. */
  toLngLat(x: number, y: number): [number, number];
  /** Longitude and latitude in degrees to frame metres. Throws RangeError where not finite. */
  fromLngLat(lng: number, lat: number): [number, number];
  /**
   * True ground area of one square metre of the frame there (below 1 where the frame stretches),
   * and meridian convergence: degrees clockwise from true north to grid north. A true bearing is
   * the grid bearing plus the convergence.
   */
  distortionAt(
    x: number,
    y: number,
  ): { groundAreaPerFrameArea: number; convergenceDegrees: number };
}
