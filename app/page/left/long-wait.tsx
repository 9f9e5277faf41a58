import type { ReactElement } from 'react';
import { isLeftUndone, isWorkedOn, type AnswersNamed } from '../../store/left-undone.ts';
import { useSession } from '../../store/use-session.ts';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { useLasting } from '../use-clock.ts';
import { StoppedLine } from './stopped-line.tsx';
import './left.css';

/**
 * Stands where a long answer will be: what is done, how far it is or what comes first, and a stop;
 * once stopped, how to go on. `doing`: "Looking round every plot".
 */
export function LongWait({
  of,
  doing,
}: {
  readonly of: AnswersNamed;
  readonly doing: string;
}): ReactElement {
  const working = useSession((state) => state.working);
  const isOwn = useSession((state) => isWorkedOn(state, of));
  const isLeft = useSession((state) => isLeftUndone(state, of));
  const services = useServices();
  // What comes at once shows nothing that would flicker.
  const lasting = useLasting(working !== null, 300);
  if (isLeft) return <StoppedLine />;
  const percent = Math.round((working?.share ?? 0) * 100);
  return (
    <div className="long-wait narrow">
      <p className="aside">
        <Said>
          <span role="status">{doing} …</span>
          {working &&
            lasting &&
            (isOwn ? ` ${percent} %` : ` first: ${working.doing}, ${percent} %`)}
        </Said>
      </p>
      {working && lasting && (
        <>
          <progress
            max={100}
            value={percent}
            aria-label={isOwn ? `${doing}, ${percent} %` : `First: ${working.doing}, ${percent} %`}
          />
          <button type="button" className="button" onClick={() => services.stopWork()}>
            Stop
          </button>
        </>
      )}
    </div>
  );
}
