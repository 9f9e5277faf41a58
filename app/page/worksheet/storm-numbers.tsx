import type { ReactElement } from 'react';
import type { SiteStorm } from '../../../geo/answers/answers.ts';
import { useSession } from '../../store/use-session.ts';
import {
  areaQuantity,
  depthQuantity,
  rainQuantity,
  spoken,
  volumeQuantity,
} from '../../words/format.ts';
import {
  dayDepthText,
  fullText,
  leftOutText,
  monthNames,
  runoffText,
  standsFor,
} from '../../words/water-words.ts';
import { ChoiceField } from '../fields.tsx';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { errorOf } from './section-states.ts';

const SHOWN = 12;

/** What the storm under the map leaves: each listed low spot, then the balance of the site. */
export function StormNumbers(): ReactElement | null {
  const answer = useSession((state) => state.site.storm);
  const units = useSession((state) => state.settings.units);
  if (!answer) return null;
  const storm = answer.value;
  return (
    <>
      <h3 className="narrow">
        {spoken(rainQuantity(storm.rainMeters, units))} in {storm.durationHours} h, as it falls now
      </h3>
      <WaterOn />
      {storm.pools.length > 0 && <Pools storm={storm} />}
      <Rows>
        <Row label="Runs off">{runoffText(storm, units)}</Row>
        <Row label="Stands">
          <Figure of={volumeQuantity(storm.standingCubicMeters, units)} />
        </Row>
        <Row label="Leaves the site">
          <Figure of={volumeQuantity(storm.leftSiteCubicMeters, units)} />
        </Row>
        <Row label="Soaks in">
          <Figure of={volumeQuantity(storm.soakedCubicMeters, units)} />
        </Row>
      </Rows>
      <LeftOut />
      <HowWorkedOut basis={answer.basis} />
    </>
  );
}

/** Hollows that water stands in and that the list leaves out for the survey's error. */
function LeftOut(): ReactElement | null {
  const units = useSession((state) => state.settings.units);
  const leftOut = useSession((state) => state.site.lowSpots?.value.leftOut);
  const text = leftOut && leftOutText(leftOut, units);
  return text ? (
    <p className="narrow aside-line">
      <Said>{text}</Said>
    </p>
  ) : null;
}

const surfaces = [
  ['as-surveyed', 'as surveyed'],
  ['with-the-plan', 'with what is drawn'],
] as const;

/** Before any dirt moves, or with what is drawn in place. */
function WaterOn(): ReactElement {
  const waterOn = useSession((state) => state.settings.waterOn);
  const services = useServices();
  return (
    <ChoiceField
      label="The ground it falls on"
      value={waterOn}
      options={surfaces}
      onValue={(value) => services.setSetting('waterOn', value as typeof waterOn)}
    />
  );
}

function Pools({ storm }: { readonly storm: SiteStorm }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const services = useServices();
  return (
    <>
      <table className="numbers narrow picks">
        <caption className="out-of-sight">Water left standing in the listed low spots</caption>
        <thead>
          <tr>
            <th scope="col">Low spot</th>
            <th scope="col">deepest</th>
            <th scope="col">covers</th>
            <th scope="col">dry in</th>
          </tr>
        </thead>
        <tbody>
          {storm.pools.slice(0, SHOWN).map((pool) => (
            <tr key={pool.id}>
              <th scope="row">
                <button
                  type="button"
                  className="pick"
                  aria-label={`Show ${pool.id} on the map`}
                  onClick={() => {
                    services.pickSpot(pool.id);
                    services.showPlace(pool.deepestAt);
                  }}
                >
                  {pool.id}
                </button>{' '}
                <span className="aside">{pool.fullShare > 0 && `${fullText(pool)} full`}</span>
              </th>
              <td>
                {pool.areaSquareMeters > 0 ? (
                  <Figure of={depthQuantity(pool.maxDepthMeters, error, units)} />
                ) : (
                  '–'
                )}
              </td>
              <td>
                {pool.areaSquareMeters > 0 ? (
                  <Figure of={areaQuantity(pool.areaSquareMeters, units)} />
                ) : (
                  '–'
                )}
              </td>
              <td>
                <b>{standsFor(pool.hoursToDry)}</b>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="narrow aside-line">
        <Said>
          {storm.pools.length > SHOWN && `${SHOWN} largest of ${storm.pools.length} listed. `}
          Dry in so long if no more rain falls, with the{' '}
          {dayDepthText(storm.evaporationMetersPerDay, units)} that evaporate on a day in{' '}
          {monthNames[storm.month - 1]}. The range of how full is for curve numbers 3 lower and 3
          higher.
        </Said>
      </p>
    </>
  );
}
