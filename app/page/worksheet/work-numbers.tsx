import type { ReactElement } from 'react';
import type { ClearingWork } from '../../../geo/answers/debris-answers.ts';
import { useSession } from '../../store/use-session.ts';
import { debrisText, roundCount } from '../../words/debris-words.ts';
import { areaQuantity, lengthQuantity, shareQuantity, spoken } from '../../words/format.ts';
import { diameterText } from '../../words/tally-words.ts';
import { costText, hoursText, plainHours } from '../../words/way-words.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Row, Rows } from '../row.tsx';
import { Said } from '../said.tsx';

const basisWords: Readonly<Record<ClearingWork['basis'], string>> = {
  logged: 'by your own log',
  table: 'by the published table',
  scaled: 'by the published table, stretched to this machine',
};

/** Machine hours of the clearing as drawn, the stumps, and what the year after a burn brings. */
export function WorkNumbers(): ReactElement | null {
  const answer = useSession((state) => state.site.clearingWork);
  const units = useSession((state) => state.settings.units);
  const work = answer?.value;
  if (!answer || !work) return null;
  const { hours, steps, push, cost, nextYear } = work;
  return (
    <section aria-label="Machine hours">
      <h3 className="narrow">Machine hours, {basisWords[work.basis]}</h3>
      <Rows>
        <Row label="Fell, pile and push">{hoursText(hours)}</Row>
        <Row label="By the table: felling">{plainHours(steps.felling)}</Row>
        <Row label="By the table: piling">{plainHours(steps.piling)}</Row>
        <Row label="Pushing farther than piling takes">{plainHours(steps.pushing)}</Row>
        {cost && <Row label="Cost of those hours">{costText(cost)}</Row>}
        {work.stumps && work.stumps.holes > 0 && (
          <Row label="Besides: fill the stump holes and blade">
            {hoursText(work.stumps.extraHours)}
          </Row>
        )}
        {push && push.meanMeters !== null && push.greatestMeters !== null && (
          <Row label="Pushed on average, at most">
            {spoken(lengthQuantity(push.meanMeters, units))},{' '}
            {spoken(lengthQuantity(push.greatestMeters, units))}
          </Row>
        )}
        {push && push.uphillShare !== null && (
          <Row label="Of it up hill">{spoken(shareQuantity(push.uphillShare))}</Row>
        )}
      </Rows>
      {work.doubts.length > 0 && (
        <details className="fold">
          <summary className="narrow">What makes the hours low or high</summary>
          <ul className="narrow">
            {work.doubts.map(({ about, low, high, reason }) => (
              <li key={about}>
                <Said>
                  {reason} Felling and piling {plainHours(low)} to {plainHours(high)}.
                </Said>
              </li>
            ))}
            <li>How far and how fast it is pushed makes the rest of the range.</li>
          </ul>
        </details>
      )}
      {work.stumps && <Stumps of={work.stumps} />}
      {nextYear && (
        <details className="fold">
          <summary className="narrow">Next year, after the burn</summary>
          <Rows>
            <Row label="Left to heap">{debrisText(nextYear.remnantCubicMeters, units)}</Row>
            <Row label="Ground regained, to reseed">
              {spoken(areaQuantity(nextYear.regainedSquareMeters.likely, units))}
            </Row>
            <Row label="Touch-up">{hoursText(nextYear.touchUpHours)}</Row>
          </Rows>
        </details>
      )}
      <HowWorkedOut basis={answer.basis} title="How the hours were worked out" />
    </section>
  );
}

function Stumps({ of }: { readonly of: NonNullable<ClearingWork['stumps']> }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const ends = (from: number, to: number) =>
    to === Infinity ? `over ${diameterText(from, units)}` : `to ${diameterText(to, units)}`;
  return (
    <details className="fold">
      <summary className="narrow">Stumps: about {roundCount(of.stumps)}</summary>
      <Rows>
        {of.classes.map(({ fromMeters, toMeters, stumps }) => (
          <Row key={fromMeters} label={`At the ground ${ends(fromMeters, toMeters)}`}>
            {roundCount(stumps)}
          </Row>
        ))}
        <Row label="Holes to fill">{roundCount(of.holes)}</Row>
        <Row label="Loose dirt to fill them">{debrisText(of.fillCubicMeters, units)}</Row>
        <Row label="Once more next year, settled">{hoursText(of.settlementHours)}</Row>
      </Rows>
    </details>
  );
}
