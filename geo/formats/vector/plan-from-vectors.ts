import * as v from 'valibot';
import { parseFeature, type PlanFeature, type PlanGeometry } from '../../plan/feature.ts';
import { kinds, type GeometryType, type Kind } from '../../plan/kinds.ts';
import { problem, type Problem } from '../../result.ts';
import { soilOfColumns } from './soil-columns.ts';
import type { VectorFeature } from './vector-types.ts';

export interface PlanFromVectors {
  readonly features: readonly PlanFeature[];
  /** What could not become the chosen kind, and why. */
  readonly leftOut: readonly { readonly feature: VectorFeature; readonly problem: Problem }[];
}

/**
 * Chosen features of a file as features of the plan. A line becomes an outline where its kind is an
 * area (closed with a straight line if need be); an outline becomes a line where its kind is one.
 * Properties that our own files carry come back; the rest keep their defaults.
 * @param kindOf the kind of each as the user left it; null leaves it out without a word
 * @param newId ids for the plan, one call a feature
 */
export function toPlanFeatures(
  chosen: readonly VectorFeature[],
  kindOf: (feature: VectorFeature) => Kind | null,
  newId: () => string,
): PlanFromVectors {
  const features: PlanFeature[] = [];
  const leftOut: { feature: VectorFeature; problem: Problem }[] = [];
  for (const feature of chosen) {
    const kind = kindOf(feature);
    if (kind === null) continue;
    const made = planFeature(feature, kind, newId());
    if (made.ok) features.push(made.value);
    else leftOut.push({ feature, problem: made.problem });
  }
  return { features, leftOut };
}

function planFeature(feature: VectorFeature, kind: Kind, id: string) {
  const geometry = geometryFor(feature.geometry, kinds[kind].geometry);
  if (geometry === null) {
    const wanted = kinds[kind].geometry.map((type) => SHAPES[type]).join(' or ');
    return problem(
      'vector-kind',
      `${feature.name || 'This feature'} is ${SHAPES[feature.geometry.type]}, not ${wanted}.`,
      'Choose another kind for it.',
      feature.file,
    );
  }
  const properties = { ...guessed(feature, kind), ...ownProperties(feature, kind) };
  const part = feature.part === null ? '' : ` ${feature.part.index + 1}`;
  const name = feature.name === '' ? '' : `${feature.name.slice(0, 190)}${part}`;
  return parseFeature({ id, kind, name, geometry, properties });
}

const SHAPES: Readonly<Record<GeometryType, string>> = {
  Point: 'a point',
  LineString: 'a line',
  Polygon: 'an area',
};

/** The geometry as a kind can be drawn, null where it cannot. */
function geometryFor(
  geometry: PlanGeometry,
  allowed: readonly GeometryType[],
): PlanGeometry | null {
  if (allowed.includes(geometry.type)) return geometry;
  if (geometry.type === 'LineString' && allowed.includes('Polygon')) {
    const line = geometry.coordinates;
    const [first, last] = [line[0], line[line.length - 1]];
    const isClosed = first[0] === last[0] && first[1] === last[1];
    const ring = isClosed ? line : [...line, first];
    return ring.length < 4 ? null : { type: 'Polygon', coordinates: [ring] };
  }
  if (geometry.type === 'Polygon' && allowed.includes('LineString')) {
    return { type: 'LineString', coordinates: geometry.coordinates[0] };
  }
  return null;
}

const NO_GO_WORDS: readonly (readonly [string, RegExp])[] = [
  ['wetland', /wetland|swamp|marsh|bog/],
  ['stream-buffer', /stream|creek|river|riparian|buffer/],
  ['flood-zone', /flood/],
  ['utility', /utility|power|pipe|gas|easement/],
  ['neighbour', /neighbou?r/],
  ['cultural-site', /cultur|histor|cemeter|archaeo/],
  ['protected-species', /species|habitat|nest/],
  ['too-steep', /steep|slope/],
];

/** What the file's own words say of properties that must be filled in. */
function guessed(feature: VectorFeature, kind: Kind): Record<string, unknown> {
  if (kind === 'no-go') {
    const words = `${feature.name} ${feature.layer}`.toLowerCase();
    const reason = NO_GO_WORDS.find(([, pattern]) => pattern.test(words))?.[0] ?? 'other';
    return { reason, detail: feature.description };
  }
  if (kind === 'soil-area') return soilOfColumns(feature.attributes);
  if (kind === 'note') return { text: feature.description };
  if (kind === 'property-line') {
    return { basis: feature.sort === 'track' ? 'walked' : 'parcel-layer' };
  }
  return {};
}

/** Properties of a feature that one of our own files carries, each held to the kind's schema. */
function ownProperties({ attributes }: VectorFeature, kind: Kind): Record<string, unknown> {
  if (attributes.kind !== kind) return {};
  const schemas = kinds[kind].properties.entries as Readonly<Record<string, v.GenericSchema>>;
  const keys = Object.keys(schemas);
  const found: Record<string, unknown> = {};
  keys.forEach((key) => {
    // A shapefile cuts names at ten letters; what two names could mean is left at its default.
    const short = key.slice(0, 10);
    const isClear = keys.filter((one) => one.startsWith(short)).length === 1;
    const stored = attributes[key] ?? (isClear ? attributes[short] : undefined);
    if (stored === undefined) return;
    for (const value of readings(stored)) {
      const parsed = v.safeParse(schemas[key], value);
      if (!parsed.success) continue;
      found[key] = parsed.output;
      return;
    }
  });
  return found;
}

/** What a stored value may have been: itself, a number or JSON written as text, yes or no. */
function readings(stored: string | number): unknown[] {
  if (typeof stored === 'number') return [stored, String(stored)];
  const values: unknown[] = [stored];
  if (stored === 'yes' || stored === 'no') values.push(stored === 'yes');
  try {
    values.push(JSON.parse(stored));
  } catch {
    // Plain text, as most are.
  }
  return values;
}
