import { ok } from '../result.ts';
import * as refuse from './crs-refusals.ts';
import { geographicByCode, systemByCode, systemByName } from './crs-table.ts';
import { KEY, keyNumber, keyText, UNIT_BY_CODE, USER_DEFINED } from './geo-keys.ts';
import { inUnit, utmProjection } from './projection.ts';
import { realisationFromName } from './realisation.ts';
import { unitFromFactor } from './units.ts';
import { readWktCrs } from './wkt-crs.ts';
import { completeProjection } from './wkt-projection.ts';
import type { Result } from '../result.ts';
import type { CrsReading } from './crs-reading.ts';
import type { LinearUnit } from './crs-types.ts';
import type { GeoKeys } from './geo-keys.ts';
import type { Projection, ProjectionMethod } from './projection.ts';
import type { Realisation } from './realisation.ts';

const MODEL_GEOGRAPHIC = 2;
const MODEL_GEOCENTRIC = 3;

/** Coordinate transformation codes of the GeoTIFF standard (9815 is GDAL's own addition). */
const METHOD_BY_CODE: Readonly<Record<number, ProjectionMethod>> = {
  1: 'transverse-mercator',
  3: 'oblique-mercator-a',
  8: 'lambert-conic',
  9: 'lambert-conic',
  11: 'albers-conic',
  9815: 'oblique-mercator-b',
};

/** Datum codes: EPSG 6000 + the geographic code's last three digits, and later additions. */
const DATUM_BY_CODE: Readonly<Record<number, Realisation | 'NAD27'>> = {
  6326: 'WGS 84',
  6269: 'NAD83',
  6152: 'NAD83(HARN)',
  6759: 'NAD83(NSRS2007)',
  6140: 'NAD83(CSRS)',
  1116: 'NAD83(2011)',
  1117: 'NAD83(PA11)',
  1118: 'NAD83(MA11)',
  1133: 'NAD83(CORS96)',
  6267: 'NAD27',
};

/** Reads the horizontal system of GeoTIFF keys: by code, by their own parameters, or by text. */
export function readGeoKeysCrs(keys: GeoKeys): Result<CrsReading> {
  const model = keyNumber(keys, KEY.GTModelTypeGeoKey);
  const projected = keyNumber(keys, KEY.ProjectedCSTypeGeoKey) ?? 0;
  const geographic = keyNumber(keys, KEY.GeographicTypeGeoKey) ?? 0;
  if (model === MODEL_GEOCENTRIC) return refuse.refuseGeocentric();
  if (model === MODEL_GEOGRAPHIC || (projected === 0 && geographic > 0 && model !== 1)) {
    return readGeographic(keys, geographic);
  }
  if (projected > 0 && projected !== USER_DEFINED) return readCode(keys, projected);
  const text = esriText(keys);
  if (text) return readWktCrs(text);
  if (projected === USER_DEFINED || keys.has(KEY.ProjCoordTransGeoKey)) return readOwn(keys);
  return keys.size > 0 && model === USER_DEFINED ? refuse.refuseLocal() : refuse.refuseMissing();
}

function readGeographic(keys: GeoKeys, code: number): Result<CrsReading> {
  const realisation = readDatum(keys, code);
  if (!realisation.ok) return realisation;
  const unit = keyNumber(keys, KEY.GeogAngularUnitsGeoKey);
  if (unit !== undefined && unit !== 9102 && unit !== 9122) return refuse.refuseAngularUnit();
  const epsg = code > 0 && code !== USER_DEFINED ? code : null;
  return ok({ kind: 'geographic', epsg, realisation: realisation.value });
}

function readDatum(keys: GeoKeys, code: number): Result<Realisation> {
  const known = geographicByCode(code);
  if (known) return ok(known);
  if (code === 4267) return refuse.refuseNad27();
  if (code > 0 && code !== USER_DEFINED) return refuse.refuseCode(code);
  const meridian = keyNumber(keys, KEY.GeogPrimeMeridianLongGeoKey) ?? 0;
  const meridianCode = keyNumber(keys, KEY.GeogPrimeMeridianGeoKey) ?? 8901;
  if (meridian !== 0 || (meridianCode !== 8901 && meridianCode !== USER_DEFINED)) {
    return refuse.refuseMeridian();
  }
  const citation = keyText(keys, KEY.GeogCitationGeoKey);
  const datumCode = keyNumber(keys, KEY.GeogGeodeticDatumGeoKey) ?? USER_DEFINED;
  const datum =
    datumCode === USER_DEFINED ? realisationFromName(citation) : (DATUM_BY_CODE[datumCode] ?? null);
  if (datum === 'NAD27') return refuse.refuseNad27();
  const ellipsoid = keyNumber(keys, KEY.GeogEllipsoidGeoKey) ?? USER_DEFINED;
  const modern = ellipsoid === 7019 || ellipsoid === 7030 || ellipsoid === USER_DEFINED;
  return datum && modern ? ok(datum) : refuse.refuseDatum(citation);
}

