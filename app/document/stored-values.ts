import * as v from 'valibot';
import type { Conditions } from '../../geo/plan/conditions.ts';
import { parseFeature } from '../../geo/plan/feature.ts';
import { parseSetting, settingKeys, type SettingKey } from '../../geo/plan/settings.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import { ok, problem, type Result } from '../../geo/result.ts';
import type { PhotoRecord } from '../../geo/raster/photo-record.ts';

/** The maps of the document. Conditions are saved but are not part of undo. */
export type UndoableMap = 'features' | 'settings' | 'grounds' | 'photos';
export type MapName = UndoableMap | 'conditions';
export const undoableMaps: readonly UndoableMap[] = ['features', 'settings', 'grounds', 'photos'];
export const mapNames: readonly MapName[] = [...undoableMaps, 'conditions'];

const text = v.pipe(v.string(), v.maxLength(2000));
const finite = v.pipe(v.number(), v.finite());
const positive = v.pipe(finite, v.gtValue(0));
const count = v.pipe(v.number(), v.integer(), v.minValue(1));
const hash = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/, 'not a content hash'));
const epsg = v.nullable(v.pipe(v.number(), v.integer()));

const groundRecord = v.object({
  id: hash,
  name: text,
  place: v.object({
    width: count,
    height: count,
    west: finite,
    north: finite,
    cellWidth: positive,
    cellHeight: positive,
    frame: v.object({
      epsg,
      name: text,
      datum: v.picklist(['NAD83', 'NAD83(2011)', 'WGS84']),
      proj: text,
    }),
    cellGroundAreaSquareMeters: positive,
    convergenceDegrees: finite,
  }),
  bounds: v.tuple([finite, finite, finite, finite]),
  surveyedOn: v.nullable(v.pipe(v.string(), v.regex(/^\d{4}(-\d{2}-\d{2})?$/, 'not a date'))),
  clearing: v.picklist(['before-clearing', 'after-clearing', 'unknown']),
  verticalErrorMeters: v.nullable(v.pipe(finite, v.minValue(0))),
  vertical: v.object({
    unit: v.nullable(v.picklist(['metre', 'us-survey-foot', 'international-foot'])),
    datum: v.picklist(['NAVD88', 'ellipsoid', 'unknown']),
    epsg,
  }),
  sourceCrsName: text,
  sourceFiles: v.array(text),
  sourceCellMeters: positive,
  notes: v.array(text),
}) satisfies v.GenericSchema<unknown, GroundRecord>;

const photoRecord = v.object({
  id: hash,
  name: text,
  plane: v.object({
    proj: text,
    metersPerUnitEast: positive,
    metersPerUnitNorth: positive,
  }),
  width: count,
  height: count,
  west: finite,
  north: finite,
  cellWidth: positive,
  cellHeight: positive,
  bounds: v.tuple([finite, finite, finite, finite]),
  cellMeters: positive,
  sourceFiles: v.array(text),
  notes: v.array(text),
}) satisfies v.GenericSchema<unknown, PhotoRecord>;

const conditions = {
  rain: v.object({
    depthMeters: v.pipe(finite, v.minValue(0), v.maxValue(2)),
    durationHours: v.pipe(finite, v.gtValue(0), v.maxValue(240)),
  }),
  wind: v.object({
    fromDegrees: v.nullable(v.pipe(finite, v.minValue(0), v.maxValue(360))),
    speedMetersPerSecond: v.pipe(finite, v.minValue(0), v.maxValue(100)),
  }),
  hourUtc: v.pipe(
    v.string(),
    v.regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d+)?)?Z$/, 'not an instant in UTC'),
    v.check((instant) => Number.isFinite(Date.parse(instant)), 'not an instant in UTC'),
  ),
} satisfies { [K in keyof Conditions]: v.GenericSchema<unknown, Conditions[K]> };

/** Checks one value on its way into the document, or as it is found there. */
export function parseStored(map: MapName, key: string, value: unknown): Result<unknown> {
  // The one key that a plain object cannot hold as its own.
  if (key === '__proto__') return unreadable('A part of the plan has a forbidden id', key);
  switch (map) {
    case 'features':
      return filedUnder(key, parseFeature(value));
    case 'settings':
      if (settingKeys.includes(key as SettingKey)) return parseSetting(key as SettingKey, value);
      return unreadable(`The setting ${key} is not known`, key);
    case 'grounds':
      return filedUnder(key, checked(groundRecord, 'ground', key, value));
    case 'photos':
      return filedUnder(key, checked(photoRecord, 'photo', key, value));
    case 'conditions':
      if (Object.hasOwn(conditions, key)) {
        return checked<unknown>(conditions[key as keyof Conditions], 'condition', key, value);
      }
      return unreadable(`The condition ${key} is not known`, key);
  }
}

function checked<T>(
  schema: v.GenericSchema<unknown, T>,
  noun: string,
  key: string,
  value: unknown,
): Result<T> {
  const parsed = v.safeParse(schema, value);
  if (parsed.success) return ok(parsed.output);
  const first = parsed.issues[0];
  const path = v.getDotPath(first);
  const at = path === null ? '' : ` (${path})`;
  return unreadable(`A ${noun} does not fit the plan${at}: ${first.message}`, key);
}

function filedUnder<T extends { readonly id: string }>(key: string, result: Result<T>): Result<T> {
  if (!result.ok || result.value.id === key) return result;
  return unreadable(`${result.value.id} is filed under another id, ${key}`, key);
}

function unreadable(what: string, where: string): Result<never> {
  return problem('value-invalid', `${what}.`, 'Correct it or leave it out.', where);
}
