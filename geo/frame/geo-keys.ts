/** GeoTIFF keys by number, as a GeoTIFF's or a LAS file's key directory holds them. */
export type GeoKeys = ReadonlyMap<number, unknown>;

/** The keys that Assart reads, by the names of the GeoTIFF 1.0 standard. */
export const KEY = {
  GTModelTypeGeoKey: 1024,
  GTCitationGeoKey: 1026,
  GeographicTypeGeoKey: 2048,
  GeogCitationGeoKey: 2049,
  GeogGeodeticDatumGeoKey: 2050,
  GeogPrimeMeridianGeoKey: 2051,
  GeogAngularUnitsGeoKey: 2054,
  GeogEllipsoidGeoKey: 2056,
  GeogPrimeMeridianLongGeoKey: 2061,
  ProjectedCSTypeGeoKey: 3072,
  PCSCitationGeoKey: 3073,
  ProjectionGeoKey: 3074,
  ProjCoordTransGeoKey: 3075,
  ProjLinearUnitsGeoKey: 3076,
  ProjLinearUnitSizeGeoKey: 3077,
  ProjStdParallel1GeoKey: 3078,
  ProjStdParallel2GeoKey: 3079,
  ProjNatOriginLongGeoKey: 3080,
  ProjNatOriginLatGeoKey: 3081,
  ProjFalseEastingGeoKey: 3082,
  ProjFalseNorthingGeoKey: 3083,
  ProjFalseOriginLongGeoKey: 3084,
  ProjFalseOriginLatGeoKey: 3085,
  ProjFalseOriginEastingGeoKey: 3086,
  ProjFalseOriginNorthingGeoKey: 3087,
  ProjCenterLongGeoKey: 3088,
  ProjCenterLatGeoKey: 3089,
  ProjCenterEastingGeoKey: 3090,
  ProjCenterNorthingGeoKey: 3091,
  ProjScaleAtNatOriginGeoKey: 3092,
  ProjScaleAtCenterGeoKey: 3093,
  ProjAzimuthAngleGeoKey: 3094,
  ProjRectifiedGridAngleGeoKey: 3096,
  VerticalCSTypeGeoKey: 4096,
  VerticalCitationGeoKey: 4097,
  VerticalDatumGeoKey: 4098,
  VerticalUnitsGeoKey: 4099,
} as const;

/** Stands in a key for "described by the other keys". */
export const USER_DEFINED = 32_767;

/** Turns keys listed by name (as the TIFF library gives them) into keys by number. */
export function geoKeysFromNames(named: Readonly<Record<string, unknown>>): GeoKeys {
  const keys = new Map<number, unknown>();
  for (const [name, number] of Object.entries(KEY)) {
    if (named[name] !== undefined) keys.set(number, named[name]);
  }
  return keys;
}

/** A key as a finite number, or undefined. A list of one counts as its member. */
export function keyNumber(keys: GeoKeys, ...numbers: number[]): number | undefined {
  for (const number of numbers) {
    const held = keys.get(number);
    const value = Array.isArray(held) || ArrayBuffer.isView(held) ? (held as number[])[0] : held;
    if (typeof value === 'number' && Number.isFinite(value)) return value;
  }
  return undefined;
}

/** A key as text without its closing bar or zero, or ''. */
export function keyText(keys: GeoKeys, number: number): string {
  const value = keys.get(number);
  // oxlint-disable-next-line no-control-regex -- key texts may be closed by a zero byte
  return typeof value === 'string' ? value.replace(/[|\u0000\s]+$/, '').trim() : '';
}

/** EPSG unit codes 9001–9003 that stand for the three linear units. */
export const UNIT_BY_CODE: Readonly<
  Record<number, 'metre' | 'us-survey-foot' | 'international-foot'>
> = { 9001: 'metre', 9002: 'international-foot', 9003: 'us-survey-foot' };
