import { zipSync } from 'fflate';
import type { PlanGeometry } from '../../plan/feature.ts';
import { dbfFields } from './dbf-fields.ts';
import type { OutFeature } from './out-feature.ts';
import { writeDbf } from './write-dbf.ts';
import { writeShp } from './write-shp.ts';
import { ZIP_DATE } from '../zip/zip-date.ts';

/** WGS84 in longitude and latitude, in the flavour of well-known text that .prj files have. */
const PRJ =
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],' +
  'PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';

const ENDINGS: readonly (readonly [PlanGeometry['type'], string])[] = [
  ['Point', 'points'],
  ['LineString', 'lines'],
  ['Polygon', 'areas'],
];

/**
 * A zip of up to three shapefiles, because one holds one type of geometry: NAME-points, NAME-lines,
 * NAME-areas, each with .shp, .shx, .dbf in UTF-8, .prj and .cpg. Longitude and latitude on WGS84.
 * @param name beginning of the file names; letters that file systems refuse become "-"
 */
export function writeShapefileZip(features: readonly OutFeature[], name: string): Uint8Array {
  const stem = name.replace(/[^A-Za-z0-9 _.-]+/g, '-').slice(0, 60) || 'plan';
  const text = (content: string) => new TextEncoder().encode(content);
  const files: Record<string, Uint8Array> = {};
  for (const [type, ending] of ENDINGS) {
    const own = features.filter((feature) => feature.geometry.type === type);
    if (own.length === 0) continue;
    const geometries = own.map((feature) => feature.geometry);
    const { shp, shx } = writeShp(type, geometries);
    const path = `${stem}-${ending}`;
    files[`${path}.shp`] = shp;
    files[`${path}.shx`] = shx;
    files[`${path}.dbf`] = writeDbf(dbfFields(own), own.length);
    files[`${path}.prj`] = text(PRJ);
    files[`${path}.cpg`] = text('UTF-8');
  }
  return zipSync(files, { mtime: ZIP_DATE });
}
