import type { ReactElement, ReactNode } from 'react';
import { actionNamed } from '../actions/registry.ts';
import { shownKey } from '../actions/keys.ts';
import { session } from '../store/session.ts';
import { useSession } from '../store/use-session.ts';
import { keysHere } from './keys-here.ts';
import { useServices } from './services.ts';

/** A button for one action of the registry: its words, its key, and when it can be pressed. */
export function ActionButton({
  name,
  look = '',
  pressed,
  hint,
  children,
}: {
  readonly name: string;
  readonly look?: string;
  readonly pressed?: boolean;
  /** Said besides its name where the pointer rests on it. */
  readonly hint?: string;
  readonly children?: ReactNode;
}): ReactElement {
  const action = actionNamed(name);
  const enabled = useSession((state) => action.enabled(state));
  const letterKeys = useSession((state) => state.letterKeys);
  const services = useServices();
  const key = shownKey(action, letterKeys);
  const title = key ? `${action.label} (${keysHere(key)})` : action.label;
  return (
    <button
      type="button"
      className={`button ${look}`}
      disabled={!enabled}
      aria-pressed={pressed}
      title={hint ? `${title}: ${hint}` : title}
      onClick={() => action.perform(services, session.getState())}
    >
      {children ?? action.label}
    </button>
  );
}
