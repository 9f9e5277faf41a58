import { ok, problem } from '../result.ts';
import * as refuse from './crs-refusals.ts';
import {
  compoundByCode,
  geographicByCode,
  geographicCodeOf,
  isNad27Code,
  systemByCode,
  systemByProjection,
} from './crs-table.ts';
import { readGeoKeysCrs } from './geo-keys-crs.ts';
import { projString, sameProjection } from './projection.ts';
import { datumOf, figureOf } from './realisation.ts';
import { readWktCrs } from './wkt-crs.ts';
import type { Problem, Result } from '../result.ts';
import type { CrsReading } from './crs-reading.ts';
import type { HorizontalCrs } from './crs-types.ts';
import type { GeoKeys } from './geo-keys.ts';
import type { TableSystem } from './crs-table.ts';
import type { Projection } from './projection.ts';
import type { Realisation } from './realisation.ts';

/**
 * The coordinate systems that Assart takes: NAD83 and WGS84 in longitude and latitude, UTM, state
 * plane and the other systems of `crs-table.ts`, any other system on those datums that is made with
 * the same projections, and web mercator. Everything else is refused with a way out; nothing is
 * shifted between datums.
 */

const WEB_MERCATOR: HorizontalCrs = {
  epsg: 3857,
  name: 'WGS 84 / Pseudo-Mercator',
  kind: 'web-mercator',
  datum: 'WGS84',
  unit: 'metre',
  proj:
    '+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0 +k=1 +units=m ' +
    '+nadgrids=@null +no_defs',
};

/** 3857 and the codes that went before it. */
const WEB_MERCATOR_CODES = [3857, 3785, 900_913, 102_100, 102_113];

/** The horizontal system of an EPSG code; of a compound code its horizontal part. */
export function crsFromEpsg(code: number): Result<HorizontalCrs> {
  if (WEB_MERCATOR_CODES.includes(code)) return ok(WEB_MERCATOR);
  const system = systemByCode(code);
  if (system) return ok(fromTable(system));
  const realisation = geographicByCode(code);
  if (realisation) return ok(geographicCrs(code, realisation));
  const compound = compoundByCode(code);
  if (compound) return crsFromEpsg(compound.horizontal);
  return isNad27Code(code) ? refuse.refuseNad27() : refuse.refuseCode(code);
}

/** The horizontal system of well-known text: WKT1 (OGC, ESRI .prj) or WKT2, also compound. */
export function crsFromWkt(wkt: string): Result<HorizontalCrs> {
  const reading = readWktCrs(wkt);
  return reading.ok ? settle(reading.value) : reading;
}

/** The horizontal system of GeoTIFF keys, by key number (`geoKeysFromNames` turns names around). */
export function crsFromGeoKeys(keys: GeoKeys): Result<HorizontalCrs> {
  const reading = readGeoKeysCrs(keys);
  return reading.ok ? settle(reading.value) : reading;
}

/**
 * The system that a person or a file names in text: `26915`, `EPSG:26915`, `EPSG:26915+5703`,
 * `CRS84`, an OGC address or URN, or well-known text.
 */
export function crsFromText(text: string): Result<HorizontalCrs> {
  const plain = text.trim();
  if (/[[(]/.test(plain)) return crsFromWkt(plain);
  if (/(^|[:/])CRS84$/i.test(plain)) return crsFromEpsg(4326);
  const code = /^(?:.*\bepsg[:/](?:[\d.]*[:/])?)?(\d{4,6})(?:\+\d+)?$/i.exec(plain)?.[1];
  return code ? crsFromEpsg(Number(code)) : refuse.refuseText();
}

/**
 * A problem when coordinates cannot be in the system that the file states: degrees in a file that
 * says metres or feet, or the other way round. Null when they can. Bounds are in file units.
 */
export function extentProblem(
  crs: HorizontalCrs,
  bounds: { west: number; south: number; east: number; north: number },
): Problem | null {
  const farthestX = Math.max(Math.abs(bounds.west), Math.abs(bounds.east));
  const farthestY = Math.max(Math.abs(bounds.south), Math.abs(bounds.north));
  if (crs.kind === 'geographic') {
    // Half a cell beyond the pole is still degrees; longitudes may count to 360.
    if (farthestX <= 361 && farthestY <= 91) return null;
    return failure(
      'metres-taken-for-degrees',
      'The file says longitude and latitude, but its coordinates are far too large for degrees.',
      'Name the system that the coordinates are really in, or re-export it.',
    );
  }
  if (farthestX > 180 || farthestY > 90) return null;
  return failure(
    'degrees-taken-for-metres',
    `The file says ${crs.name}, but its coordinates look like longitude and latitude in degrees.`,
    'Name the system that the coordinates are really in, such as EPSG 4269 or 4326.',
  );
}

function failure(code: string, what: string, wayOut: string): Problem {
  const result = problem(code, what, wayOut);
  if (result.ok) throw new RangeError('a problem that is none');
  return result.problem;
}

function settle(reading: CrsReading): Result<HorizontalCrs> {
  switch (reading.kind) {
    case 'code':
      return crsFromEpsg(reading.epsg);
    case 'web-mercator':
      return ok(WEB_MERCATOR);
    case 'geographic': {
      const known = reading.epsg !== null && geographicByCode(reading.epsg) === reading.realisation;
      const code = known ? reading.epsg! : geographicCodeOf(reading.realisation);
      return ok(geographicCrs(code, reading.realisation));
    }
    case 'projected':
      return settleProjected(reading);
  }
}

// What the numbers say counts; the code must agree with them.
function settleProjected(
  reading: CrsReading & { readonly kind: 'projected' },
): Result<HorizontalCrs> {
  const { epsg, realisation, projection } = reading;
  const stated = epsg === null ? null : systemByCode(epsg);
  if (stated) {
    return sameProjection(stated.projection, projection)
      ? ok(fromTable(stated))
      : refuse.refuseContradiction(stated.epsg, stated.name);
  }
  const found = systemByProjection(realisation, projection, reading.name);
  if (found) return ok(fromTable(found));
  return ok(projectedCrs(null, reading.name || 'unnamed projection', realisation, projection));
}

function fromTable(system: TableSystem): HorizontalCrs {
  return projectedCrs(system.epsg, system.name, system.realisation, system.projection);
}

function projectedCrs(
  epsg: number | null,
  name: string,
  realisation: Realisation,
  projection: Projection,
): HorizontalCrs {
  return {
    epsg,
    name,
    kind: 'projected',
    datum: datumOf(realisation),
    unit: projection.unit,
    proj: projString(projection, figureOf(realisation)),
  };
}

function geographicCrs(epsg: number, realisation: Realisation): HorizontalCrs {
  return {
    epsg,
    name: realisation,
    kind: 'geographic',
    datum: datumOf(realisation),
    unit: 'degree',
    proj: `+proj=longlat ${figureOf(realisation)} +no_defs`,
  };
}
