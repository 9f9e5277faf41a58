import { useMemo, type ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { useSession } from '../../store/use-session.ts';
import { countText, debrisQuantity, debrisRange, massQuantity, roundCount, soilDepthText } from '../../words/debris-words.ts'; // prettier-ignore
import { toolFor } from '../../words/draw-tools.ts';
import { areaQuantity, type Quantity } from '../../words/format.ts';
import { ActionButton } from '../action-button.tsx';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { Said } from '../said.tsx';
import { CautionLines } from './caution-lines.tsx';
import { DozerFields } from './dozer-fields.tsx';
import { DebrisFields } from './debris-fields.tsx';
import { DrawTools } from './draw-tools.tsx';
import { Findings } from './findings.tsx';
import { PickFeature } from './pick-feature.tsx';
import { MachineFields } from './machine-fields.tsx';
import { WorkNumbers } from './work-numbers.tsx';
import { Section } from './section.tsx';
import { findingsOf, ofKind, sectionAnswers } from './section-states.ts';

/** What the clearing leaves: block by block, and in all. */
export function ClearingSection(): ReactElement {
  const findings = useSession(useShallow((state) => findingsOf('clearing', state)));
  return (
    <Section name="clearing">
      <LeftUndone of={sectionAnswers.clearing}>
        <Findings of={findings} />
        <Blocks />
        <Totals />
        <WorkNumbers />
      </LeftUndone>
      <DrawTools group="clearing" />
      <DebrisFields />
      <MachineFields />
      <DozerFields />
      <CautionLines names={['clearing', 'overhead', 'disturbance', 'wetland']} />
    </Section>
  );
}

function Blocks(): ReactElement {
  const features = useSession((state) => state.features);
  const answers = useSession((state) => state.answers);
  const units = useSession((state) => state.settings.units);
  const blocks = useMemo(
    () => ofKind(features, 'timber-block').filter(({ properties }) => !properties.standing),
    [features],
  );
  if (blocks.length === 0) {
    return (
      <div className="teach">
        <p>
          <Said>
            <b>Draw a timber block.</b> {toolFor('timber-block').why}
          </Said>
        </p>
        <ActionButton name="draw-timber-block" look="lead">
          Draw timber block
        </ActionButton>
      </div>
    );
  }
  return (
    <table className="numbers narrow picks">
      <caption className="out-of-sight">Timber blocks that are cleared</caption>
      <thead>
        <tr>
          <th scope="col">Timber block</th>
          <th scope="col">trees</th>
          <th scope="col">dry</th>
          <th scope="col">loose</th>
        </tr>
      </thead>
      <tbody>
        {blocks.map((block) => {
          const answer = answers[block.id]?.timberDebris;
          const debris = answer?.value;
          const trees = debris?.stems.reduce((sum, { count }) => sum + count, 0);
          return (
            <tr key={block.id}>
              <th scope="row">
                <PickFeature of={block} />
              </th>
              <td>
                {trees === undefined ? answer ? 'not tallied' : '…' : <b>{roundCount(trees)}</b>}
              </td>
              <td>
                {debris && <Figure of={plain(massQuantity(debris.kilograms.likely, units))} />}
              </td>
              <td>
                {debris && (
                  <Figure of={plain(debrisQuantity(debris.looseCubicMeters.likely, units))} />
                )}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** In a column of estimates nobody needs to be told in each line. */
function plain(quantity: Quantity): Quantity {
  return { ...quantity, about: false };
}

function Totals(): ReactElement | null {
  const debris = useSession((state) => state.site.debris);
  const units = useSession((state) => state.settings.units);
  if (!debris || debris.value.blockCount === 0) return null;
  const { value, basis } = debris;
  return (
    <section aria-label="Debris in all">
      <p className="to-plant">
        <Figure of={debrisQuantity(value.looseCubicMeters.likely, units)} /> loose
      </p>
      <Rows>
        <Row label="Low to high, loose">{debrisRange(value.looseCubicMeters, units)}</Row>
        <Row label="Truck loads">{countText(value.truckLoads)}</Row>
        <Row label="Dry wood">
          <Figure of={massQuantity(value.kilograms.likely, units)} />
        </Row>
        <Row label="Solid wood">
          <Figure of={debrisQuantity(value.solidCubicMeters.likely, units)} />
        </Row>
        {value.soilLostMeters && (
          <Row label="Topsoil that goes along">{soilDepthText(value.soilLostMeters, units)}</Row>
        )}
        <Row label="Cleared">
          <Figure of={areaQuantity(value.clearedSquareMeters, units)} />
        </Row>
      </Rows>
      <HowWorkedOut basis={basis} title="How the debris was worked out" />
    </section>
  );
}
