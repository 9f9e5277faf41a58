import { useId, useState, type ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';
import { ElevationButton } from './elevation-button.tsx';

/** Ways to open ground: files of this machine, an address, the invented demo tract. */
export function OpenElevation({ again = false }: { readonly again?: boolean }): ReactElement {
  const services = useServices();
  const hasGround = useSession((state) => state.settings.groundId !== '');
  return (
    <div className="open-elevation">
      <div className="tools">
        <ElevationButton
          words={again ? 'Open other elevation…' : 'Open elevation…'}
          isLead={!again}
          testId="open-elevation"
        />
        {!hasGround && (
          <button type="button" className="button" onClick={() => services.startDemo()}>
            Look at the demo
          </button>
        )}
      </div>
      <p className="narrow aside-line">
        Or drop files anywhere on the page; several tiles of one survey open as one ground, and an
        orthophoto GeoTIFF goes under the drawing. Files stay on this machine.
      </p>
      <AddressForm />
    </div>
  );
}

function AddressForm(): ReactElement {
  const services = useServices();
  const id = useId();
  const [address, setAddress] = useState('');
  const [wrong, setWrong] = useState(false);
  return (
    <details className="fold">
      <summary className="narrow">Open from an address</summary>
      <form
        className="address narrow"
        onSubmit={(event) => {
          event.preventDefault();
          const url = webAddress(address);
          setWrong(url === null);
          if (url !== null) services.openAddress(url);
        }}
      >
        <label htmlFor={id}>Web address of a GeoTIFF</label>
        <input
          id={id}
          className="boxed"
          type="text"
          inputMode="url"
          value={address}
          placeholder="https://"
          aria-invalid={wrong}
          aria-describedby={`${id}-note`}
          onChange={(event) => setAddress(event.target.value)}
        />
        <p id={`${id}-note`} className={wrong ? 'wrong' : 'aside'}>
          {wrong
            ? 'Write a whole address that begins with https://.'
            : 'Nothing is fetched until you press Open; only the parts that are needed are.'}
        </p>
        <button type="submit" className="button">
          Open
        </button>
      </form>
    </details>
  );
}

function webAddress(text: string): string | null {
  try {
    const url = new URL(text.trim());
    return url.protocol === 'https:' || url.protocol === 'http:' ? url.href : null;
  } catch {
    return null;
  }
}
