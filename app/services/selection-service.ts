import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { Services } from '../page/services.ts';
import { toggleSelected } from '../store/selection.ts';
import { session } from '../store/session.ts';
import type { PlanAtHand } from './current-project.ts';

type SelectionServices = Pick<
  Services,
  'toggleSelected' | 'selectSeveral' | 'setLocked' | 'setHidden' | 'deleteFeatures'
>;

/** Several features at once; each call that changes them is one undo step. */
export function selectionServices(plan: PlanAtHand): SelectionServices {
  // Whatever selects one thing by itself puts the others down.
  session.subscribe((now, before) => {
    if (now.selectedId === before.selectedId || now.alsoSelected !== before.alsoSelected) return;
    if (now.alsoSelected.length > 0) session.setState({ alsoSelected: [] });
  });

  const change = (
    ids: readonly string[],
    next: (feature: PlanFeature) => PlanFeature | null,
  ): void => {
    const { features } = session.getState();
    const changed: Record<string, PlanFeature | null> = {};
    for (const id of ids) {
      const feature = features[id];
      if (feature) changed[id] = next(feature);
    }
    const done = plan.document.transact({ features: changed });
    if (!done.ok) session.setState({ problem: done.problem });
  };

  return {
    toggleSelected: (id) => session.setState((state) => toggleSelected(state, id)),
    selectSeveral: (on) => session.setState({ selectingSeveral: on }),
    setLocked: (ids, locked) => change(ids, (feature) => ({ ...feature, locked })),
    setHidden: (ids, hidden) => change(ids, (feature) => ({ ...feature, hidden })),
    deleteFeatures: (ids) => change(ids, (feature) => (feature.locked ? feature : null)),
  };
}
