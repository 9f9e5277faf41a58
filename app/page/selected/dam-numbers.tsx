import type { ReactElement } from 'react';
import { isKind, type PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { damText, gapsText, turnedTexts } from '../../words/dam-words.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { LongWait } from '../left/long-wait.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { errorOf } from '../worksheet/section-states.ts';

/** What a berm, heap or road holds back and turns aside, and the gaps that let it through. */
export function DamNumbers({ feature }: { readonly feature: PlanFeature }): ReactElement | null {
  const dams = useSession((state) => state.answers[feature.id]?.damming);
  const isUnknown = useSession((state) => {
    const line = state.answers[feature.id]?.bermLine?.value;
    return line !== undefined && line.lowestMeters === null;
  });
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  if (!dams) {
    return isUnknown ? (
      <p className="narrow aside-line">
        Whether it dams water is not known: there is no elevation under it.
      </p>
    ) : null;
  }
  const turned = turnedTexts(dams.value.turned ?? [], units);
  return (
    <section className="dams" aria-label="What it does to the water">
      <p className="narrow">
        <Said>
          <b>Dams, brim full:</b> {damText(dams.value, error, units)}
        </Said>
      </p>
      {turned.length > 0 && (
        <ul className="narrow">
          {turned.map((text) => (
            <li key={text}>
              <Said>{text}</Said>
            </li>
          ))}
        </ul>
      )}
      {isKind(feature, 'berm') && <Letting berm={feature} />}
      <HowWorkedOut basis={dams.basis} title="How that was worked out" />
    </section>
  );
}

function Letting({ berm }: { readonly berm: PlanFeature<'berm'> }): ReactElement {
  const letting = useSession((state) => state.answers[berm.id]?.lettingGaps);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const services = useServices();
  if (!letting) {
    return <LongWait of={{ features: ['lettingGaps'], id: berm.id }} doing="Trying gaps" />;
  }
  const { gaps } = letting.value;
  const put = () => {
    const added = gaps.map(({ stationMeters, widthMeters }) => ({ stationMeters, widthMeters }));
    const all = [...berm.properties.gaps, ...added];
    services.setProperty(
      berm.id,
      'gaps',
      all.sort((a, b) => a.stationMeters - b.stationMeters),
    );
  };
  return (
    <>
      <p className="narrow">
        <Said>{gapsText(letting.value, berm.properties.gaps.length, error, units)}</Said>
      </p>
      {gaps.length > 0 && !berm.locked && (
        <button type="button" className="button" onClick={put}>
          {gaps.length === 1 ? 'Put the gap in' : 'Put the gaps in'}
        </button>
      )}
      <HowWorkedOut basis={letting.basis} title="How the gaps were found" />
    </>
  );
}
