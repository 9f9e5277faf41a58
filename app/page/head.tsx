import type { ReactElement } from 'react';
import { useSession } from '../store/use-session.ts';
import { ago } from '../words/clock.ts';
import { ActionButton } from './action-button.tsx';
import { useServices } from './services.ts';
import { useClock } from './use-clock.ts';

/** Name, undo and redo, and whether what was drawn is kept. */
export function Head(): ReactElement {
  return (
    <header className="head">
      <h1>Assart</h1>
      <div className="head-tools">
        <ActionButton name="undo" look="plain" />
        <ActionButton name="redo" look="plain" />
      </div>
      <Saved />
    </header>
  );
}

function Saved(): ReactElement {
  const saved = useSession((state) => state.saved);
  const services = useServices();
  const now = useClock(1000);
  if (saved.state === 'failed') {
    return (
      <div className="save-failed" role="alert">
        <span>
          <b>Could not save.</b> {saved.problem.what} {saved.problem.wayOut}
        </span>
        <button type="button" className="button" onClick={() => services.saveAgain()}>
          Save again
        </button>
      </div>
    );
  }
  const words =
    saved.state === 'saving'
      ? 'saving …'
      : saved.at === null
        ? 'nothing to save yet'
        : `saved ${ago(now - saved.at)}`;
  return <span className="saved aside narrow">{words}</span>;
}
