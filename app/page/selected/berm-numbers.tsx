import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { debrisQuantity, debrisText, lengthRange, sectionText } from '../../words/debris-words.ts';
import { elevationQuantity, figure, lengthQuantity, station, tape } from '../../words/format.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { errorOf } from '../worksheet/section-states.ts';

/** A berm's line, what it holds, and what it would have to be to hold its share. */
export function BermNumbers({ feature }: { readonly feature: PlanFeature<'berm'> }): ReactElement {
  const answers = useSession((state) => state.answers[feature.id]);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const line = answers?.bermLine?.value;
  if (!line) {
    return (
      <p className="narrow aside-line" aria-live="polite">
        Working it out …
      </p>
    );
  }
  return (
    <>
      <Rows>
        <Row label="Length along the line">
          <Figure of={lengthQuantity(line.lengthMeters, units)} />
        </Row>
        <Row label="Stations">
          <b>0+00</b> to <b>{station(line.lengthMeters, units)}</b>
        </Row>
        <Row label="Lowest ground">
          <Figure of={elevationQuantity(line.lowestMeters, error, units)} />
        </Row>
        <Row label="Highest ground">
          <Figure of={elevationQuantity(line.highestMeters, error, units)} />
        </Row>
      </Rows>
      <LeftUndone of={{ features: ['bermHolds'], id: feature.id }}>
        <Holds feature={feature} />
      </LeftUndone>
    </>
  );
}

function Holds({ feature }: { readonly feature: PlanFeature<'berm'> }): ReactElement | null {
  const answer = useSession((state) => state.answers[feature.id]?.bermHolds);
  const units = useSession((state) => state.settings.units);
  if (!answer) return null;
  const { holdsCubicMeters, shareCubicMeters, neededLengthMeters, neededSection, sideRun, settledMeters } = answer.value; // prettier-ignore
  const third = settledMeters.at(-1);
  const isAsked = shareCubicMeters.likely > 0;
  return (
    <section aria-label="What it holds">
      <Rows>
        <Row label="Holds as drawn, loose">
          <Figure of={debrisQuantity(holdsCubicMeters, units)} />
        </Row>
        {isAsked && <Row label="Debris nearest to it">{debrisText(shareCubicMeters, units)}</Row>}
        {isAsked && neededLengthMeters && (
          <Row label="Long enough with this section">{lengthRange(neededLengthMeters, units)}</Row>
        )}
        {isAsked && neededSection && (
          <Row label="Large enough on this line">{sectionText(neededSection.section, units)}</Row>
        )}
        {sideRun !== null && <Row label="Sides">{figure(sideRun, 1)} out to 1 up</Row>}
        {third && (
          <Row label="High after three years">
            {tape(third.likely, units)} ({tape(third.low, units)} to {tape(third.high, units)})
          </Row>
        )}
      </Rows>
      <HowWorkedOut basis={answer.basis} title="How the berm was worked out" />
    </section>
  );
}
