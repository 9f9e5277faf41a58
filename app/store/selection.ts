import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { Session } from './session.ts';

type Selection = Pick<Session, 'selectedId' | 'alsoSelected'>;

/** Ids of all that is selected; the one whose panel is open comes first. */
export function selectedIds({ selectedId, alsoSelected }: Selection): readonly string[] {
  return selectedId === null ? [] : [selectedId, ...alsoSelected];
}

/** What is selected, as it is in the plan. */
export function selectedFeatures(state: Selection & Pick<Session, 'features'>): PlanFeature[] {
  return selectedIds(state).flatMap((id) => state.features[id] ?? []);
}

/** Only this, or nothing. */
export function selectOnly(id: string | null): Selection {
  return { selectedId: id, alsoSelected: [] };
}

/** Several, the first of them in the panel. */
export function selectAll(ids: readonly string[]): Selection {
  return { selectedId: ids[0] ?? null, alsoSelected: ids.slice(1) };
}

/** Adds one to what is selected, or takes it out again. */
export function toggleSelected(state: Selection, id: string): Selection {
  const ids = selectedIds(state);
  return selectAll(ids.includes(id) ? ids.filter((one) => one !== id) : [...ids, id]);
}

/** What is left of the selection in another state of the plan. */
export function keptSelection(
  state: Selection & Pick<Session, 'features'>,
  features: Session['features'],
): Selection | null {
  const ids = selectedIds(state);
  // A feature that is not in the plan yet, being drawn, is no loss.
  const kept = ids.filter(
    (id) => Object.hasOwn(features, id) || !Object.hasOwn(state.features, id),
  );
  return kept.length === ids.length ? null : selectAll(kept);
}
