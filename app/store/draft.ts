import type { PlanFeature } from '../../geo/plan/feature.ts';
import { ok, type Result } from '../../geo/result.ts';
import { openPlan } from './open-plan.ts';
import { session } from './session.ts';

/** Shows a feature as it is while a gesture lasts; null drops it, and the plan is as before. */
export function setDraft(draft: PlanFeature | null): void {
  session.setState({ draft });
}

/**
 * Ends the gesture: the draft goes into the plan as one undo step, if it differs at all. A draft
 * that does not fit stays a draft, so that nothing drawn is lost, and the problem is shown.
 */
export function commitDraft(): Result<boolean> {
  const { draft } = session.getState();
  if (draft === null) return ok(false);
  const done = openPlan().transact({ features: { [draft.id]: draft } });
  session.setState(done.ok ? { draft: null } : { problem: done.problem });
  return done;
}
