import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { clearanceWords } from '../../words/debris-findings.ts';
import { debrisQuantity, massRange } from '../../words/debris-words.ts';
import { bearing, lengthQuantity, spoken, tape } from '../../words/format.ts';
import { burnChecklist } from '../../words/burn-checklist.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Row, Rows } from '../row.tsx';
import { Said } from '../said.tsx';
import { CautionLines } from '../worksheet/caution-lines.tsx';

/** What burning a berm or brush pile comes near to, gives off and leaves; never whether it may. */
export function BurnNumbers({ feature }: { readonly feature: PlanFeature }): ReactElement | null {
  const answer = useSession((state) => state.answers[feature.id]?.burning);
  const features = useSession((state) => state.features);
  const units = useSession((state) => state.settings.units);
  if (!answer) return null;
  const { distances, smokeTowardDegrees, emissions, remnant } = answer.value;
  return (
    <section className="dams" aria-label="If it burns">
      <p className="narrow">
        <b>If it burns</b>
      </p>
      <table className="numbers narrow">
        <caption className="out-of-sight">Distances from its foot</caption>
        <thead>
          <tr>
            <th scope="col">Nearest</th>
            <th scope="col">off</th>
            <th scope="col">usual</th>
            <th scope="col">printed</th>
          </tr>
        </thead>
        <tbody>
          {distances.map(({ from, targetId, meters, rules }) => {
            const of = (source: 'usual' | 'published') => {
              const rule = rules.find((one) => one.source === source);
              return rule ? spoken(lengthQuantity(rule.meters, units)) : '–';
            };
            return (
              <tr key={from}>
                <th scope="row">
                  {clearanceWords(from)}
                  <span className="aside"> {features[targetId]?.name}</span>
                </th>
                <td>
                  <b>{spoken(lengthQuantity(meters, units))}</b>
                </td>
                <td>{of('usual')}</td>
                <td>{of('published')}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <Rows>
        <Row label="Smoke, in the wind below">
          {smokeTowardDegrees === null ? 'all round' : `to ${bearing(smokeTowardDegrees)}`}
        </Row>
        {emissions && (
          <>
            <Row label="Wood that burns, dry">{massRange(emissions.consumedKilograms, units)}</Row>
            <Row label="Fine soot, PM2.5">{massRange(emissions.pm25Kilograms, units)}</Row>
          </>
        )}
        <Row label="Left, heaped round">
          {spoken(debrisQuantity(remnant.cubicMeters, units))}, {tape(remnant.widthMeters, units)}{' '}
          wide
        </Row>
      </Rows>
      <details className="fold">
        <summary className="narrow">Before anybody lights it</summary>
        <ul className="narrow">
          {burnChecklist.map((line) => (
            <li key={line}>
              <Said>{line}</Said>
            </li>
          ))}
        </ul>
      </details>
      <CautionLines names={['burn']} />
      <HowWorkedOut basis={answer.basis} title="How that was worked out" />
    </section>
  );
}
