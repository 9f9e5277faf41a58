import { useId, useState, type ReactElement } from 'react';
import { isShaping } from '../../actions/shaping.ts';
import type { Session } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { offGlobe, placeExamples } from '../../words/place-words.ts';
import { readGroundPlace, type GroundPlace } from '../../words/read-ground-place.ts';
import { ActionButton } from '../action-button.tsx';
import { CrsField } from '../opening/crs-field.tsx';
import { ElevationButton } from '../opening/elevation-button.tsx';
import { useServices } from '../services.ts';

/** On an empty plan, or when asked: the way to one's own ground, by numbers or by a file. */
export function GoToGround(): ReactElement | null {
  const isShown = useSession(isGoToShown);
  const isAsked = useSession((state) => state.placeAsking === 'asked');
  return isShown ? <GoToBox key={String(isAsked)} isAsked={isAsked} /> : null;
}

function isGoToShown(state: Session): boolean {
  const { placeAsking, opening, bringing, desk } = state;
  if (opening || bringing || desk !== null || isShaping(state)) return false;
  if (placeAsking !== null) return placeAsking === 'asked';
  return isBlank(state) && state.projectId !== '';
}

function isBlank({ features, grounds, photos, settings }: Session): boolean {
  return (
    settings.groundId === '' &&
    [features, grounds, photos].every((map) => Object.keys(map).length === 0)
  );
}

function GoToBox({ isAsked }: { readonly isAsked: boolean }): ReactElement {
  const services = useServices();
  const blank = useSession(isBlank);
  const title = blank ? 'Go to your ground' : 'Go to a place';
  return (
    <section
      className="go-to"
      aria-label={title}
      onKeyDown={(event) => {
        if (event.key === 'Escape') services.askPlace(false);
      }}
    >
      <div className="go-to-head">
        <h3>{title}</h3>
        <button type="button" className="button plain" onClick={() => services.askPlace(false)}>
          Not now
        </button>
      </div>
      <PlaceForm isAsked={isAsked} />
      {blank && (
        <div className="tools">
          <ElevationButton words="Open elevation…" isLead={false} />
          <ActionButton name="bring-in">Bring in drawings…</ActionButton>
        </div>
      )}
    </section>
  );
}

type Projected = Extract<GroundPlace, { is: 'projected' }>;

function PlaceForm({ isAsked }: { readonly isAsked: boolean }): ReactElement {
  const services = useServices();
  const id = useId();
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState('');
  const [pair, setPair] = useState<Projected | null>(null);
  const [epsg, setEpsg] = useState<number | null>(null);

  async function goIn(code: number, { x, y }: Projected): Promise<void> {
    const place = await services.placeIn(code, x, y);
    if (place.ok) services.goToPlace(place.value);
    else setWrong(`${place.problem.what} ${place.problem.wayOut}`);
  }

  async function go(): Promise<void> {
    if (pair && epsg !== null) return goIn(epsg, pair);
    const read = readGroundPlace(text);
    if (read.is === 'degrees') return services.goToPlace(read.at);
    if (read.is === 'none') return setWrong(placeExamples);
    // A code that is written with them needs no question.
    const [only, ...others] = read.system === '' ? [] : await services.findCrs(read.system);
    if (only && others.length === 0) return goIn(only.epsg, read);
    setPair(read);
    setWrong(offGlobe(read.x, read.y, read.isSmall));
  }

  return (
    <form
      className="go-to-form"
      onSubmit={(event) => {
        event.preventDefault();
        void go();
      }}
    >
      <label className="narrow" htmlFor={id}>
        Latitude, longitude; or easting, northing and system
      </label>
      <div className="go-to-line">
        <input
          id={id}
          className="boxed"
          value={text}
          placeholder="36.12345, −75.01234"
          autoComplete="off"
          spellCheck={false}
          autoFocus={isAsked}
          aria-invalid={wrong !== ''}
          aria-describedby={wrong ? `${id}-wrong` : undefined}
          onChange={(event) => {
            setText(event.target.value);
            setWrong('');
            setPair(null);
            setEpsg(null);
          }}
        />
        <button type="submit" className="button lead" disabled={text.trim() === ''}>
          Go
        </button>
      </div>
      {wrong && (
        <p className="wrong narrow" id={`${id}-wrong`} role="alert">
          {wrong}
        </p>
      )}
      {pair && <CrsField chosen={epsg} onChosen={setEpsg} start={pair.system} />}
    </form>
  );
}
