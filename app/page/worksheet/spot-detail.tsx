import { useEffect, type ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { areaQuantity } from '../../words/format.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { useServices } from '../services.ts';
import { useInSight } from '../use-in-sight.ts';
import { SpotCurve } from './spot-curve.tsx';

/** The low spot that is looked at: what drains in, how it fills, where it runs over. */
export function SpotPicked(): ReactElement | null {
  const picked = useSession((state) => state.pickedSpot);
  const answer = useSession((state) => state.site.spotDetails);
  const pools = useSession((state) => state.site.storm?.value.pools);
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const spot = answer?.value.spots.find(({ id }) => id === picked);
  const isOpen = spot !== undefined;
  const ref = useInSight<HTMLElement>(spot?.id ?? null);
  useEffect(() => {
    if (!isOpen) return;
    const leave = (event: KeyboardEvent) => {
      if (event.key === 'Escape') services.pickSpot(null);
    };
    document.addEventListener('keydown', leave);
    return () => document.removeEventListener('keydown', leave);
  }, [isOpen, services]);
  if (!spot) return null;
  const pool = pools?.find(({ id }) => id === picked);
  return (
    <section className="spot-picked" ref={ref} aria-label={`${spot.id} by itself`}>
      <h4 className="narrow">{spot.id} by itself</h4>
      <Rows>
        <Row label="Drains into it">
          <Figure of={areaQuantity(spot.catchmentSquareMeters, units)} />
        </Row>
        <Row label="Runs over">
          {spot.spillsInto === null ? 'and leaves the site' : `into ${spot.spillsInto}`}
        </Row>
      </Rows>
      <SpotCurve spot={spot} pool={pool} />
      <p className="narrow aside-line">
        The map shades what drains into it and rings where it runs over. What fixes it stands under
        “The way out of each low spot”.
      </p>
      <HowWorkedOut basis={answer!.basis} />
      <button type="button" className="text-button narrow" onClick={() => services.pickSpot(null)}>
        Put {spot.id} down
      </button>
    </section>
  );
}
