import * as v from 'valibot';
import { ok, problem, type Result } from '../result.ts';
import type { GroundRecord } from './ground-record.ts';
import type { PhotoRecord } from './photo-record.ts';

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

/** Checks the record of a ground from anywhere (document, file). Its numbers are not looked at. */
export function parseGroundRecord(value: unknown): Result<GroundRecord> {
  return checked(groundRecord, 'ground', value);
}

/** Checks the record of a photo from anywhere. */
export function parsePhotoRecord(value: unknown): Result<PhotoRecord> {
  return checked(photoRecord, 'photo', value);
}

function checked<T>(schema: v.GenericSchema<unknown, T>, noun: string, value: unknown): Result<T> {
  const parsed = v.safeParse(schema, value);
  if (parsed.success) return ok(parsed.output);
  const first = parsed.issues[0];
  const path = v.getDotPath(first);
  const at = path === null ? '' : ` (${path})`;
  return problem(
    'record-invalid',
    `A ${noun} does not fit the plan${at}: ${first.message}.`,
    'Open its file again.',
  );
}
