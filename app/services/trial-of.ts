import { parseFeature, type PlanFeature } from '../../geo/plan/feature.ts';
import { nameAfter } from '../../geo/plan/free-name.ts';
import type { Kind } from '../../geo/plan/kinds.ts';
import type { Result } from '../../geo/result.ts';
import type { Trial, TrialSize } from '../store/shape-state.ts';
import type { Made } from '../workers/construct.ts';
import { partsOf } from './parts-of.ts';

/** What becomes of the shapes that were made. */
export type Becoming =
  /** The first source has them; further sources, merged into it, go. */
  | { readonly into: 'itself' }
  /** Features of their own, beside what they were made of. */
  | { readonly into: 'new'; readonly kind: Kind };

/** The plan's names and ids, as a trial needs them. */
export interface Naming {
  readonly names: ReadonlySet<string>;
  readonly newId: () => string;
}

/** What the plan would be with the shapes that were made of some features. */
export function trialOf(
  sources: readonly PlanFeature[],
  made: Result<readonly Made[]>,
  becoming: Becoming,
  naming: Naming,
): Trial {
  const of = Object.fromEntries(sources.map((source) => [source.id, source]));
  if (!made.ok) return { features: {}, sizes: {}, of, selectAfter: null, problem: made.problem };
  const [source, ...others] = sources;
  const geometries = made.value.map(({ geometry }) => geometry);
  let parts: PlanFeature[];
  if (becoming.into === 'itself') {
    parts = partsOf(source, geometries, naming.names, naming.newId);
  } else {
    const parsed = parseFeature(newOne(source, becoming.kind, made.value[0], naming));
    if (!parsed.ok) {
      return { features: {}, sizes: {}, of, selectAfter: null, problem: parsed.problem };
    }
    parts = partsOf(parsed.value, geometries, naming.names, naming.newId);
  }
  const features: Record<string, PlanFeature | null> = {};
  const sizes: Record<string, TrialSize> = {};
  if (becoming.into === 'itself') for (const { id } of others) features[id] = null;
  parts.forEach((part, i) => {
    features[part.id] = part;
    sizes[part.id] = made.value[i];
  });
  return { features, sizes, of, selectAfter: parts[0].id, problem: null };
}

function newOne(source: PlanFeature, kind: Kind, { geometry }: Made, naming: Naming): unknown {
  const isSameKind = kind === source.kind;
  const same = geometry.type === source.geometry.type;
  const name = nameAfter(same ? `Beside ${source.name}` : `Around ${source.name}`, naming.names);
  const properties = isSameKind ? source.properties : defaultsFor(source, kind);
  return { id: naming.newId(), kind, name: source.name ? name : '', geometry, properties };
}

/** No-go ground has a reason: what it was drawn around tells it. */
function defaultsFor(source: PlanFeature, kind: Kind): Readonly<Record<string, unknown>> {
  if (kind !== 'no-go') return {};
  const { use } = source.properties as { use?: unknown };
  if (source.kind === 'power-line' || source.kind === 'buried-line') return { reason: 'utility' };
  if (source.kind === 'structure' && use === 'stream') return { reason: 'stream-buffer' };
  if (source.kind === 'property-line') return { reason: 'neighbour' };
  return { reason: 'other' };
}
