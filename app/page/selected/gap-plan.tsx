import type { ReactElement } from 'react';
import { hasGaps } from '../../../geo/answers/gaps-wanted.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { debrisQuantity, gapText, seatText, sectionText } from '../../words/debris-words.ts';
import { spoken } from '../../words/format.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { Findings } from '../worksheet/findings.tsx';

/** The gaps that a berm should have for everything that wants one, put in as one step. */
export function GapPlan({
  feature,
}: {
  readonly feature: PlanFeature<'berm'>;
}): ReactElement | null {
  const answer = useSession((state) => state.answers[feature.id]?.bermGaps);
  const units = useSession((state) => state.settings.units);
  const features = useSession((state) => state.features);
  const services = useServices();
  if (!answer) return null;
  const { gaps, section, leftOverCubicMeters, seats } = answer.value;
  const isSet = gaps.length > 0 && hasGaps(feature.properties, gaps, section);
  const isInstead = !isSet && feature.properties.gaps.length > 0;
  const put = () =>
    services.setProperties(feature.id, {
      gaps: gaps.map(({ stationMeters, widthMeters }) => ({ stationMeters, widthMeters })),
      ...(section && {
        baseWidthMeters: section.baseWidthMeters,
        heightMeters: section.heightMeters,
      }),
    });
  return (
    <section className="dams" aria-label="Gaps that it should have">
      <Findings of={answer.findings.filter(({ level }) => level !== 'note')} own />
      <p className="narrow">
        <Said>
          <b>
            Gaps that it should have for water, ways, seats and wildlife together
            {isInstead && ', in place of those drawn'}:
          </b>{' '}
          {gaps.length === 0 && 'none'}
        </Said>
      </p>
      {gaps.length > 0 && (
        <ul className="narrow">
          {gaps.map((gap) => (
            <li key={gap.stationMeters}>
              <Said>{gapText(gap, units)}</Said>
            </li>
          ))}
        </ul>
      )}
      {isSet && (
        <p className="narrow aside-line">It has them, and the section that goes with them.</p>
      )}
      {!isSet && gaps.length > 0 && section && (
        <p className="narrow aside-line">
          <Said>
            Then it is {sectionText(section, units)} to hold as much
            {leftOverCubicMeters > 0 &&
              `, and ${spoken(debrisQuantity(leftOverCubicMeters, units))} is left over`}
            .
          </Said>
        </p>
      )}
      {seats.length > 0 && (
        <ul className="narrow">
          {seats.map((seat) => (
            <li key={seat.standId}>
              <Said>{seatText(seat, features[seat.standId]?.name ?? '')}</Said>
            </li>
          ))}
        </ul>
      )}
      {gaps.length > 0 && !isSet && !feature.locked && (
        <button type="button" className="button" onClick={put}>
          Set these gaps and this section
        </button>
      )}
      <HowWorkedOut basis={answer.basis} title="How these gaps were found" />
    </section>
  );
}
