import type { PlanFeature } from '../../geo/plan/feature.ts';
import { nextName } from '../../geo/plan/free-name.ts';
import type { Kind } from '../../geo/plan/kinds.ts';
import { kindWords } from '../words/kind-words.ts';

/**
 * Features brought in under names that are new in the plan: their own, with a number behind where it
 * is taken, and without one the next free name of their kind, as drawn ones have.
 */
export function broughtNames(
  features: readonly PlanFeature[],
  plan: ReadonlySet<string>,
): readonly PlanFeature[] {
  const names = new Set(plan);
  const given = (feature: PlanFeature, wished: string): PlanFeature => {
    const name = nextName(wished, names);
    names.add(name);
    return { ...feature, name };
  };
  const named = features.map((one) => (one.name === '' ? one : given(one, one.name)));
  const last = new Map<Kind, string>();
  return named.map((one) => {
    if (one.name !== '') return one;
    const made = given(one, last.get(one.kind) ?? `${kindWords[one.kind].one} 1`);
    last.set(one.kind, made.name);
    return made;
  });
}
