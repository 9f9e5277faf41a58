import { useEffect, type ReactElement } from 'react';
import { boundsOfFeatures } from '../../services/bounds.ts';
import { selectedFeatures } from '../../store/selection.ts';
import { session } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { ActionButton } from '../action-button.tsx';
import { useServices } from '../services.ts';
import { HandTools, LegNumbers } from './hand-tools.tsx';

/** While a shape is drawn for something else: what to tap, and the two ways out. */
export function HelperBar(): ReactElement | null {
  const helper = useSession((state) => state.helper);
  const services = useServices();
  const isCut = helper !== null && helper.type !== 'Point';
  useEffect(() => {
    if (!isCut) return;
    // Once the map knows how far this bar reaches: what is cut is seen beside it.
    queueMicrotask(() => {
      const bounds = boundsOfFeatures(selectedFeatures(session.getState()));
      if (bounds) services.keepInSight(bounds);
    });
  }, [isCut, services]);
  if (!helper) return null;
  return (
    <section className="draw-bar" data-corner aria-label={`Drawing: ${helper.title}`}>
      <div className="draw-head">
        <p>
          <b>{helper.title}</b> <span className="aside narrow">{helper.how}</span>
        </p>
        <p className="narrow draw-numbers">
          <LegNumbers />
        </p>
      </div>
      <div className="draw-rows">
        <div className="tools">
          {helper.type !== 'Point' && (
            <>
              <ActionButton name="finish" look="lead" />
              <ActionButton name="undo">Last point back</ActionButton>
            </>
          )}
          <ActionButton name="cancel" />
        </div>
        <HandTools />
      </div>
    </section>
  );
}

/** While taps add to the selection: how many there are, and the end of it. */
export function SeveralBar(): ReactElement | null {
  const isOn = useSession((state) => state.selectingSeveral && state.helper === null);
  const count = useSession((state) =>
    state.selectedId === null ? 0 : 1 + state.alsoSelected.length,
  );
  const services = useServices();
  if (!isOn) return null;
  return (
    <section className="draw-bar" aria-label="Selecting several">
      <p>
        <b>{count === 0 ? 'Tap each one' : `${count} selected`}</b>{' '}
        <span className="aside narrow">Tap again to leave one out.</span>
      </p>
      <div className="tools">
        <button type="button" className="button lead" onClick={() => services.selectSeveral(false)}>
          Done
        </button>
      </div>
    </section>
  );
}
