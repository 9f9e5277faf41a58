import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { figure, tape } from '../../words/format.ts';
import { diameterText, stemsText } from '../../words/tally-words.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { Findings } from '../worksheet/findings.tsx';

/** Trees that show in the surface over a block, and a button that begins its tally with them. */
export function CanopyRows({
  feature,
}: {
  readonly feature: PlanFeature<'timber-block'>;
}): ReactElement | null {
  const answer = useSession((state) => state.answers[feature.id]?.canopyStems);
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  if (!answer) return null;
  const stems = answer.value;
  if (!stems) return <Findings of={answer.findings} own />;
  const begin = () =>
    services.setProperty(
      feature.id,
      'tally',
      stems.classes.flatMap(({ suggestedDiameterMeters: diameter, stemsPerHectare }) =>
        diameter
          ? [
              {
                speciesGroup: stems.speciesGroup,
                diameterMeters: Math.round(diameter.likely * 1e4) / 1e4,
                stemsPerHectare: Math.round(stemsPerHectare * 1000) / 1000,
                soldShare: 0,
              },
            ]
          : [],
      ),
    );
  return (
    <section aria-label="Trees that show in the surface">
      <p className="narrow">
        <Said>
          <b>{figure(stems.tops, 0)} tree tops show</b> in the surface over it, a least:
        </Said>
      </p>
      <ul className="narrow">
        {stems.classes.map(({ fromMeters, toMeters, stemsPerHectare, suggestedDiameterMeters }) => (
          <li key={fromMeters}>
            <Said>
              {tape(fromMeters, units)} to {tape(toMeters, units)} high:{' '}
              {stemsText(stemsPerHectare, units)}
              {suggestedDiameterMeters &&
                `, perhaps ${diameterText(suggestedDiameterMeters.likely, units)} thick`}
            </Said>
          </li>
        ))}
      </ul>
      {!feature.locked && (
        <button type="button" className="button" onClick={begin}>
          Begin the tally with them
        </button>
      )}
      <HowWorkedOut basis={answer.basis} title="How the trees were found" />
    </section>
  );
}
