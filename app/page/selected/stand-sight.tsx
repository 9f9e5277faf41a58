import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { shareQuantity, spoken, tape } from '../../words/format.ts';
import { sightSentence } from '../../words/shot-words.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Said } from '../said.tsx';

/** The table shows every fourth floor of those asked. */
const EVERY = 4;

/** How much of the plot near a stand is seen, by floor height. */
export function StandSightPart({
  feature,
}: {
  readonly feature: PlanFeature<'stand'>;
}): ReactElement | null {
  const answer = useSession((state) => state.answers[feature.id]?.seenByHeight);
  const features = useSession((state) => state.features);
  const units = useSession((state) => state.settings.units);
  if (!answer) return null;
  const { heights, plotId, kneeMeters } = answer.value;
  // Where height gains nothing the sentence says it all.
  const rows = kneeMeters === null ? [] : heights.filter((_, i) => i % EVERY === 0);
  return (
    <section className="dams" aria-label="What it sees">
      <p className="narrow">
        <Said>
          <b>What it sees.</b>{' '}
          {sightSentence(answer.value, features[plotId]?.name || 'the plot', units)}
        </Said>
      </p>
      {rows.length > 0 && (
        <table className="numbers narrow">
          <caption className="out-of-sight">Share of the plot seen, by floor height</caption>
          <thead>
            <tr>
              <th scope="col">Floor at</th>
              <th scope="col">sees of the plot</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ floorMeters, seenShare }) => (
              <tr key={floorMeters}>
                <th scope="row">{tape(floorMeters, units)}</th>
                <td>
                  <b>{spoken(shareQuantity(seenShare))}</b>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <HowWorkedOut basis={answer.basis} title="How the sight was worked out" />
    </section>
  );
}
