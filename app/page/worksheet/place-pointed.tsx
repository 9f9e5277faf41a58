import { useEffect, type ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { areaQuantity } from '../../words/format.ts';
import { ActionButton } from '../action-button.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { useServices } from '../services.ts';
import { useInSight } from '../use-in-sight.ts';

/** What drains to the place that was pointed at, and the way to point at one. */
export function PlacePointed(): ReactElement | null {
  const pointed = useSession((state) => state.pointed);
  const hasFlow = useSession((state) => state.site.flowLines !== undefined);
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const isOpen = pointed !== null;
  const ref = useInSight<HTMLElement>(pointed);
  useEffect(() => {
    if (!isOpen) return;
    const leave = (event: KeyboardEvent) => {
      if (event.key === 'Escape') services.leavePointed();
    };
    document.addEventListener('keydown', leave);
    return () => document.removeEventListener('keydown', leave);
  }, [isOpen, services]);
  if (!hasFlow) return null;
  return (
    <>
      {pointed && (
        <section
          className="spot-picked"
          ref={ref}
          aria-label="The place pointed at"
          aria-live="polite"
        >
          <h4 className="narrow">The place pointed at</h4>
          <Rows>
            <Row label={pointed.inHollow ? 'Drains into its hollow' : 'Drains through it'}>
              <Figure of={areaQuantity(pointed.areaSquareMeters, units)} />
            </Row>
          </Rows>
          <p className="narrow aside-line">
            The map shades that ground and rings the place: of what you pointed at, where most runs.
            D-infinity, hollows on the way brim full.
          </p>
          <button
            type="button"
            className="text-button narrow"
            onClick={() => services.leavePointed()}
          >
            Put it down
          </button>
        </section>
      )}
      <p>
        <ActionButton name="drains-to-place">
          {pointed ? 'Point at another place' : 'What drains to a place'}
        </ActionButton>
      </p>
    </>
  );
}