// Older writers keep the metric code of a zone and say "feet" in the unit key: the coordinates are
// then in feet from the same false origin.
function readCode(keys: GeoKeys, epsg: number): Result<CrsReading> {
  const system = systemByCode(epsg);
  const stated = readUnit(keys);
  if (!system || stated === undefined) return ok({ kind: 'code', epsg });
  if (stated === null) return refuse.refuseLinearUnit(unitText(keys));
  if (stated === system.projection.unit) return ok({ kind: 'code', epsg });
  return ok({
    kind: 'projected',
    epsg: null,
    name: `${system.name}, in ${stated === 'metre' ? 'metres' : 'feet'}`,
    realisation: system.realisation,
    projection: inUnit(system.projection, stated),
  });
}

function readOwn(keys: GeoKeys): Result<CrsReading> {
  const citation = keyText(keys, KEY.PCSCitationGeoKey) || keyText(keys, KEY.GTCitationGeoKey);
  const name = /PCS Name = ([^|]*)/.exec(citation)?.[1]?.trim() ?? citation.split('|')[0]!.trim();
  const unit = readUnit(keys);
  const named = systemByName(name);
  if (
    named &&
    !keys.has(KEY.ProjCoordTransGeoKey) &&
    (unit ?? named.projection.unit) === named.projection.unit
  ) {
    return ok({ kind: 'code', epsg: named.epsg });
  }
  const realisation = readDatum(keys, keyNumber(keys, KEY.GeographicTypeGeoKey) ?? USER_DEFINED);
  if (!realisation.ok) return realisation;
  if (!unit) return refuse.refuseLinearUnit(unitText(keys));
  const projection = readProjection(keys, unit);
  if (!projection) return refuse.refuseMethod(name);
  return ok({ kind: 'projected', epsg: null, name, realisation: realisation.value, projection });
}

function readProjection(keys: GeoKeys, unit: LinearUnit): Projection | null {
  const zone = keyNumber(keys, KEY.ProjectionGeoKey) ?? USER_DEFINED;
  const north = zone > 16_000 && zone <= 16_060;
  const south = zone > 16_100 && zone <= 16_160;
  if (north || south) return inUnit(utmProjection(zone % 100, south), unit);

  const method = METHOD_BY_CODE[keyNumber(keys, KEY.ProjCoordTransGeoKey) ?? 0];
  if (!method) return null;
  const given: Record<string, number> = {};
  const slots: Record<string, number[]> = {
    lat0: [KEY.ProjNatOriginLatGeoKey, KEY.ProjFalseOriginLatGeoKey, KEY.ProjCenterLatGeoKey],
    lon0: [KEY.ProjNatOriginLongGeoKey, KEY.ProjFalseOriginLongGeoKey, KEY.ProjCenterLongGeoKey],
    lat1: [KEY.ProjStdParallel1GeoKey],
    lat2: [KEY.ProjStdParallel2GeoKey],
    scale: [KEY.ProjScaleAtNatOriginGeoKey, KEY.ProjScaleAtCenterGeoKey],
    azimuth: [KEY.ProjAzimuthAngleGeoKey],
    gridAngle: [KEY.ProjRectifiedGridAngleGeoKey],
    falseEasting: [
      KEY.ProjFalseEastingGeoKey,
      KEY.ProjFalseOriginEastingGeoKey,
      KEY.ProjCenterEastingGeoKey,
    ],
    falseNorthing: [
      KEY.ProjFalseNorthingGeoKey,
      KEY.ProjFalseOriginNorthingGeoKey,
      KEY.ProjCenterNorthingGeoKey,
    ],
  };
  for (const [slot, numbers] of Object.entries(slots)) {
    const value = keyNumber(keys, ...numbers);
    if (value !== undefined) given[slot] = value;
  }
  return completeProjection(method, given, unit);
}

/** undefined where the keys are silent, null where they name a unit that is not one of the three. */
function readUnit(keys: GeoKeys): LinearUnit | null | undefined {
  const code = keyNumber(keys, KEY.ProjLinearUnitsGeoKey);
  if (code === undefined || code === 0) return undefined;
  if (code !== USER_DEFINED) return UNIT_BY_CODE[code] ?? null;
  const size = keyNumber(keys, KEY.ProjLinearUnitSizeGeoKey);
  return size === undefined ? undefined : unitFromFactor(size);
}

function unitText(keys: GeoKeys): string {
  const code = keyNumber(keys, KEY.ProjLinearUnitsGeoKey);
  const size = keyNumber(keys, KEY.ProjLinearUnitSizeGeoKey);
  if (code === undefined || code === 0) return '';
  return code === USER_DEFINED ? `units of ${size ?? 'unknown'} m` : `EPSG unit ${code}`;
}

function esriText(keys: GeoKeys): string | null {
  for (const key of [KEY.PCSCitationGeoKey, KEY.GTCitationGeoKey]) {
    const text = /ESRI PE String = (PROJCS\[.*)/s.exec(keyText(keys, key))?.[1];
    if (text) return text.replace(/\|.*$/s, '');
  }
  return null;
}
