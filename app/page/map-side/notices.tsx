import type { ReactElement } from 'react';
import { isStopped } from '../../store/left-undone.ts';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';
import { useLasting } from '../use-clock.ts';
import { upperFirst } from '../../words/upper-first.ts';
import { Said } from '../said.tsx';

/** Problems that have an offered repair. */
const repairable: readonly string[] = ['outline-crosses-itself'];

/** What went wrong, with its way out; an outline that crosses itself can be mended on the spot. */
export function ProblemNotice(): ReactElement | null {
  const problem = useSession((state) => state.problem);
  const services = useServices();
  if (!problem) return null;
  return (
    <section className="notice" role="alert">
      <p>
        <Said>
          <b>{problem.what}</b> {problem.wayOut}
        </Said>
      </p>
      <div className="tools">
        {repairable.includes(problem.code) && (
          <button type="button" className="button lead" onClick={() => services.repairOutline()}>
            Mend the outline
          </button>
        )}
        <button type="button" className="button" onClick={() => services.dismissProblem()}>
          {repairable.includes(problem.code) ? 'Leave it' : 'Understood'}
        </button>
      </div>
    </section>
  );
}

/** Answers that take longer than a blink: what is being done, how far it is, and a stop. */
export function WorkingNotice(): ReactElement | null {
  const working = useSession((state) => state.working);
  const services = useServices();
  const stopped = useSession(isStopped);
  const lasting = useLasting(working !== null && working.share < 1, 300);
  if (stopped) {
    return (
      <section className="working narrow" role="status">
        <span>Stopped. What is marked or pale is as it was before.</span>
        <button type="button" className="button" onClick={() => services.goOnWork()}>
          Go on
        </button>
      </section>
    );
  }
  if (!working || !lasting) return null;
  const percent = Math.round(working.share * 100);
  return (
    <section className="working narrow" role="status">
      <span>
        <Said>
          {upperFirst(working.doing)} <span className="aside">{percent} %</span>
        </Said>
      </span>
      <progress max={100} value={percent} aria-label={`${working.doing}, ${percent} %`} />
      <button type="button" className="button" onClick={() => services.stopWork()}>
        Stop
      </button>
    </section>
  );
}
