import type { ReactElement } from 'react';
import type { OpeningState } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';
import { useLasting } from '../use-clock.ts';
import { AskCrs } from './ask-crs.tsx';
import { AskSwapped } from './ask-swapped.tsx';
import { AskVerticalUnit } from './ask-vertical-unit.tsx';
import { AskWindow } from './ask-window.tsx';
import { Dialog } from './dialog.tsx';

/** What stands between a dropped file and its ground: progress, a question, or a refusal. */
export function Opening(): ReactElement | null {
  const opening = useSession((state) => state.opening);
  const lasting = useLasting(opening?.state === 'reading', 300);
  if (!opening) return null;
  if (opening.state === 'reading') return lasting ? <Reading opening={opening} /> : null;
  if (opening.state === 'refused') return <Refused opening={opening} />;
  return <Asking key={opening.opening.question} opening={opening} />;
}

function Reading({
  opening,
}: {
  readonly opening: Extract<OpeningState, { state: 'reading' }>;
}): ReactElement {
  const percent = Math.round(opening.share * 100);
  return (
    <div
      className="progress"
      role="status"
      aria-label={`${opening.isSaving ? 'Saving' : 'Opening'} ${opening.name}`}
    >
      <p>
        <b>{opening.name}</b>
      </p>
      <p className="narrow">
        {opening.doing} <span className="aside">{percent} %</span>
      </p>
      <progress max={100} value={percent} aria-label={`${opening.doing}, ${percent} %`} />
      <button type="button" className="button" onClick={opening.stop}>
        Stop
      </button>
    </div>
  );
}

function Refused({
  opening,
}: {
  readonly opening: Extract<OpeningState, { state: 'refused' }>;
}): ReactElement {
  const services = useServices();
  const { what, wayOut, where } = opening.problem;
  return (
    <Dialog title={`${opening.name} was not opened`} onLeave={() => services.leaveOpening()}>
      <p>
        <b>{what}</b>
      </p>
      <p>{wayOut}</p>
      {where && where !== opening.name && <p className="aside">Where: {where}</p>}
      <p className="aside">The plan and the ground in use are as they were.</p>
      <div className="tools">
        <button
          type="button"
          className="button lead"
          autoFocus
          onClick={() => services.leaveOpening()}
        >
          Go on
        </button>
      </div>
    </Dialog>
  );
}

function Asking({
  opening: { opening, name },
}: {
  readonly opening: Extract<OpeningState, { state: 'asking' }>;
}): ReactElement {
  const services = useServices();
  const titles = {
    crs: 'Which coordinate system?',
    'vertical-unit': 'What are the heights in?',
    window: 'Which part of it?',
    swapped: 'Latitude and longitude exchanged?',
  } as const;
  return (
    <Dialog title={titles[opening.question]} onLeave={() => services.leaveOpening()}>
      <p>
        <span className="aside">{name}.</span> {opening.why}
      </p>
      {opening.question === 'crs' && <AskCrs />}
      {opening.question === 'swapped' && <AskSwapped />}
      {opening.question === 'vertical-unit' && <AskVerticalUnit />}
      {opening.question === 'window' && opening.overview && (
        <AskWindow overview={opening.overview} maxCells={opening.maxCells ?? 64_000_000} />
      )}
    </Dialog>
  );
}
