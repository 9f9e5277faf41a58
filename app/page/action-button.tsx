import type { ReactElement, ReactNode } from 'react';
import { actionNamed } from '../actions/registry.ts';
import { keyWords } from '../actions/keys.ts';
import { session } from '../store/session.ts';
import { useSession } from '../store/use-session.ts';
import { useServices } from './services.ts';

const mac = typeof navigator !== 'undefined' && /Mac|iPhone|iPad/.test(navigator.userAgent);

/** A button for one action of the registry: its words, its key, and when it can be pressed. */
export function ActionButton({
  name,
  look = '',
  pressed,
  children,
}: {
  readonly name: string;
  readonly look?: string;
  readonly pressed?: boolean;
  readonly children?: ReactNode;
}): ReactElement {
  const action = actionNamed(name);
  const enabled = useSession((state) => action.enabled(state));
  const services = useServices();
  const key = action.keys[0];
  return (
    <button
      type="button"
      className={`button ${look}`}
      disabled={!enabled}
      aria-pressed={pressed}
      title={key ? `${action.label} (${keyWords(key, mac)})` : action.label}
      onClick={() => action.perform(services, session.getState())}
    >
      {children ?? action.label}
    </button>
  );
}
