import type { HorizontalDatum } from './crs-types.ts';

/**
 * The adjustments of NAD83 that carry codes of their own, and WGS84. They lie within about 2 m of
 * each other, less than the ground position of most drawings; Assart takes them as one.
 */
export const REALISATIONS = [
  'NAD83',
  'NAD83(HARN)',
  'NAD83(NSRS2007)',
  'NAD83(CORS96)',
  'NAD83(2011)',
  'NAD83(PA11)',
  'NAD83(MA11)',
  'NAD83(CSRS)',
  'WGS 84',
] as const;

export type Realisation = (typeof REALISATIONS)[number];

/** Said wherever two datums meet on one map. */
export const DATUMS_TAKEN_AS_ONE = {
  code: 'datums-taken-as-one',
  sentence:
    'NAD83 and WGS84 are taken as one here; true positions between them can differ by up to 2 m.',
} as const;

export function datumOf(realisation: Realisation): HorizontalDatum {
  if (realisation === 'WGS 84') return 'WGS84';
  return realisation === 'NAD83(2011)' ? 'NAD83(2011)' : 'NAD83';
}

/** The figure and datum part of a PROJ string. */
export function figureOf(realisation: Realisation): string {
  return realisation === 'WGS 84' ? '+datum=WGS84' : '+datum=NAD83';
}

/**
 * Reads a datum's or a geographic system's name, in the spelling of OGC, ESRI or GDAL. 'NAD27' is
 * told apart because its refusal has its own sentence; null is a datum that Assart does not know.
 */
export function realisationFromName(name: string): Realisation | 'NAD27' | null {
  const plain = name
    .toLowerCase()
    .replace(/^d_|^gcs_/, '')
    .replace(/[^a-z0-9]/g, '');
  if (/northamerican(datum)?(of)?1927|nad(19)?27/.test(plain)) return 'NAD27';
  if (/wgs(19)?84|worldgeodeticsystem(of)?1984/.test(plain)) return 'WGS 84';
  if (!/northamerican(datum)?(of)?1983|nad(19)?83/.test(plain)) return null;
  if (/2011/.test(plain) && !/csrs/.test(plain)) return 'NAD83(2011)';
  if (/harn|highaccuracyreferencenetwork/.test(plain)) return 'NAD83(HARN)';
  if (/2007/.test(plain)) return 'NAD83(NSRS2007)';
  if (/csrs|canadianspatial/.test(plain)) return 'NAD83(CSRS)';
  if (/cors|continuouslyoperating/.test(plain)) return 'NAD83(CORS96)';
  if (/pa11/.test(plain)) return 'NAD83(PA11)';
  if (/ma11/.test(plain)) return 'NAD83(MA11)';
  return 'NAD83';
}

/** Whether an ellipsoid is GRS80's or WGS84's (one size, flattenings 1.6e-9 apart). */
export function isModernEllipsoid(semiMajorMeters: number, inverseFlattening: number): boolean {
  return (
    Math.abs(semiMajorMeters - 6_378_137) < 0.01 && Math.abs(inverseFlattening - 298.2572) < 1e-3
  );
}
