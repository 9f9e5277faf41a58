import { useEffect, type ReactElement } from 'react';
import type { SpotDetail } from '../../../geo/answers/flow-answers.ts';
import type { StormPool } from '../../../geo/answers/answers.ts';
import { useSession } from '../../store/use-session.ts';
import { areaQuantity, depthQuantity, volumeQuantity, spoken } from '../../words/format.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { useServices } from '../services.ts';
import { errorOf } from './section-states.ts';

/** The low spot that is looked at: what drains in, how it fills, where it runs over. */
export function SpotPicked(): ReactElement | null {
  const picked = useSession((state) => state.pickedSpot);
  const answer = useSession((state) => state.site.spotDetails);
  const pools = useSession((state) => state.site.storm?.value.pools);
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const spot = answer?.value.spots.find(({ id }) => id === picked);
  const isOpen = spot !== undefined;
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
    <section className="spot-picked" aria-label={`${spot.id} by itself`}>
      <h4 className="narrow">{spot.id} by itself</h4>
      <Rows>
        <Row label="Drains into it">
          <Figure of={areaQuantity(spot.catchmentSquareMeters, units)} />
        </Row>
        <Row label="Runs over">
          {spot.spillsInto === null ? 'and leaves the site' : `into ${spot.spillsInto}`}
        </Row>
      </Rows>
      <Curve spot={spot} pool={pool} />
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

const [wide, tall] = [280, 96];

/** How it fills: held against depth, with where this rain stands; and the same as a table. */
function Curve({
  spot: { id, stages },
  pool,
}: {
  readonly spot: SpotDetail;
  readonly pool: StormPool | undefined;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const brim = stages.at(-1)!;
  const x = (volume: number) => (brim.volumeCubicMeters > 0 ? (volume / brim.volumeCubicMeters) * wide : 0); // prettier-ignore
  const y = (depth: number) => tall - (depth / brim.depthMeters) * tall;
  const path = stages
    .map(({ volumeCubicMeters, depthMeters }) => `${x(volumeCubicMeters)},${y(depthMeters)}`)
    .join(' ');
  const held = spoken(volumeQuantity(brim.volumeCubicMeters, units));
  const deep = spoken(depthQuantity(brim.depthMeters, error, units));
  const stands = pool && pool.volumeCubicMeters > 0 ? pool : null;
  return (
    <figure className="spot-curve">
      <svg
        viewBox={`-6 -6 ${wide + 12} ${tall + 12}`}
        role="img"
        aria-label={`How ${id} fills: ${held} at ${deep}, brim full`}
      >
        <path d={`M0 0 V${tall} H${wide}`} fill="none" stroke="currentColor" />
        <polyline points={path} fill="none" stroke="currentColor" strokeWidth="2" />
        {stands && (
          <circle
            cx={x(stands.volumeCubicMeters)}
            cy={y(Math.min(brim.depthMeters, stands.maxDepthMeters))}
            r="5"
            className="spot-now"
          />
        )}
      </svg>
      <figcaption className="narrow aside">
        Depth (up) against what it holds (right), to {deep} and {held} brim full
        {stands && '; the dot is this rain'}.
      </figcaption>
      <details className="fold">
        <summary className="narrow">Read it as a table</summary>
        <table className="numbers narrow">
          <thead>
            <tr>
              <th scope="col">Deep</th>
              <th scope="col">covers</th>
              <th scope="col">holds</th>
            </tr>
          </thead>
          <tbody>
            {stages.slice(1).map((stage) => (
              <tr key={stage.depthMeters}>
                <td>
                  <Figure of={depthQuantity(stage.depthMeters, null, units)} />
                </td>
                <td>
                  <Figure of={areaQuantity(stage.areaSquareMeters, units)} />
                </td>
                <td>
                  <Figure of={volumeQuantity(stage.volumeCubicMeters, units)} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  );
}
