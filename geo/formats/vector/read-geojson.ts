import { crsFromEpsg, crsFromText } from '../../frame/crs.ts';
import * as refuse from '../../frame/crs-refusals.ts';
import type { HorizontalCrs } from '../../frame/crs-types.ts';
import type { Result } from '../../result.ts';
import type { Work } from '../../work.ts';
import { counted } from './count-words.ts';
import { geoJsonParts } from './geojson-parts.ts';
import type { RawFeature, RawLayer } from './raw-feature.ts';
import { FETCH_AGAIN, takeFeatures, VectorError, type Limits } from './vector-error.ts';

type Json = Readonly<Record<string, unknown>>;

/**
 * Reads GeoJSON (RFC 7946): a collection, one feature or a bare geometry. The old `crs` member
 * (GeoJSON 2008, section 3) is honoured where it names a system; a link to one is not followed.
 * Numbers of a position beyond the third are passed over. Nested values of properties come as JSON
 * text. Throws VectorError.
 */
export function* readGeoJson(text: string, file: string, limits: Limits): Work<RawLayer> {
  yield { share: 0, doing: `Reading ${file}` };
  const root = parse(text, file);
  yield { share: 0.5, doing: `Reading ${file}` };
  const features: RawFeature[] = [];
  const all = featuresOf(root, file);
  let unread = 0;
  for (let i = 0; i < all.length; i++) {
    const feature = asObject(all[i]);
    if (feature === null) unread++;
    else {
      takeFeatures(limits, 1);
      features.push(rawFeature(feature, stringOr(root.name, ''), limits));
    }
    if (i % 500 === 499) yield { share: 0.5 + (0.5 * i) / all.length, doing: `Reading ${file}` };
  }
  const notes: string[] = [];
  if (unread > 0) notes.push(`${file}: ${counted(unread, 'feature', 'features')} no object.`);
  return {
    file,
    format: 'geojson',
    crs: systemOf(root),
    isFixed: false,
    heightUnit: 'metre',
    features,
    notes,
  };
}

function parse(text: string, file: string): Json {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    throw new VectorError('json-damaged', 'The file is no whole JSON.', FETCH_AGAIN, file);
  }
  const root = asObject(value);
  if (root === null) throw otherJson(file);
  return root;
}

const GEOMETRIES = new Set(
  (
    'Point LineString Polygon MultiPoint MultiLineString MultiPolygon ' + 'GeometryCollection'
  ).split(' '),
);

function featuresOf(root: Json, file: string): readonly unknown[] {
  if (root.type === 'FeatureCollection' && Array.isArray(root.features)) return root.features;
  if (root.type === 'Feature') return [root];
  if (GEOMETRIES.has(String(root.type))) return [{ type: 'Feature', geometry: root }];
  throw otherJson(file);
}

function otherJson(file: string): VectorError {
  return new VectorError(
    'json-other',
    'The file is JSON, but not GeoJSON.',
    'Export it as GeoJSON, KML, GPX or shapefile.',
    file,
  );
}

/** RFC 7946: WGS84, unless the older member says otherwise; its null says that nobody knows. */
function systemOf(root: Json): Result<HorizontalCrs> {
  if (root.crs === undefined) return crsFromEpsg(4326);
  const crs = asObject(root.crs);
  if (crs === null) return refuse.refuseMissing();
  const { name, code } = asObject(crs.properties) ?? {};
  if (typeof name === 'string') return crsFromText(name.slice(0, 20_000));
  // `{type: "EPSG", properties: {code: 26915}}` stood in drafts before 2008 and is still met.
  if (String(crs.type).toUpperCase() === 'EPSG' && Number.isInteger(Number(code))) {
    return crsFromEpsg(Number(code));
  }
  return refuse.refuseText();
}

function rawFeature(feature: Json, layer: string, limits: Limits): RawFeature {
  const properties = asObject(feature.properties) ?? {};
  const attributes: [string, string | number][] = [];
  const { id } = feature;
  if ((typeof id === 'string' || typeof id === 'number') && properties.id === undefined) {
    attributes.push(['id', id]);
  }
  for (const key of Object.keys(properties)) {
    const value = plainValue(properties[key]);
    if (value !== null) attributes.push([key, value]);
  }
  const description = stringOr(properties.description, stringOr(properties.desc, ''));
  const parts = geoJsonParts(asObject(feature.geometry), limits);
  return { name: '', description, attributes, layer, sort: 'shape', parts };
}

function plainValue(value: unknown): string | number | null {
  if (typeof value === 'string') return value.slice(0, 10_000);
  if (typeof value === 'number') return value;
  if (value === null || value === undefined) return null;
  try {
    return JSON.stringify(value).slice(0, 10_000);
  } catch (error) {
    // Nested deeper than the stack holds: no attribute of a drawing.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function asObject(value: unknown): Json | null {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
    ? (value as Json)
    : null;
}

function stringOr(value: unknown, otherwise: string): string {
  return typeof value === 'string' ? value : otherwise;
}
