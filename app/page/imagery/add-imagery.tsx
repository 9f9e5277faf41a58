import { useId, useState, type ReactElement } from 'react';
import { nationalImagery } from '../../../geo/formats/imagery/national-imagery.ts';
import type { ImageryAsking } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';

/** Imagery from elsewhere: the public one, or any address. Nothing is fetched before a choice. */
export function AddImagery(): ReactElement {
  const services = useServices();
  const asking = useSession((state) => state.imageryAsking);
  const hasNational = useSession((state) =>
    state.settings.imagery.some((layer) => layer.template === nationalImagery.template),
  );
  const [typed, setTyped] = useState('');
  const id = useId();
  if (asking?.state === 'choosing') return <Choose asking={asking} />;
  return (
    <div className="add-imagery narrow">
      <h2>Imagery from elsewhere</h2>
      <p className="aside" id={`${id}-note`}>
        Nothing is fetched until you choose it. From then on that server can tell which ground you
        look at.
      </p>
      <button
        type="button"
        className="button"
        disabled={hasNational}
        onClick={() => services.addNationalImagery()}
      >
        {hasNational ? 'National imagery is listed above' : 'National imagery, public domain'}
      </button>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (typed.trim() !== '') services.addImagery(typed);
        }}
      >
        <label htmlFor={id}>Address of tiles, WMS or WMTS</label>
        <input
          id={id}
          className="written"
          value={typed}
          inputMode="url"
          autoComplete="off"
          spellCheck={false}
          placeholder="https://…/{z}/{x}/{y}.jpg"
          aria-describedby={`${id}-note`}
          onChange={(event) => setTyped(event.target.value)}
        />
        {asking?.state === 'reading' ? (
          <p role="status">
            Asking the server …{' '}
            <button type="button" className="button" onClick={() => services.leaveImagery()}>
              Stop
            </button>
          </p>
        ) : (
          <button type="submit" className="button lead" disabled={typed.trim() === ''}>
            Add it
          </button>
        )}
      </form>
      {asking?.state === 'refused' && (
        <p className="finding" role="alert">
          <b>{asking.problem.what}</b> {asking.problem.wayOut}
        </p>
      )}
    </div>
  );
}

function Choose({
  asking: { offer },
}: {
  readonly asking: Extract<ImageryAsking, { state: 'choosing' }>;
}): ReactElement {
  const services = useServices();
  const [sought, setSought] = useState('');
  const id = useId();
  const found = offer.layers.filter(({ name, key }) =>
    `${name} ${key}`.toLowerCase().includes(sought.trim().toLowerCase()),
  );
  const shown = found.slice(0, mostShown);
  return (
    <div className="add-imagery narrow">
      <h2>Which layer of {offer.title}?</h2>
      {offer.layers.length > mostShown && (
        <>
          <label htmlFor={id}>Find by name</label>
          <input
            id={id}
            className="written"
            value={sought}
            autoComplete="off"
            onChange={(event) => setSought(event.target.value)}
          />
        </>
      )}
      <ul className="offered">
        {shown.map(({ key, name }) => (
          <li key={key}>
            <button
              type="button"
              className="text-button"
              onClick={() => services.chooseImagery(key)}
            >
              {name}
            </button>
          </li>
        ))}
      </ul>
      {found.length > mostShown && (
        <p className="aside">{found.length - mostShown} more: write a part of the name.</p>
      )}
      {offer.leftOut.length > 0 && (
        <p className="aside">
          {offer.leftOut.length} cannot be shown. {offer.leftOut[0]!.title}: {offer.leftOut[0]!.why}
        </p>
      )}
      <button type="button" className="button" onClick={() => services.leaveImagery()}>
        None of them
      </button>
    </div>
  );
}

const mostShown = 20;
