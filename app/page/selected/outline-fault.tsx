import { useMemo, type ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { outlineProblem } from '../../services/plan-service.ts';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';

/** Why nothing is answered of an outline that crosses itself, and its repair. */
export function OutlineFault({ feature }: { readonly feature: PlanFeature }): ReactElement | null {
  const services = useServices();
  const problem = useMemo(() => outlineProblem(feature), [feature]);
  // While the same is said over the map, once is enough.
  const isSaid = useSession((state) => state.problem?.where === feature.id);
  if (!problem || isSaid) return null;
  return (
    <div className="finding stop">
      <b>{problem.what}</b> {problem.wayOut}
      {problem.code === 'outline-crosses-itself' && (
        <div className="tools">
          <button
            type="button"
            className="button lead"
            onClick={() => services.repairOutline(feature.id)}
          >
            Mend the outline
          </button>
        </div>
      )}
    </div>
  );
}
