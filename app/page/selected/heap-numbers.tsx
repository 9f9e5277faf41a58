import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { debrisQuantity } from '../../words/debris-words.ts';
import { tape } from '../../words/format.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';

/** What a brush pile holds by its shape, what comes to it, and how high it is in three years. */
export function HeapNumbers({
  feature,
}: {
  readonly feature: PlanFeature<'heap'>;
}): ReactElement | null {
  const answer = useSession((state) => state.answers[feature.id]?.heapHolds);
  const units = useSession((state) => state.settings.units);
  if (!answer) return null;
  const { holdsCubicMeters, comesCubicMeters, settledMeters } = answer.value;
  const third = settledMeters.at(-1);
  return (
    <section aria-label="What it holds">
      <Rows>
        {holdsCubicMeters !== null && (
          <Row label="Holds by its shape, loose">
            <Figure of={debrisQuantity(holdsCubicMeters, units)} />
          </Row>
        )}
        {comesCubicMeters !== null && (
          <Row label="Debris that comes to it">
            <Figure of={debrisQuantity(comesCubicMeters, units)} />
          </Row>
        )}
        {third && (
          <Row label="High after three years">
            {tape(third.likely, units)} ({tape(third.low, units)} to {tape(third.high, units)})
          </Row>
        )}
      </Rows>
      <HowWorkedOut basis={answer.basis} title="How the pile was worked out" />
    </section>
  );
}
