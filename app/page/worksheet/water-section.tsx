import type { ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { isLeftUndone } from '../../store/left-undone.ts';
import { useSession } from '../../store/use-session.ts';
import { areaQuantity, depthQuantity, spoken, volumeQuantity } from '../../words/format.ts';
import { leftOutText, surelyText } from '../../words/water-words.ts';
import { Figure } from '../quantity.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { LongWait } from '../left/long-wait.tsx';
import { useServices } from '../services.ts';
import { CautionLines } from './caution-lines.tsx';
import { DamLines } from './dam-lines.tsx';
import { DrawTools } from './draw-tools.tsx';
import { Findings } from './findings.tsx';
import { GapFields } from './gap-fields.tsx';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Said } from '../said.tsx';
import { PlacePointed } from './place-pointed.tsx';
import { RainSettings } from './rain-settings.tsx';
import { Section } from './section.tsx';
import { errorOf, findingsOf, sectionAnswers } from './section-states.ts';
import { SpotPicked } from './spot-detail.tsx';
import { StormNumbers } from './storm-numbers.tsx';
import { WaysOut } from './ways-out.tsx';

/** What the storm leaves standing, and what the low spots hold when they are full. */
export function WaterSection(): ReactElement {
  return (
    <Section name="water">
      <LeftUndone of={sectionAnswers.water}>
        <WaterFindings />
        <StormNumbers />
        <SpotPicked />
        <PlacePointed />
        <WaysOut />
        <DamLines />
        <LowSpots />
      </LeftUndone>
      <RainSettings />
      <GapFields />
      <DrawTools group="water" />
      <CautionLines names={['wetland']} />
    </Section>
  );
}

function WaterFindings(): ReactElement {
  const findings = useSession(useShallow((state) => findingsOf('water', state)));
  return <Findings of={findings} />;
}

const SHOWN = 12;

function LowSpots(): ReactElement {
  const answer = useSession((state) => state.site.lowSpots);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const shares = useSession((state) => state.site.spotsSure?.value.shares);
  const services = useServices();
  const left = useSession((state) => isLeftUndone(state, { site: ['lowSpots'] }));
  if (!answer) {
    // It is said at the head of the section.
    if (left) return <></>;
    return (
      <p className="teach">
        <b>Open the ground first.</b> Low spots are found from elevation.
      </p>
    );
  }
  const { lowSpots, totalCount, totalVolumeCubicMeters, listMinDepthMeters } = answer.value;
  const leastDepth = spoken(depthQuantity(listMinDepthMeters, null, units));
  const leastArea = spoken(areaQuantity(answer.value.listMinAreaSquareMeters, units));
  const total = spoken(volumeQuantity(totalVolumeCubicMeters, units));
  return (
    <details className="fold">
      <summary className="narrow">Brim full, whatever rain that takes</summary>
      {lowSpots.length > 0 && (
        <table className="numbers narrow picks">
          <caption className="out-of-sight">
            Low spots of the site, largest first, filled until they spill
          </caption>
          <thead>
            <tr>
              <th scope="col">Low spot</th>
              <th scope="col">when full</th>
              <th scope="col">deepest</th>
              <th scope="col">covers</th>
              <th scope="col">sure</th>
            </tr>
          </thead>
          <tbody>
            {lowSpots.slice(0, SHOWN).map((spot) => (
              <tr key={spot.id}>
                <th scope="row">
                  <button
                    type="button"
                    className="pick"
                    aria-label={`Show ${spot.id} on the map`}
                    onClick={() => {
                      services.pickSpot(spot.id);
                      services.showPlace(spot.deepestAt);
                    }}
                  >
                    {spot.id}
                  </button>
                </th>
                <td>
                  <Figure of={volumeQuantity(spot.volumeCubicMeters, units)} />
                </td>
                <td>
                  <Figure of={depthQuantity(spot.maxDepthMeters, error, units)} />
                </td>
                <td>
                  <Figure of={areaQuantity(spot.areaSquareMeters, units)} />
                </td>
                <td>{shares?.[spot.id] === undefined ? '…' : surelyText(shares[spot.id]!)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {!shares && lowSpots.length > 0 && (
        <LongWait of={{ site: ['spotsSure'] }} doing="Trying how sure each one is" />
      )}
      <p className="narrow aside-line">
        <Said>
          {lowSpots.length > SHOWN && `${SHOWN} largest of ${lowSpots.length} listed. `}
          {lowSpots.length === 0 && 'No low spot is deep and wide enough to list. '}
          Listed from {leastDepth} deep and {leastArea}; all {totalCount} hollows together hold{' '}
          {total}. {leftOutText(answer.value.leftOut, units)}
        </Said>
      </p>
      <HowWorkedOut basis={answer.basis} />
    </details>
  );
}
