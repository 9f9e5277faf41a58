import { isObject, type RawMap } from '../../plan/raw-plan.ts';
import { ok, problem, type Result } from '../../result.ts';
import { notJson } from './project-error.ts';
import { parseJson } from './parse-json.ts';
import { shellNames } from './write-plan-geojson.ts';

const MOST_FEATURES = 100_000;
const ID = /^[A-Za-z0-9_-]{1,64}$/;

export interface ReadFeatures {
  /** As the document keeps them, unchecked, by id. */
  readonly features: RawMap;
  readonly notes: readonly string[];
}

/**
 * Features of a `plan.geojson`, by id, as the document keeps them; nothing is checked but that each
 * has an id of its own. A GIS may have been at the file: numbers as ids, the id among the properties,
 * a multi-geometry of one part, and empty columns (null) that other kinds have are all understood.
 * Problems: no JSON, no FeatureCollection, another coordinate system, more than 100,000 features.
 */
export function readPlanGeoJson(text: string): Result<ReadFeatures> {
  const where = 'plan.geojson';
  const json = parseJson(text);
  if (json === undefined) return notJson(where);
  if (!isObject(json) || json.type !== 'FeatureCollection' || !Array.isArray(json.features)) {
    return problem(
      'project-plan-form',
      'plan.geojson is not a list of features.',
      'Save the project again, or put a GeoJSON FeatureCollection in its place.',
      where,
    );
  }
  if (!isLongitudeLatitude(json.crs)) {
    return problem(
      'project-plan-crs',
      'plan.geojson was saved in another coordinate system than longitude and latitude.',
      'Save it again in WGS 84 (EPSG:4326).',
      where,
    );
  }
  if (json.features.length > MOST_FEATURES) {
    return problem(
      'project-plan-large',
      `plan.geojson holds ${json.features.length} features, more than a site plan has.`,
      'Open it as a drawing and take over what you need.',
      where,
    );
  }
  return ok(byId(json.features));
}

function byId(list: readonly unknown[]): ReadFeatures {
  const features: Record<string, unknown> = {};
  let strange = 0;
  let renamed = 0;
  let number = 0;
  const freeId = (): string => {
    do number++;
    while (Object.hasOwn(features, `added-${number}`));
    return `added-${number}`;
  };
  for (const item of list) {
    if (!isObject(item) || !isObject(item.geometry)) {
      strange++;
      continue;
    }
    const given = idOf(item);
    const id = given !== null && !Object.hasOwn(features, given) ? given : freeId();
    if (id !== given) renamed++;
    features[id] = stored(id, item);
  }
  const notes: string[] = [];
  if (strange > 0) notes.push(`${strange} entries of plan.geojson have no shape: left out.`);
  if (renamed > 0)
    notes.push(`${renamed} features of plan.geojson had no id of their own: given one.`);
  return { features, notes };
}

function stored(id: string, { geometry, properties }: RawMap): RawMap {
  const given = isObject(properties) ? properties : {};
  const own: Record<string, unknown> = {};
  for (const [key, value] of Object.entries(given)) {
    // A GIS writes every column of every feature: an empty one says nothing.
    if (value !== null && !shellNames.includes(key) && key !== 'id' && key !== '__proto__') {
      own[key] = value;
    }
  }
  const { kind, name, locked, hidden } = given;
  return {
    id,
    kind,
    geometry: single(geometry as RawMap),
    properties: own,
    ...(typeof name === 'string' && { name }),
    ...(typeof locked === 'boolean' && { locked }),
    ...(typeof hidden === 'boolean' && { hidden }),
  };
}

/** A multi-geometry of one part as that part. */
function single(geometry: RawMap): RawMap {
  const { type, coordinates } = geometry;
  const one = /^Multi(Point|LineString|Polygon)$/.exec(String(type))?.[1];
  if (one === undefined || !Array.isArray(coordinates) || coordinates.length !== 1) return geometry;
  return { type: one, coordinates: coordinates[0] as unknown };
}

function idOf({ id, properties }: RawMap): string | null {
  for (const given of [id, isObject(properties) ? properties.id : undefined]) {
    const text = typeof given === 'number' ? String(given) : given;
    if (typeof text === 'string' && ID.test(text) && text !== '__proto__') return text;
  }
  return null;
}

/** The member that RFC 7946 took out again; GIS still write it. */
function isLongitudeLatitude(crs: unknown): boolean {
  if (crs === undefined || crs === null) return true;
  const name = isObject(crs) && isObject(crs.properties) ? crs.properties.name : undefined;
  return typeof name === 'string' && /(CRS84|EPSG:+4326|EPSG:+4269)$/i.test(name);
}
