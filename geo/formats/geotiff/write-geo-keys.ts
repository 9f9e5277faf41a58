import type {
  FrameDefinition,
  HorizontalCrs,
  HorizontalDatum,
  VerticalDatum,
} from '../../frame/crs-types.ts';

/** The three GeoKey tags of a file (OGC 19-008r4 section 7.1). */
export interface GeoKeyTags {
  readonly directory: readonly number[];
  readonly doubles: readonly number[];
  readonly ascii: string;
}

const USER_DEFINED = 32767;
const METRE = 9001;
const FOOT = 9002;
const US_SURVEY_FOOT = 9003;
const DEGREE = 9102;
const NAVD88_METRES = 5703;
const GEOGRAPHIC_CODE: Readonly<Record<HorizontalDatum, number>> = {
  NAD83: 4269,
  'NAD83(2011)': 6318,
  WGS84: 4326,
};

/**
 * Keys of a site frame: its EPSG code, or where it has none (a foot zone in metres) the projection
 * written out. The vertical unit key is always written, whatever the vertical system.
 * Throws RangeError on a projection that GeoTIFF has no keys for.
 */
export function geoKeyTags(frame: FrameDefinition, vertical: VerticalDatum): GeoKeyTags {
  const keys = planeKeys(frame);
  if (vertical === 'NAVD88') keys.push([4096, NAVD88_METRES]);
  if (vertical === 'ellipsoid') keys.push([4097, 'Ellipsoidal height|']);
  keys.push([4099, METRE]);
  return layOutKeys(keys);
}

/**
 * Keys of a picture's system: any that has an EPSG code, in its own unit, or a projection in metres
 * that is written out. Throws RangeError as `geoKeyTags` does.
 */
export function pictureKeyTags(
  crs: FrameDefinition & Pick<HorizontalCrs, 'kind' | 'unit'>,
): GeoKeyTags {
  if (crs.kind === 'geographic') {
    const code = crs.epsg ?? GEOGRAPHIC_CODE[crs.datum];
    return layOutKeys([
      [1024, 2],
      [1025, 1],
      [2048, code],
      [2054, DEGREE],
    ]);
  }
  if (crs.epsg === null || crs.unit === 'metre') return layOutKeys(planeKeys(crs));
  const unit = crs.unit === 'us-survey-foot' ? US_SURVEY_FOOT : FOOT;
  return layOutKeys([
    [1024, 1],
    [1025, 1],
    [3072, crs.epsg],
    [3076, unit],
  ]);
}

type Key = [number, number | string | { readonly double: number }];

/** A projection in metres. */
function planeKeys(frame: FrameDefinition): Key[] {
  const keys: Key[] = [
    [1024, 1],
    [1025, 1],
  ];
  if (frame.epsg === null) {
    keys.push([1026, `${frame.name}|`], [2048, GEOGRAPHIC_CODE[frame.datum]], [2054, DEGREE]);
    keys.push([3072, USER_DEFINED], [3073, `${frame.name}|`], [3074, USER_DEFINED]);
    keys.push(...projectionKeys(frame.proj));
  } else keys.push([3072, frame.epsg]);
  keys.push([3076, METRE]);
  return keys;
}

function layOutKeys(keys: readonly Key[]): GeoKeyTags {
  const doubles: number[] = [];
  let ascii = '';
  const rows = keys
    .toSorted((a, b) => a[0] - b[0])
    .flatMap(([key, value]) => {
      if (typeof value === 'number') return [key, 0, 1, value];
      if (typeof value === 'string') {
        const plain = value.replace(/[^\x20-\x7e]/g, '?');
        ascii += plain;
        return [key, 34737, plain.length, ascii.length - plain.length];
      }
      doubles.push(value.double);
      return [key, 34736, 1, doubles.length - 1];
    });
  // Version 1, revision 1.1: older revisions leave it open whether a vertical system is meant.
  return { directory: [1, 1, 1, keys.length, ...rows], doubles, ascii };
}

/** Key numbers for each PROJ parameter, by coordinate transformation code (OGC 19-008r4 annex C). */
const METHODS: Readonly<Record<string, { code: number; keys: Readonly<Record<string, number>> }>> =
  {
    tmerc: { code: 1, keys: { lat_0: 3081, lon_0: 3080, k: 3092, x_0: 3082, y_0: 3083 } },
    lcc: {
      code: 8,
      keys: { lat_1: 3078, lat_2: 3079, lat_0: 3085, lon_0: 3084, x_0: 3086, y_0: 3087 },
    },
    lcc1: { code: 9, keys: { lat_0: 3081, lon_0: 3080, k_0: 3092, x_0: 3082, y_0: 3083 } },
    aea: {
      code: 11,
      keys: { lat_1: 3078, lat_2: 3079, lat_0: 3081, lon_0: 3080, x_0: 3082, y_0: 3083 },
    },
    omerc: {
      code: 3,
      keys: { lat_0: 3089, lonc: 3088, alpha: 3094, gamma: 3096, k: 3093, x_0: 3082, y_0: 3083 },
    },
    omercCenter: {
      code: 9815,
      keys: { lat_0: 3089, lonc: 3088, alpha: 3094, gamma: 3096, k: 3093, x_0: 3090, y_0: 3091 },
    },
  };

function projectionKeys(proj: string): [number, number | { readonly double: number }][] {
  const values = new Map(
    [...proj.matchAll(/\+(\w+)(?:=(\S+))?/g)].map(([, name, value]) => [name!, value ?? '']),
  );
  let name = values.get('proj') ?? '';
  if (name === 'lcc' && values.has('k_0')) name = 'lcc1';
  if (name === 'omerc' && !values.has('no_uoff')) name = 'omercCenter';
  const method = METHODS[name];
  if (!method) throw new RangeError(`no GeoTIFF keys for ${proj}`);
  const keys: [number, number | { readonly double: number }][] = [[3075, method.code]];
  for (const [parameter, key] of Object.entries(method.keys)) {
    const value = Number(values.get(parameter));
    if (!Number.isFinite(value)) throw new RangeError(`no ${parameter} in ${proj}`);
    keys.push([key, { double: value }]);
  }
  return keys;
}
