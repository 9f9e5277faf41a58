import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import type { OutlineTrouble } from '../../words/outline-words.ts';
import { useServices } from '../services.ts';

/** Why nothing is answered of an outline that crosses itself, where it does, and its repair. */
export function OutlineFault({
  feature,
  trouble: { problem, at },
}: {
  readonly feature: PlanFeature;
  readonly trouble: OutlineTrouble;
}): ReactElement {
  const services = useServices();
  // While the same is said over the map, once is enough.
  const isSaid = useSession((state) => state.problem?.where === feature.id);
  return (
    <div className="finding stop">
      {isSaid ? (
        <b>No figures until its outline is mended.</b>
      ) : (
        <>
          <b>{problem.what}</b> {problem.wayOut}
        </>
      )}
      <div className="tools">
        {!isSaid && problem.code === 'outline-crosses-itself' && (
          <button
            type="button"
            className="button lead"
            onClick={() => services.repairOutline(feature.id)}
          >
            Mend the outline
          </button>
        )}
        <button type="button" className="button" onClick={() => services.showPlace(at)}>
          Show where
        </button>
      </div>
    </div>
  );
}
