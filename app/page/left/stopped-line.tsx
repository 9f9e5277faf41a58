import type { ReactElement } from 'react';
import { useServices } from '../services.ts';

/** In the place of what is waited for, once the user has stopped it: says so, and goes on. */
export function StoppedLine({ what = '' }: { readonly what?: string }): ReactElement {
  const services = useServices();
  return (
    <p className="narrow aside-line" role="status">
      <b>Stopped.</b> {what}{' '}
      <button type="button" className="text-button" onClick={() => services.goOnWork()}>
        Go on
      </button>
    </p>
  );
}
