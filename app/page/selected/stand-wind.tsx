import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { doubtSentence, verdictSentence } from '../../words/wind-words.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Said } from '../said.tsx';

/** Whether a stand works on the wind under the map, and why. */
export function StandWind({
  feature,
}: {
  readonly feature: PlanFeature<'stand'>;
}): ReactElement | null {
  const answer = useSession((state) => state.site.standWinds);
  const pools = useSession((state) => state.site.eveningPools);
  const features = useSession((state) => state.features);
  const units = useSession((state) => state.settings.units);
  const now = answer?.value.stands[feature.id];
  if (!answer || !now) return null;
  const doubt = doubtSentence(now);
  return (
    <section className="dams" aria-label="On this wind">
      <p className="narrow">
        <Said>
          <b>On this wind, at this hour.</b>{' '}
          {verdictSentence(now, (id) => features[id]?.name || 'something unnamed', units)}
        </Said>
      </p>
      {doubt && (
        <p className="narrow aside-line">
          <Said>{doubt}</Said>
        </p>
      )}
      <HowWorkedOut basis={answer.basis} title="How the wind was judged" />
      {pools && now.pools.length > 0 && (
        <HowWorkedOut basis={pools.basis} title="How it was found where the air stands" />
      )}
    </section>
  );
}
