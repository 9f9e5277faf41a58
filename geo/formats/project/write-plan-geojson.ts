import { canonicalJson } from '../../plan/canonical-json.ts';
import type { Position } from '../../plan/feature.ts';
import { isObject, type RawMap, type RawPlan } from '../../plan/raw-plan.ts';
import { turnRings } from '../vector/out-feature.ts';

/** Names among a feature's properties in the file that are the plan's own and not its kind's. */
export const shellNames: readonly string[] = ['kind', 'name', 'locked', 'hidden'];

/**
 * `plan.geojson`: every feature of a plan as RFC 7946 GeoJSON, by id, one a line, in canonical form:
 * equal plans give equal text. Kind, name and the kind's own properties are properties there;
 * outlines run counter-clockwise and holes clockwise. What has no geometry to write stays out:
 * `isWritable` tells.
 */
export function writePlanGeoJson({
  features,
  extras,
}: Pick<RawPlan, 'features' | 'extras'>): string {
  const lines = Object.keys(features)
    .sort()
    .filter((id) => isWritable(features[id]))
    .map((id) => canonicalJson(featureObject(id, features[id] as RawMap, extras[id])));
  const all = lines.length > 0 ? `\n${lines.join(',\n')}\n` : '';
  return `{"type":"FeatureCollection","features":[${all}]}\n`;
}

/** Whether a stored value can stand in GeoJSON and come back as it was. */
export function isWritable(value: unknown): value is RawMap {
  if (!isObject(value) || !isObject(value.geometry) || typeof value.kind !== 'string') return false;
  const { id: _, kind: __, geometry: ___, properties = {}, ...rest } = value;
  return (
    isObject(properties) &&
    Object.keys(rest).every((name) => shellNames.includes(name)) &&
    Object.keys(properties).every((name) => !shellNames.includes(name) && name !== 'id')
  );
}

function featureObject(id: string, feature: RawMap, extra: unknown): object {
  const { kind, name, locked, hidden, geometry, properties } = feature;
  return {
    type: 'Feature',
    id,
    geometry: turned(geometry as RawMap),
    properties: {
      ...(isObject(extra) ? extra : {}),
      ...(isObject(properties) ? properties : {}),
      kind,
      ...(name !== undefined && { name }),
      // The rule is not locked and not hidden: said only where it is otherwise.
      ...(locked !== false && locked !== undefined && { locked }),
      ...(hidden !== false && hidden !== undefined && { hidden }),
    },
  };
}

/** Rings the way round that RFC 7946 wants them; geometry that is not sound stays as it is. */
function turned(geometry: RawMap): object {
  const rings = soundRings(geometry);
  return rings ? { ...geometry, coordinates: turnRings(rings, true) } : geometry;
}

/** Which rings of each feature run the other way in the plan than in the file, by id. */
export function turnedRings(features: RawMap): Record<string, number[]> {
  const turned: Record<string, number[]> = {};
  for (const [id, feature] of Object.entries(features)) {
    const rings = isWritable(feature) ? soundRings(feature.geometry as RawMap) : null;
    if (!rings) continue;
    const written = turnRings(rings, true);
    const indexes = rings.flatMap((ring, i) => (written[i] === ring ? [] : [i]));
    if (indexes.length > 0) turned[id] = indexes;
  }
  return turned;
}

function soundRings({ type, coordinates }: RawMap): readonly (readonly Position[])[] | null {
  const isSound =
    type === 'Polygon' &&
    Array.isArray(coordinates) &&
    coordinates.every((ring) => Array.isArray(ring) && ring.every(isPosition));
  return isSound ? (coordinates as Position[][]) : null;
}

function isPosition(value: unknown): boolean {
  return Array.isArray(value) && typeof value[0] === 'number' && typeof value[1] === 'number';
}
