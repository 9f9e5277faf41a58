import { canonicalJson } from '../../plan/canonical-json.ts';
import { defaultConditions } from '../../plan/conditions.ts';
import { schemaVersion } from '../../plan/migrations/migrate.ts';
import {
  isObject,
  planMaps,
  type PlanMap,
  type RawMap,
  type RawPlan,
} from '../../plan/raw-plan.ts';
import { defaultSettings } from '../../plan/settings.ts';
import { ok, type Result } from '../../result.ts';
import { parseJson } from './parse-json.ts';
import { newerProject, notAProject, notJson, tooLarge } from './project-error.ts';
import { isWritable, turnedRings } from './write-plan-geojson.ts';

/** A site has a handful. */
const MOST_RECORDS = 500;

/**
 * `settings.json`: everything of a plan that is no feature, in canonical form. Settings and
 * conditions are written whole, so that the file says what was in use. Grounds and photos are lists
 * by id, each with the file in the project that holds it. `turnedRings` says which rings
 * `plan.geojson` has the other way round than the plan, for RFC 7946's sake. What this version does not understand and
 * what GeoJSON cannot hold is written as it was found, under `heldAside`.
 * @param files path in the project of each ground and photo, by id; one without has no file
 */
export function writeSettingsJson(plan: RawPlan, files: Readonly<Record<string, string>>): string {
  const { settings, conditions, grounds, photos, features } = plan;
  const heldAside = [
    ...Object.keys(features)
      .filter((id) => !isWritable(features[id]))
      .map((key) => ({ map: 'features', key, value: features[key] })),
    ...(['grounds', 'photos'] as const).flatMap((map) =>
      Object.keys(plan[map])
        .filter((id) => !isObject(plan[map][id]))
        .map((key) => ({ map, key, value: plan[map][key] })),
    ),
  ].sort((a, b) => (`${a.map}/${a.key}` < `${b.map}/${b.key}` ? -1 : 1));
  const listed = (map: RawMap) =>
    Object.keys(map)
      .sort()
      .filter((id) => isObject(map[id]))
      .map((id) => ({ ...(map[id] as RawMap), id, file: files[id] ?? null }));
  const turned = turnedRings(features);
  const all = {
    schemaVersion,
    settings: { ...defaultSettings, ...settings },
    conditions: { ...defaultConditions, ...conditions },
    grounds: listed(grounds),
    photos: listed(photos),
    ...(Object.keys(turned).length > 0 && { turnedRings: turned }),
    ...(heldAside.length > 0 && { heldAside }),
  };
  return `${canonicalJson(all, 2)}\n`;
}

export interface ReadSettings {
  readonly version: number;
  readonly plan: Omit<RawPlan, 'extras'>;
  /** Path that the file gives for each ground and photo; unchecked. */
  readonly files: RawMap;
  /** Indexes of rings that the plan has the other way round than `plan.geojson`; unchecked. */
  readonly turnedRings: RawMap;
}

/**
 * What a `settings.json` says, unchecked; a plan without a version is of version 0.
 * Problems: no JSON object, a version that is none, a newer version.
 */
export function readSettingsJson(text: string): Result<ReadSettings> {
  const where = 'settings.json';
  const json = parseJson(text);
  if (json === undefined) return notJson(where);
  if (!isObject(json)) return notAProject(where);
  const version = json.schemaVersion ?? 0;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 0) {
    return notAProject(where);
  }
  if (version > schemaVersion) return newerProject(version, schemaVersion, where);
  const records = [json.grounds, json.photos].map((list) =>
    Array.isArray(list) ? list.length : 0,
  );
  if (records[0] + records[1] > MOST_RECORDS) {
    return tooLarge(`The project lists more than ${MOST_RECORDS} grounds and photos.`, where);
  }
  const files: Record<string, unknown> = {};
  const listed = (list: unknown): Record<string, unknown> => {
    const map: Record<string, unknown> = {};
    for (const item of Array.isArray(list) ? list : []) {
      if (!isObject(item) || typeof item.id !== 'string' || item.id === '__proto__') continue;
      const { file, ...record } = item;
      map[item.id] = record;
      files[item.id] = file;
    }
    return map;
  };
  const maps: Record<PlanMap, Record<string, unknown>> = {
    features: {},
    settings: members(json.settings),
    conditions: members(json.conditions),
    grounds: listed(json.grounds),
    photos: listed(json.photos),
  };
  for (const held of Array.isArray(json.heldAside) ? json.heldAside : []) {
    if (!isObject(held) || typeof held.key !== 'string' || held.key === '__proto__') continue;
    const map = planMaps.find((name) => name === held.map);
    if (map && !Object.hasOwn(maps[map], held.key)) maps[map][held.key] = held.value;
  }
  return ok({ version, plan: maps, files, turnedRings: members(json.turnedRings) });
}

function members(value: unknown): Record<string, unknown> {
  if (!isObject(value)) return {};
  return Object.fromEntries(Object.entries(value).filter(([key]) => key !== '__proto__'));
}
