import type { ReactElement } from 'react';
import type { TimberDebris } from '../../../geo/answers/debris-answers.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { countText, debrisQuantity, debrisText, massQuantity, massRange, roundCount, soilDepthText, speciesWords } from '../../words/debris-words.ts'; // prettier-ignore
import { diameterText } from '../../words/tally-words.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { Said } from '../said.tsx';

/** From the trees of a block to its loose yards, each step of it. */
export function TimberNumbers({
  feature,
}: {
  readonly feature: PlanFeature<'timber-block'>;
}): ReactElement | null {
  const answer = useSession((state) => state.answers[feature.id]?.timberDebris);
  if (feature.properties.standing) {
    return <p className="narrow aside-line">It stays standing: nothing of it is cleared.</p>;
  }
  if (!answer?.value) return null;
  return (
    <section aria-label="What clearing it leaves">
      <Steps of={answer.value} />
      <HowWorkedOut basis={answer.basis} title="How the debris was worked out" />
    </section>
  );
}

function Steps({ of }: { readonly of: TimberDebris }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const { steps, stems } = of;
  return (
    <>
      <p className="to-plant">
        <Figure of={debrisQuantity(of.looseCubicMeters.likely, units)} /> loose
      </p>
      <table className="numbers narrow">
        <caption className="out-of-sight">Trees on it</caption>
        <tbody>
          {stems.map((row, index) => (
            <tr key={index}>
              <th scope="row">
                {diameterText(row.diameterMeters, units)} {speciesWords[row.speciesGroup]}
              </th>
              <td>
                <b>{roundCount(row.count)}</b>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <Rows>
        <Row label="Stands above ground, dry">
          <Figure of={massQuantity(steps.standing, units)} />
        </Row>
        {steps.sold > 0 && (
          <Row label="Leaves with the sale">
            <Figure of={massQuantity(steps.sold, units)} />
          </Row>
        )}
        {steps.broken > 0 && (
          <Row label="Broken tops stay">
            <Figure of={massQuantity(steps.broken, units)} />
          </Row>
        )}
        <Row label="Roots that come along">
          <Figure of={massQuantity(steps.roots, units)} />
        </Row>
        <Row label="Debris, dry">
          <Figure of={massQuantity(of.kilograms.likely, units)} /> ({massRange(of.kilograms, units)}
          )
        </Row>
        <Row label="Solid wood">
          <Figure of={debrisQuantity(of.solidCubicMeters.likely, units)} />
        </Row>
        <Row label="Loose, piled">{debrisText(of.looseCubicMeters, units)}</Row>
        <Row label="Truck loads">{countText(of.truckLoads)}</Row>
        {of.soilLostMeters && (
          <Row label="Topsoil that goes along">{soilDepthText(of.soilLostMeters, units)}</Row>
        )}
      </Rows>
      {of.doubts.length > 0 && (
        <details className="fold">
          <summary className="narrow">What makes it low or high</summary>
          <ul className="narrow">
            {of.doubts.map(({ about, low, high, reason }) => (
              <li key={about}>
                <Said>
                  {reason} {massRange({ low, likely: low, high }, units)} dry.
                </Said>
              </li>
            ))}
            <li>How tightly it is piled and how much soil is in it make the rest of the range.</li>
          </ul>
        </details>
      )}
    </>
  );
}
