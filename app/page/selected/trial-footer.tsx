import type { ReactElement } from 'react';
import type { Trial } from '../../store/shape-state.ts';
import { useSession } from '../../store/use-session.ts';
import { trialLine } from '../../words/trial-words.ts';
import { useServices } from '../services.ts';

/** In place of a panel's tools: what the change that is tried comes to, and the two ways out. */
export function TrialFooter({ trial }: { readonly trial: Trial }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  return (
    <footer className="trial">
      <p className="narrow" role="status">
        {trial.problem ? (
          <>
            <b>{trial.problem.what}</b> {trial.problem.wayOut}
          </>
        ) : (
          trialLine(trial, units)
        )}
      </p>
      <div className="tools">
        {!trial.problem && (
          <button type="button" className="button lead" onClick={() => services.keepTrial()}>
            Apply
          </button>
        )}
        <button type="button" className="button" onClick={() => services.dropTrial()}>
          Leave
        </button>
      </div>
    </footer>
  );
}
