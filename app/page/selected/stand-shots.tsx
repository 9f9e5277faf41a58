import type { ReactElement } from 'react';
import type { StandShots } from '../../../geo/answers/shot-answers.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import type { ShotStretch } from '../../../geo/sight/shot-stretches.ts';
import { useSession } from '../../store/use-session.ts';
import { lengthQuantity, rangeQuantity, spoken } from '../../words/format.ts';
import { setbackText, setbackWords, stretchBearings, stretchText, weaponWords, wholeFeet } from '../../words/shot-words.ts'; // prettier-ignore
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Said } from '../said.tsx';
import { CautionLines } from '../worksheet/caution-lines.tsx';

/** Which way a stand may shoot by stretches of bearings, and what it must keep away from. */
export function StandShotsPart({
  feature,
}: {
  readonly feature: PlanFeature<'stand'>;
}): ReactElement | null {
  const answer = useSession((state) => state.answers[feature.id]?.standShots);
  const units = useSession((state) => state.settings.units);
  if (!answer) return null;
  const { weapon, rangeMeters, stretches, setbacks } = answer.value;
  return (
    <section className="dams" aria-label="Which way to shoot">
      <p className="narrow">
        <Said>
          <b>Which way to shoot.</b> With a {weaponWords[weapon]}, to{' '}
          {spoken(rangeQuantity(rangeMeters, units))}: what bars a shot, never that one is safe.
        </Said>
      </p>
      {stretches && <Ring of={answer.value} stretches={stretches} />}
      {setbacks.length > 0 && <Setbacks of={answer.value} />}
      <CautionLines names={['shot']} />
      <HowWorkedOut basis={answer.basis} title="How the shots were judged" />
    </section>
  );
}

function Ring({
  of,
  stretches,
}: {
  readonly of: StandShots;
  readonly stretches: NonNullable<StandShots['stretches']>;
}): ReactElement {
  const features = useSession((state) => state.features);
  const units = useSession((state) => state.settings.units);
  const nameOf = (id: string) => features[id]?.name || 'something unnamed';
  return (
    <table className="numbers narrow">
      <caption className="out-of-sight">Directions of fire, clockwise, true bearings</caption>
      <thead>
        <tr>
          <th scope="col">Bearings</th>
          <th scope="col" className="words">
            what was found
          </th>
        </tr>
      </thead>
      <tbody>
        {stretches.map((stretch) => (
          <tr key={`${stretch.fromDegrees} ${stretch.toDegrees}`}>
            <th scope="row" className={isWide(stretch) ? '' : 'whole'}>
              {stretchBearings(stretch)}
            </th>
            <td className="words">
              <Said>{stretchText(stretch, nameOf, units, of.isOverPlots)}</Said>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Named by what it goes round by, too long for one line. */
function isWide({ fromDegrees, toDegrees }: ShotStretch): boolean {
  return toDegrees - fromDegrees > 180;
}

function Setbacks({ of: { setbacks } }: { readonly of: StandShots }): ReactElement {
  const features = useSession((state) => state.features);
  const units = useSession((state) => state.settings.units);
  return (
    <table className="numbers narrow">
      <caption className="out-of-sight">Setbacks of the stand</caption>
      <thead>
        <tr>
          <th scope="col">Setback from</th>
          <th scope="col" className="words">
            off, of what is asked
          </th>
        </tr>
      </thead>
      <tbody>
        {setbacks.map((setback) => (
          <tr key={`${setback.id} ${setback.from}`}>
            <th scope="row">
              {setbackWords[setback.from]}
              <span className="aside"> {features[setback.id]?.name}</span>
            </th>
            <td className="words">
              <Said>
                <b>{wholeFeet(setback.unitsAway, units)}</b> of{' '}
                {spoken(lengthQuantity(setback.requiredMeters, units))}:{' '}
                {setbackText(setback, units)}
              </Said>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
