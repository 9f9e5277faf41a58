import proj4 from 'proj4';
import { systemByCode, systemByProjection } from './crs-table.ts';
import { inUnit, projString, utmProjection } from './projection.ts';
import { datumOf, figureOf } from './realisation.ts';
import type { Frame, FrameDefinition, HorizontalCrs, HorizontalDatum } from './crs-types.ts';
import type { Realisation } from './realisation.ts';

/** A coordinate system opened for use: its own coordinates to degrees and back. */
export interface OpenCrs {
  /** Coordinates in the system's unit to [longitude, latitude]. RangeError where not finite. */
  toLngLat(x: number, y: number): [number, number];
  fromLngLat(lng: number, lat: number): [number, number];
}

const RADIANS = Math.PI / 180;
const SEMI_MAJOR_METERS = 6_378_137;
/** First eccentricity squared of GRS80 and of WGS84. */
const ECCENTRICITY_SQUARED: Readonly<Record<HorizontalDatum, number>> = {
  NAD83: eccentricitySquared(298.257222101),
  'NAD83(2011)': eccentricitySquared(298.257222101),
  WGS84: eccentricitySquared(298.257223563),
};

/**
 * Half the step for differences, radians (64 m on the ground). Coordinates are good to 1e-9 m, so
 * the difference loses 1e-11, and the projection's third derivative 2e-11: the step where both meet.
 */
const HALF_STEP = 1e-5;

/**
 * Opens any system that `crs.ts` accepted. Nothing is shifted between datums: degrees go in and out
 * on the system's own datum, because NAD83 and WGS84 are taken as one.
 * Throws RangeError where a coordinate does not come out finite.
 */
export function openCrs(crs: Pick<HorizontalCrs, 'proj'>): OpenCrs {
  const figure = crs.proj.match(/\+(datum|ellps|a|b|rf|nadgrids)=\S+/g)?.join(' ') ?? '';
  // A sphere stands in web mercator's string, but its latitudes are the ellipsoid's.
  const degrees = figure.includes('nadgrids') ? '+datum=WGS84' : figure;
  const converter = proj4(`+proj=longlat ${degrees} +no_defs`, crs.proj);
  return {
    toLngLat(x, y) {
      checkFinite(x, y, x, y);
      const [lng, lat] = converter.inverse([x, y]) as [number, number];
      checkFinite(lng, lat, x, y);
      return [lng, lat];
    },
    fromLngLat(lng, lat) {
      checkFinite(lng, lat, lng, lat);
      const [x, y] = converter.forward([lng, lat]) as [number, number];
      checkFinite(x, y, lng, lat);
      return [x, y];
    },
  };
}

/**
 * Opens a site frame. `distortionAt` is worked out from differences of the projection itself
 * against the ellipsoid's radii of curvature (Snyder, "Map Projections: A Working Manual", USGS
 * PP 1395, eq. 4-10 to 4-20), good to about 1e-9. In UTM on its central meridian the ground area of
 * a frame square metre is 1 / 0.9996². Convergence turns every bearing alike only where the
 * projection keeps angles (all but the Albers systems, which stretch one way and shrink the other).
 */
export function openFrame(definition: FrameDefinition): Frame {
  const { toLngLat, fromLngLat } = openCrs(definition);
  const e2 = ECCENTRICITY_SQUARED[definition.datum];
  return {
    definition,
    toLngLat,
    fromLngLat,
    distortionAt(x, y) {
      const [lng, lat] = toLngLat(x, y);
      const step = HALF_STEP / RADIANS;
      const east = fromLngLat(lng + step, lat);
      const west = fromLngLat(lng - step, lat);
      const north = fromLngLat(lng, lat + step);
      const south = fromLngLat(lng, lat - step);
      const sine = Math.sin(lat * RADIANS);
      const w2 = 1 - e2 * sine * sine;
      const primeVertical = SEMI_MAJOR_METERS / Math.sqrt(w2);
      const metersEast = 2 * HALF_STEP * primeVertical * Math.cos(lat * RADIANS);
      const metersNorth = 2 * HALF_STEP * ((primeVertical * (1 - e2)) / w2);
      const dxEast = (east[0] - west[0]) / metersEast;
      const dyEast = (east[1] - west[1]) / metersEast;
      const dxNorth = (north[0] - south[0]) / metersNorth;
      const dyNorth = (north[1] - south[1]) / metersNorth;
      return {
        groundAreaPerFrameArea: 1 / (dxEast * dyNorth - dxNorth * dyEast),
        // True north runs (dxNorth, dyNorth) in the grid; grid north is the turn back from it.
        convergenceDegrees: 0 - Math.atan2(dxNorth, dyNorth) / RADIANS,
      };
    },
  };
}

/**
 * The frame in which ground of a given system is kept, near a place: a projected metric system
 * stays; a projection in feet becomes the same projection in metres, false origin unmoved, so that
 * frame metres are file feet times the foot; longitude and latitude and web mercator give the UTM
 * zone of that place, on NAD83 where the file is and a zone exists, else on WGS84.
 * `epsg` is the code of the metric twin where there is one: its false origin may be rounded up to
 * 0.3 mm differently from the foot system's.
 * Throws RangeError for a place that is not on the earth.
 */
export function frameFor(crs: HorizontalCrs, lng: number, lat: number): FrameDefinition {
  if (!Number.isFinite(lng) || !(Math.abs(lat) <= 90)) {
    throw new RangeError(`not a longitude and latitude: ${lng}, ${lat}`);
  }
  if (crs.kind !== 'projected') return utmFrame(crs.datum, lng, lat);
  const { epsg, name, datum, proj } = crs;
  if (crs.unit === 'metre') return { epsg, name, datum, proj };
  const system = epsg === null ? null : systemByCode(epsg);
  const twin =
    system &&
    systemByProjection(system.realisation, inUnit(system.projection, 'metre'), system.title);
  return {
    epsg: twin?.epsg ?? null,
    name: `${name}, in metres`,
    datum,
    proj: proj.replace(/\+units=\S+/, '+units=m'),
  };
}

function utmFrame(datum: HorizontalDatum, lng: number, lat: number): FrameDefinition {
  const turned = ((((lng + 180) % 360) + 360) % 360) / 6;
  const projection = utmProjection(Math.min(60, Math.floor(turned) + 1), lat < 0);
  const candidates: Realisation[] = datum === 'WGS84' ? ['WGS 84'] : [datum, 'NAD83', 'WGS 84'];
  for (const realisation of candidates) {
    const system = systemByProjection(realisation, projection);
    if (!system) continue;
    const proj = projString(system.projection, figureOf(realisation));
    return { epsg: system.epsg, name: system.name, datum: datumOf(realisation), proj };
  }
  throw new RangeError(`no UTM zone at ${lng}, ${lat}`);
}

function eccentricitySquared(inverseFlattening: number): number {
  return (2 - 1 / inverseFlattening) / inverseFlattening;
}

function checkFinite(a: number, b: number, givenA: number, givenB: number): void {
  if (!Number.isFinite(a) || !Number.isFinite(b)) {
    throw new RangeError(`${givenA}, ${givenB} has no place in this coordinate system`);
  }
}
