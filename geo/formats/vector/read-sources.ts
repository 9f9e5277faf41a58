import type { ByteSource } from '../byte-source.ts';
import type { Reading } from '../opening.ts';
import { runWork } from '../run-work.ts';
import { decodeText } from './decode-text.ts';
import { readGeoJson } from './read-geojson.ts';
import { readGpx } from './read-gpx.ts';
import { readKml } from './read-kml.ts';
import { readShapefile } from './read-shapefile.ts';
import type { RawLayer } from './raw-feature.ts';
import { sniffBytes } from './sniff-vector.ts';
import { unpackZip, type LooseFile } from './unpack-zip.ts';
import { FETCH_AGAIN, VectorError, type Limits } from './vector-error.ts';

const LARGEST_FILE = 256 * 1024 * 1024;
const SHAPEFILE_PART = /\.(shp|shx|dbf|prj|cpg|qpj|sbn|sbx|qix|shp\.xml)$/i;

/**
 * Reads all files of a drop: zips are unpacked, the parts of a shapefile put together by their name,
 * the rest told apart by content. Throws VectorError and ReadingStopped.
 */
export async function readSources(
  sources: readonly ByteSource[],
  limits: Limits,
  reading: Reading,
): Promise<{ layers: RawLayer[]; notes: string[] }> {
  const notes: string[] = [];
  const files: LooseFile[] = [];
  for (const source of sources) {
    const bytes = await readWhole(source);
    if (sniffBytes(bytes) !== 'zip') files.push({ path: source.name, bytes });
    else files.push(...(await runWork(unpackZip(bytes, source.name, notes), reading)));
  }
  const layers: RawLayer[] = [];
  for (const file of files) {
    const layer = await readLayer(file, files, limits, reading);
    if (layer) layers.push(layer);
  }
  if (layers.length === 0) throw nothingHere(files[0]?.path ?? sources[0]?.name);
  return { layers, notes };
}

async function readLayer(
  file: LooseFile,
  files: readonly LooseFile[],
  limits: Limits,
  reading: Reading,
): Promise<RawLayer | null> {
  const { path, bytes } = file;
  const name = path.replace(/^.*\//s, '');
  const kind = sniffBytes(bytes);
  if (kind === 'shapefile' && /\.shp$/i.test(path)) {
    const beside = (ending: string) => {
      const wanted = `${path.slice(0, -4)}.${ending}`.toLowerCase();
      return files.find((one) => one.path.toLowerCase() === wanted)?.bytes ?? null;
    };
    const text = (ending: string) => {
      const own = beside(ending);
      return own === null || own.length === 0 ? null : decodeText(own).text.slice(0, 100_000);
    };
    const parts = { shp: bytes, dbf: beside('dbf'), prj: text('prj'), cpg: text('cpg') };
    return runWork(readShapefile({ stem: name.slice(0, -4), ...parts }, limits), reading);
  }
  if (SHAPEFILE_PART.test(path)) {
    if (/\.shp$/i.test(path)) {
      throw new VectorError('shp-damaged', 'The file is no shapefile.', FETCH_AGAIN, name);
    }
    return null;
  }
  const { text, note } = decodeText(bytes);
  const read = { geojson: readGeoJson, kml: readKml, gpx: readGpx };
  // Other XML is read as KML would be, for the reason why it is none.
  const format = kind === null && text.trimStart().startsWith('<') ? 'kml' : kind;
  if (format === null || format === 'zip' || format === 'shapefile') throw otherFile(format, name);
  const layer = await runWork(read[format](text, name, limits), reading);
  return note === null ? layer : { ...layer, notes: [`${name}: ${note}`, ...layer.notes] };
}

async function readWhole(source: ByteSource): Promise<Uint8Array> {
  if (source.size > LARGEST_FILE) {
    throw new VectorError(
      'vector-too-large',
      'The file is larger than 256 MB.',
      'Export only the part around your ground, and open that.',
      source.name,
    );
  }
  if (source.size === 0) {
    throw new VectorError('file-empty', 'The file is empty.', FETCH_AGAIN, source.name);
  }
  let bytes: Uint8Array;
  try {
    bytes = await source.read(0, source.size);
  } catch {
    // The browser says only that a file was moved, changed or may not be read.
    throw new VectorError(
      'source-failed',
      'The file could not be read.',
      'See that it is still there and not open elsewhere, and open it again.',
      source.name,
    );
  }
  return bytes;
}

function otherFile(kind: 'zip' | 'shapefile' | null, name: string): VectorError {
  return new VectorError(
    kind === 'zip' ? 'zip-in-zip' : 'vector-unknown',
    kind === 'zip'
      ? 'There is a zip inside the zip.'
      : 'The file is none of the drawings that can be opened.',
    kind === 'zip'
      ? 'Unzip it, and open the files inside together.'
      : 'Open GeoJSON, KML, KMZ, GPX or a zipped shapefile.',
    name,
  );
}

function nothingHere(name: string | undefined): VectorError {
  const hasTable = name !== undefined && SHAPEFILE_PART.test(name);
  return new VectorError(
    hasTable ? 'shp-missing' : 'vector-none',
    hasTable
      ? 'The .shp with the shapes themselves is missing.'
      : 'There is no drawing among these files.',
    hasTable
      ? 'Open .shp, .dbf and .prj of the same name together, or the zip that they came in.'
      : 'Open GeoJSON, KML, KMZ, GPX or a zipped shapefile.',
    name,
  );
}
