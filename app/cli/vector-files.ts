import { extname } from 'node:path';
import { positionsOf } from '../../geo/plan/construct/map-positions.ts';
import { lineLengthMeters, measurePolygon } from '../../geo/frame/geodesic.ts';
import { openVectors } from '../../geo/formats/vector/open-vector.ts';
import { outFromVectors, type OutFeature } from '../../geo/formats/vector/out-feature.ts';
import type {
  OpenedVectors,
  VectorChoices,
  VectorFeature,
} from '../../geo/formats/vector/vector-types.ts';
import { writeGeoJson } from '../../geo/formats/vector/write-geojson.ts';
import { writeGpx } from '../../geo/formats/vector/write-gpx.ts';
import { writeKml, writeKmz } from '../../geo/formats/vector/write-kml.ts';
import { writeShapefileZip } from '../../geo/formats/vector/write-shapefile.ts';
import { notOpened, wrongUsage } from './cli-problem.ts';
import type { FileSource } from './file-source.ts';

/** Options that only drawings (GeoJSON, KML, GPX, shapefile) take. */
export const vectorOptions = {
  'swap-axes': { type: 'string' },
  'keep-personal': { type: 'boolean' },
  'device-names': { type: 'string' },
  routes: { type: 'string' },
} as const;

export const vectorOptionsHelp = `  --swap-axes yes|no    drawings: whether latitude and longitude are exchanged in the file
  --keep-personal       drawings: keeps columns with owners, addresses and phone numbers`;

export const vectorWriteHelp = `  --device-names N      .gpx: names of at most N ASCII letters, for old receivers (10 to 12)
  --routes N            .gpx: lines as routes of at most N points (200), not as tracks`;

interface VectorValues {
  readonly 'swap-axes'?: string;
  readonly 'keep-personal'?: boolean;
  readonly 'device-names'?: string;
  readonly routes?: string;
}

/** Opens a drawing; a question that nobody is there to answer is bad input that names the option. */
export async function openDrawing(
  sources: readonly FileSource[],
  values: VectorValues,
  epsg: number | undefined,
  verb: string,
): Promise<OpenedVectors> {
  const swap = values['swap-axes'];
  if (swap !== undefined && swap !== 'yes' && swap !== 'no') {
    throw wrongUsage('--swap-axes takes yes or no.', verb);
  }
  const choices: VectorChoices = {
    ...(epsg === undefined ? {} : { epsg }),
    ...(swap === undefined ? {} : { swapped: swap === 'yes' }),
    keepPersonal: values['keep-personal'] === true,
  };
  const opening = await openVectors(sources, choices);
  if (opening.kind === 'refused' || opening.kind === 'ask') throw notOpened(opening, WAY_OUT);
  return opening;
}

const WAY_OUT = {
  crs: 'Name it with --crs, such as --crs 26915, or give the .prj file along.',
  swapped: 'Say --swap-axes yes to exchange them, or --swap-axes no to leave them.',
} as const;

/** A drawing in JSON: what it holds and, feature by feature, what it would be offered as. */
export function drawingFacts(drawing: OpenedVectors) {
  const { formats, files, crsName, features, notes, personalColumns } = drawing;
  return {
    kind: 'drawing',
    formats,
    files,
    sourceCrs: crsName,
    featureCount: features.length,
    boundsDegrees: boundsOf(features),
    personalColumns,
    notes,
    features: features.map(featureFacts),
  };
}

function featureFacts(feature: VectorFeature) {
  const { geometry, name, layer, description, attributes, sort, part, fault, suggested } = feature;
  const { pointData } = feature;
  const has = (list: Float64Array | null | undefined) => list !== null && list !== undefined;
  return {
    name,
    layer,
    sort,
    geometry: geometry.type,
    ...measures(feature),
    ...(part === null ? {} : { part: `${part.index + 1} of ${part.of}` }),
    ...(description === '' ? {} : { description }),
    attributes,
    ...(pointData === null
      ? {}
      : {
          hasHeights: has(pointData.heights),
          hasTimes: has(pointData.timesMs),
          hasHdop: has(pointData.hdop),
        }),
    outlineFault: fault,
    suggestedKind: suggested.kind,
    why: suggested.why,
  };
}

function measures({ geometry }: VectorFeature) {
  if (geometry.type === 'Point') return { lngLatDegrees: geometry.coordinates };
  if (geometry.type === 'LineString') {
    const { coordinates } = geometry;
    return { positions: coordinates.length, lengthMeters: lineLengthMeters(coordinates) };
  }
  const { areaSquareMeters, perimeterMeters } = measurePolygon(geometry.coordinates);
  const positions = geometry.coordinates.reduce((sum, ring) => sum + ring.length, 0);
  const holes = geometry.coordinates.length - 1;
  return { positions, holes, areaSquareMeters, perimeterMeters };
}

function boundsOf(features: readonly VectorFeature[]) {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { geometry } of features) {
    for (const [lng, lat] of positionsOf(geometry)) {
      west = Math.min(west, lng);
      south = Math.min(south, lat);
      east = Math.max(east, lng);
      north = Math.max(north, lat);
    }
  }
  return { west, south, east, north };
}

/** Endings of the files that a drawing can be written to. */
export const drawingEndings = ['.geojson', '.json', '.kml', '.kmz', '.gpx', '.zip'];

/** The bytes of a drawing in the format that the ending of the path names. */
export function drawingBytes(
  path: string,
  title: string,
  drawing: OpenedVectors,
  values: VectorValues,
): Uint8Array {
  const features: OutFeature[] = outFromVectors(drawing.features);
  const text = (content: string) => new TextEncoder().encode(content);
  switch (extname(path).toLowerCase()) {
    case '.kml':
      return text(writeKml(features, title));
    case '.kmz':
      return writeKmz(features, title);
    case '.gpx': {
      const mostNameLetters = wholeNumber(values['device-names'], 6, '--device-names');
      const mostRoutePoints = wholeNumber(values.routes, 2, '--routes');
      return text(writeGpx(features, { mostNameLetters, mostRoutePoints }));
    }
    case '.zip':
      return writeShapefileZip(features, title);
    default:
      return text(writeGeoJson(features));
  }
}

function wholeNumber(text: string | undefined, least: number, option: string): number | null {
  if (text === undefined) return null;
  const value = Number(text);
  if (Number.isInteger(value) && value >= least) return value;
  throw wrongUsage(`${option} takes a whole number from ${least}.`, 'convert');
}
