import type { Work } from '../../work.ts';
import { counted } from './count-words.ts';
import { leadsOut, type ZipMember } from '../zip/zip-directory.ts';
import { baseName, listZip, unpackMember } from './read-zip.ts';
import { VectorError } from './vector-error.ts';

/** A file of a drop or of a zip. Its path is only a name: nothing is ever written to it. */
export interface LooseFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

const WANTED = /\.(shp|dbf|prj|cpg|geojson|json|kml|gpx)$/i;
const MOST_UNPACKED = 256 * 1024 * 1024;

/**
 * Unpacks what is a drawing or belongs to one: shapefile parts, GeoJSON, KML, GPX. Of a KMZ (a zip
 * with KML and no shapefile) only its main document: doc.kml, else the first. Paths that lead out of
 * the zip, hidden files and everything else are passed over. What the zip promises to hold is added
 * up before anything is unpacked. Throws VectorError.
 */
export function* unpackZip(bytes: Uint8Array, file: string, notes: string[]): Work<LooseFile[]> {
  const members = listZip(bytes, file);
  const astray = members.filter(({ path }) => leadsOut(path));
  if (astray.length > 0) {
    notes.push(
      `${file}: ${counted(astray.length, 'path', 'paths')} leading out of the zip and left out.`,
    );
  }
  const wanted = chooseMembers(members.filter((one) => isWanted(one.path)));
  const promised = wanted.reduce((sum, one) => sum + one.size, 0);
  if (promised > MOST_UNPACKED) {
    throw new VectorError(
      'zip-too-large',
      `The zip says it holds ${Math.round(promised / 1e6).toLocaleString('en-US')} MB of drawings.`,
      'Export only the part around your ground, and open that.',
      file,
    );
  }
  if (wanted.length === 0) throw emptyZip(members, file);
  const files: LooseFile[] = [];
  for (const member of wanted) {
    const content = yield* unpackMember(bytes, member, file);
    files.push({ path: `${file}/${member.path}`, bytes: content });
  }
  return files;
}

function isWanted(path: string): boolean {
  const isHidden = path.startsWith('__MACOSX/') || baseName(path).startsWith('.');
  return WANTED.test(path) && !isHidden && !leadsOut(path);
}

function chooseMembers(wanted: readonly ZipMember[]): readonly ZipMember[] {
  // Beside a shapefile other files are its paperwork.
  if (wanted.some(({ path }) => /\.shp$/i.test(path))) {
    return wanted.filter(({ path }) => /\.(shp|dbf|prj|cpg)$/i.test(path));
  }
  const isKml = ({ path }: ZipMember) => /\.kml$/i.test(path);
  const kml = wanted.filter(isKml);
  if (kml.length === 0) return wanted;
  const main = kml.find(({ path }) => /^doc\.kml$/i.test(path)) ?? kml[0];
  return wanted.filter((one) => !isKml(one) || one === main);
}

function emptyZip(members: readonly ZipMember[], file: string): VectorError {
  const isNested = members.some(({ path }) => /\.(zip|kmz)$/i.test(path));
  return new VectorError(
    isNested ? 'zip-in-zip' : 'zip-nothing',
    isNested
      ? 'There is a zip inside the zip.'
      : 'The zip holds no shapefile, GeoJSON, KML or GPX.',
    isNested
      ? 'Unzip the outer one, and open the inner one.'
      : 'Look whether it is the right file, or unzip it and open what is inside.',
    file,
  );
}
