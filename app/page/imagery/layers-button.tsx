import { useEffect, useRef, useState, type ReactElement } from 'react';
import { session } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';
import { AddImagery } from './add-imagery.tsx';
import { LayerList } from './layer-list.tsx';
import './imagery.css';

/** What lies under the linework, and imagery from elsewhere; folds out below its button. */
export function LayersButton(): ReactElement {
  const services = useServices();
  const [open, setOpen] = useState(false);
  const root = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const count = useSession((state) => state.settings.imagery.length);
  const isTroubled = useSession((state) =>
    state.settings.imagery.some((layer) => layer.shown && state.imageryProblems[layer.id]),
  );
  useEffect(() => {
    if (!open) return;
    // Drawing needs the room, and so does what was chosen on the map.
    return session.subscribe((now, before) => {
      const isChosen = now.selectedId !== null && now.selectedId !== before.selectedId;
      if (isChosen || (now.drawing !== null && before.drawing === null)) setOpen(false);
    });
  }, [open]);
  const leave = (): void => {
    services.leaveImagery();
    setOpen(false);
    button.current?.focus();
  };
  return (
    <div
      className="layers"
      ref={root}
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || !open) return;
        event.preventDefault();
        event.stopPropagation();
        leave();
      }}
    >
      <button
        ref={button}
        type="button"
        className="button lifted"
        aria-expanded={open}
        onClick={() => (open ? leave() : setOpen(true))}
      >
        Layers{isTroubled && <span className="flagged" title="Some imagery does not come" />}
        <svg viewBox="0 0 10 6" width="10" height="6" aria-hidden="true">
          <path d="M1 1 L5 5 L9 1" fill="none" stroke="currentColor" strokeWidth="1.8" />
        </svg>
      </button>
      {open && (
        <section className="layers-panel" aria-label="Layers">
          <h2>
            Under the drawing <span className="aside">top first</span>
          </h2>
          <LayerList />
          {/* A layer that was taken leaves an empty field for the next. */}
          <AddImagery key={count} />
        </section>
      )}
    </div>
  );
}
