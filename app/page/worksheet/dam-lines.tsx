import { useMemo, type ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { damText } from '../../words/dam-words.ts';
import { Said } from '../said.tsx';
import { PickFeature } from './pick-feature.tsx';
import { errorOf, ofKind } from './section-states.ts';

/** What is drawn that holds water back, a line for each. */
export function DamLines(): ReactElement | null {
  const features = useSession((state) => state.features);
  const answers = useSession((state) => state.answers);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const raised = useMemo<PlanFeature[]>(
    () => [
      ...ofKind(features, 'berm'),
      ...ofKind(features, 'heap'),
      ...ofKind(features, 'structure'),
      ...ofKind(features, 'lane'),
    ],
    [features],
  );
  const dams = raised.filter(({ id }) => answers[id]?.damming);
  if (dams.length === 0) return null;
  return (
    <section aria-label="What is drawn dams">
      <h3 className="narrow">What is drawn dams</h3>
      <ul className="narrow">
        {dams.map((dam) => (
          <li key={dam.id}>
            <Said>
              <PickFeature of={dam} /> {damText(answers[dam.id]!.damming!.value, error, units)}
            </Said>
          </li>
        ))}
      </ul>
    </section>
  );
}
