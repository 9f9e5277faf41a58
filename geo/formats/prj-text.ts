import type { FrameDefinition, HorizontalDatum, VerticalReference } from '../frame/crs-types.ts';

/** Geographic part by datum (names and figures: EPSG dataset, GRS 1980 and WGS 84). */
const GEOGRAPHIC: Readonly<Record<HorizontalDatum, string>> = {
  NAD83:
    'GEOGCS["NAD83",DATUM["North_American_Datum_1983",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433],AUTHORITY["EPSG","4269"]]',
  'NAD83(2011)':
    'GEOGCS["NAD83(2011)",DATUM["NAD83_National_Spatial_Reference_System_2011",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433],AUTHORITY["EPSG","6318"]]',
  WGS84:
    'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433],AUTHORITY["EPSG","4326"]]',
};

/** PROJ key to WKT parameter, by method. */
const ORIGIN = { lat_0: 'latitude_of_origin', lon_0: 'central_meridian' };
const METHODS: Readonly<
  Record<string, { name: string; parameters: Readonly<Record<string, string>> }>
> = {
  tmerc: { name: 'Transverse_Mercator', parameters: { ...ORIGIN, k: 'scale_factor' } },
  lcc2: {
    name: 'Lambert_Conformal_Conic_2SP',
    parameters: { lat_1: 'standard_parallel_1', lat_2: 'standard_parallel_2', ...ORIGIN },
  },
  lcc1: { name: 'Lambert_Conformal_Conic_1SP', parameters: { ...ORIGIN, k_0: 'scale_factor' } },
  aea: {
    name: 'Albers_Conic_Equal_Area',
    parameters: {
      lat_1: 'standard_parallel_1',
      lat_2: 'standard_parallel_2',
      lat_0: 'latitude_of_center',
      lon_0: 'longitude_of_center',
    },
  },
  omerc: {
    name: 'Hotine_Oblique_Mercator_Azimuth_Center',
    parameters: {
      lat_0: 'latitude_of_center',
      lonc: 'longitude_of_center',
      alpha: 'azimuth',
      gamma: 'rectified_grid_angle',
      k: 'scale_factor',
    },
  },
};

/**
 * Well-known text (OGC 01-009, as GDAL writes and reads it) of a site frame with heights in metres,
 * for the .prj file beside a grid or a table. The heights ride along as a compound system, so that
 * their unit is not lost.
 * @param vertical what is known of the heights; their unit is metres here whatever it was in the source
 * Throws RangeError on a projection that no frame has.
 */
export function prjText(frame: FrameDefinition, vertical: VerticalReference): string {
  const values = new Map<string, string>();
  for (const part of frame.proj.split(/\s+/)) {
    const [key, value] = part.replace(/^\+/, '').split('=');
    values.set(key!, value ?? '');
  }
  const isOneParallel = values.has('k_0') && values.get('lat_1') === values.get('lat_2');
  const proj = values.get('proj')!;
  const method = METHODS[proj === 'lcc' ? (isOneParallel ? 'lcc1' : 'lcc2') : proj];
  if (!method) throw new RangeError(`no well-known text for ${frame.proj}`);
  const parameters = Object.entries(method.parameters).map(
    ([key, name]) => `PARAMETER["${name}",${values.get(key) ?? 0}]`,
  );
  parameters.push(`PARAMETER["false_easting",${values.get('x_0') ?? 0}]`);
  parameters.push(`PARAMETER["false_northing",${values.get('y_0') ?? 0}]`);
  // PROJ's +no_uoff is the variant whose false origin lies on the equator of the aposphere.
  const name = values.has('no_uoff') ? 'Hotine_Oblique_Mercator' : method.name;
  const code = frame.epsg === null ? '' : `,AUTHORITY["EPSG","${frame.epsg}"]`;
  const title = frame.name.replace(/"/g, "'");
  const horizontal = `PROJCS["${title}",${GEOGRAPHIC[frame.datum]},PROJECTION["${name}"],${parameters.join(',')},UNIT["metre",1]${code}]`;
  return `COMPD_CS["${title} + heights",${horizontal},${heights(vertical)}]`;
}

function heights(vertical: VerticalReference): string {
  const unit = 'UNIT["metre",1],AXIS["Up",UP]';
  if (vertical.datum === 'NAVD88') {
    return `VERT_CS["NAVD88 height",VERT_DATUM["North American Vertical Datum 1988",2005],${unit},AUTHORITY["EPSG","5703"]]`;
  }
  const isEllipsoid = vertical.datum === 'ellipsoid';
  const name = isEllipsoid ? 'Ellipsoid height' : 'Unknown height';
  return `VERT_CS["${name}",VERT_DATUM["${isEllipsoid ? 'Ellipsoid' : 'Unknown'}",${isEllipsoid ? 2002 : 2005}],${unit}]`;
}
