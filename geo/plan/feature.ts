import * as v from 'valibot';
import { ok, problem, type Result } from '../result.ts';
import { kinds, kindNames, type GeometryType, type Kind, type PropertiesOf } from './kinds.ts';

/** [longitude, latitude], degrees, rounded to 1e-9 (a tenth of a millimetre). */
export type Position = [number, number];

export type PlanGeometry =
  | { readonly type: 'Point'; readonly coordinates: Position }
  | { readonly type: 'LineString'; readonly coordinates: readonly Position[] }
  | { readonly type: 'Polygon'; readonly coordinates: readonly (readonly Position[])[] };

/** One drawn feature: a plain value, whole under its id. */
export interface PlanFeature<K extends Kind = Kind> {
  readonly id: string;
  readonly kind: K;
  readonly name: string;
  readonly geometry: PlanGeometry;
  readonly properties: PropertiesOf<K>;
  readonly locked: boolean;
  readonly hidden: boolean;
}

const position = v.pipe(
  v.array(v.number()),
  v.minLength(2),
  v.check(
    (p) =>
      Number.isFinite(p[0]) &&
      Number.isFinite(p[1]) &&
      Math.abs(p[0]!) <= 180 &&
      Math.abs(p[1]!) <= 90,
    'a position must be longitude within ±180 and latitude within ±90',
  ),
  v.transform((p): Position => [roundDegrees(p[0]!), roundDegrees(p[1]!)]),
);
const line = v.pipe(v.array(position), v.minLength(2, 'a line needs two points'));
const ring = v.pipe(
  v.array(position),
  v.minLength(4, 'a ring needs three corners and the first again'),
  v.check((r) => samePosition(r[0]!, r[r.length - 1]!), 'a ring must end where it starts'),
);

const geometrySchemas = {
  Point: v.object({ type: v.literal('Point'), coordinates: position }),
  LineString: v.object({ type: v.literal('LineString'), coordinates: line }),
  Polygon: v.object({
    type: v.literal('Polygon'),
    coordinates: v.pipe(v.array(ring), v.minLength(1, 'a polygon needs an outline')),
  }),
} satisfies Record<GeometryType, unknown>;

const shell = v.object({
  id: v.pipe(v.string(), v.regex(/^[A-Za-z0-9_-]{1,64}$/, 'an id is 1 to 64 letters or digits')),
  kind: v.picklist(kindNames),
  name: v.pipe(v.string(), v.maxLength(200)),
  geometry: v.looseObject({ type: v.string() }),
  properties: v.optional(v.record(v.string(), v.unknown()), {}),
  locked: v.optional(v.boolean(), false),
  hidden: v.optional(v.boolean(), false),
});

/**
 * Checks and completes one feature from anywhere (document, file, command line): its kind, its
 * geometry type, coordinates in range and rounded to 1e-9 degree, properties with their defaults.
 * Does not look whether outlines cross themselves: `outline-faults.ts` does.
 */
export function parseFeature(input: unknown): Result<PlanFeature> {
  const outer = v.safeParse(shell, input);
  if (!outer.success) return invalid(outer.issues, input);
  const { geometry, properties, ...rest } = outer.output;
  const definition = kinds[rest.kind];
  const type = geometry.type as GeometryType;
  if (!(definition.geometry as readonly string[]).includes(type)) {
    return problem(
      'feature-geometry-kind',
      `A ${rest.kind} cannot be drawn as ${geometry.type}.`,
      `Draw it as ${definition.geometry.join(' or ')}.`,
      rest.name || rest.id,
    );
  }
  const shape = v.safeParse(geometrySchemas[type], geometry);
  if (!shape.success) return invalid(shape.issues, input);
  const own = v.safeParse(definition.properties as v.GenericSchema, properties);
  if (!own.success) return invalid(own.issues, input);
  return ok({
    ...rest,
    geometry: shape.output as PlanGeometry,
    properties: own.output as PropertiesOf<Kind>,
  });
}

export function isKind<K extends Kind>(feature: PlanFeature, kind: K): feature is PlanFeature<K> {
  return feature.kind === kind;
}

export function roundDegrees(degrees: number): number {
  return Math.round(degrees * 1e9) / 1e9;
}

export function samePosition(a: Position, b: Position): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

function invalid(issues: readonly v.BaseIssue<unknown>[], input: unknown): Result<never> {
  const first = issues[0]!;
  const path = v.getDotPath(first) ?? 'feature';
  const id = (input as { id?: unknown } | null)?.id;
  return problem(
    'feature-invalid',
    `A feature does not fit the plan: ${path}: ${first.message}.`,
    'Correct it or leave it out.',
    typeof id === 'string' ? id : undefined,
  );
}
