import { memorySource, type ByteSource } from '../geo/formats/byte-source.ts';
import { openVectors } from '../geo/formats/vector/open-vector.ts';
import type { OpenedVectors, VectorChoices } from '../geo/formats/vector/vector-types.ts';
import type { Gdal } from './gdal.ts';

/** What the tests of vector files share: opening in memory, and the same file as GDAL reads it. */

export interface GdalFeature {
  readonly geometry: { readonly type: string; readonly coordinates: unknown } | null;
  readonly properties: Readonly<Record<string, unknown>>;
}

export const utf8 = (text: string) => new TextEncoder().encode(text);

export function files(given: Readonly<Record<string, Uint8Array | string>>): ByteSource[] {
  return Object.entries(given).map(([name, content]) =>
    memorySource(name, typeof content === 'string' ? utf8(content) : content),
  );
}

/** Opens files that must open; anything else fails the test with what was said. */
export async function opened(
  given: Readonly<Record<string, Uint8Array | string>>,
  choices: VectorChoices = {},
): Promise<OpenedVectors> {
  const opening = await openVectors(files(given), choices);
  if (opening.kind !== 'opened') throw new Error(JSON.stringify(opening));
  return opening;
}

/** A layer of files as GDAL reads it, in longitude and latitude on their own datum. */
export async function asGdalReads(
  gdal: Gdal,
  given: Readonly<Record<string, Uint8Array | string>>,
  main: string,
  args: readonly string[] = [],
): Promise<GdalFeature[]> {
  let path = '';
  for (const [name, content] of Object.entries(given)) {
    const put = gdal.write(name, typeof content === 'string' ? utf8(content) : content);
    if (name === main) path = put;
  }
  const all = ['-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=15', ...args];
  const out = await gdal.run('ogr2ogr', path, all, `read-${(count += 1)}.geojson`);
  const made = new TextDecoder().decode(gdal.read(out));
  return (JSON.parse(made) as { features: GdalFeature[] }).features;
}
let count = 0;

/** Single parts of GDAL's geometry, as ours come. */
export function singleParts(
  features: readonly GdalFeature[],
): { type: string; coordinates: unknown; properties: GdalFeature['properties'] }[] {
  return features.flatMap(({ geometry, properties }) => partsOf(geometry, properties));
}

function partsOf(
  geometry: GdalFeature['geometry'],
  properties: GdalFeature['properties'],
): { type: string; coordinates: unknown; properties: GdalFeature['properties'] }[] {
  if (geometry === null) return [];
  if (geometry.type === 'GeometryCollection') {
    const { geometries } = geometry as unknown as { geometries: GdalFeature['geometry'][] };
    return geometries.flatMap((one) => partsOf(one, properties));
  }
  const { type, coordinates } = geometry;
  if (!type.startsWith('Multi')) return [{ type, coordinates, properties }];
  return (coordinates as unknown[]).map((one) => ({
    type: type.slice(5),
    coordinates: one,
    properties,
  }));
}

/** All numbers pairs of nested coordinates, heights left off, in order. */
export function flatPositions(coordinates: unknown): [number, number][] {
  const list = coordinates as unknown[];
  return typeof list[0] === 'number'
    ? [[list[0], list[1] as number]]
    : list.flatMap((one) => flatPositions(one));
}

/** Largest difference of two lists of positions in degrees; Infinity where they differ in length. */
export function farthestDegrees(
  a: readonly (readonly number[])[],
  b: readonly (readonly number[])[],
): number {
  if (a.length !== b.length) return Infinity;
  return a.reduce(
    (most, p, i) => Math.max(most, Math.abs(p[0] - b[i][0]), Math.abs(p[1] - b[i][1])),
    0,
  );
}
