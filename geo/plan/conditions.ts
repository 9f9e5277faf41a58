import * as v from 'valibot';
import { ok, problem, type Result } from '../result.ts';

/** What the strip under the map moves: saved with the plan, never part of undo. */
export interface Conditions {
  readonly rain: {
    readonly depthMeters: number;
    readonly durationHours: number;
    /** How wet the ground is when the rain begins. */
    readonly soil: 'dry' | 'average' | 'wet';
  };
  /** Where it blows from, degrees clockwise from true north; null direction is variable or calm. */
  readonly wind: { readonly fromDegrees: number | null; readonly speedMetersPerSecond: number };
  /** Instant, ISO 8601 in UTC. */
  readonly hourUtc: string;
}

/** The demo's storm (1.70 in in 6 h), a fair NW wind and a November evening. */
export const defaultConditions: Conditions = {
  rain: { depthMeters: 0.04318, durationHours: 6, soil: 'average' },
  wind: { fromDegrees: 315, speedMetersPerSecond: 4 },
  hourUtc: '2026-11-14T21:10:00Z',
};

const finite = v.pipe(v.number(), v.finite());

const schemas = {
  rain: v.object({
    depthMeters: v.pipe(finite, v.minValue(0), v.maxValue(2)),
    durationHours: v.pipe(finite, v.gtValue(0), v.maxValue(240)),
    soil: v.optional(v.picklist(['dry', 'average', 'wet']), 'average'),
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

export function isConditionKey(key: string): key is keyof Conditions {
  return Object.hasOwn(schemas, key);
}

/** Checks one condition from anywhere. */
export function parseCondition<K extends keyof Conditions>(
  key: K,
  value: unknown,
): Result<Conditions[K]> {
  const parsed = v.safeParse(schemas[key] as v.GenericSchema, value);
  if (parsed.success) return ok(parsed.output as Conditions[K]);
  return problem(
    'condition-invalid',
    `The condition ${key} does not fit the plan: ${parsed.issues[0].message}.`,
    'Set it anew on the strip under the map.',
    key,
  );
}
