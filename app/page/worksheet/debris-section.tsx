import { useMemo, type ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { isLeftUndone, isWorkedOn } from '../../store/left-undone.ts';
import { useSession } from '../../store/use-session.ts';
import { debrisQuantity, volumeUnit } from '../../words/debris-words.ts';
import { lengthQuantity } from '../../words/format.ts';
import { toolFor } from '../../words/draw-tools.ts';
import { ActionButton } from '../action-button.tsx';
import { LongWait } from '../left/long-wait.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { Said } from '../said.tsx';
import { BermFields, BurnFields } from './berm-fields.tsx';
import { CautionLines } from './caution-lines.tsx';
import { DrawTools } from './draw-tools.tsx';
import { Findings } from './findings.tsx';
import { HeapLines } from './heap-lines.tsx';
import { PickFeature } from './pick-feature.tsx';
import { Section } from './section.tsx';
import { findingsOf, ofKind, sectionAnswers } from './section-states.ts';

/** Where the debris goes: berms and brush piles, and what each holds. */
export function DebrisSection(): ReactElement {
  return (
    <Section name="debris">
      <LeftUndone of={sectionAnswers.debris}>
        <DebrisFindings />
        <Room />
        <WaysButton />
        <Berms />
        <HeapLines />
      </LeftUndone>
      <DrawTools group="debris" />
      <BermFields />
      <BurnFields />
      <CautionLines names={['berm', 'burn', 'dig']} />
    </Section>
  );
}

const waysAnswer = { features: ['clearingWays'] } as const;

/** Once there is debris on a plot or clearing. */
function WaysButton(): ReactElement | null {
  const has = useSession((state) => Object.values(state.answers).some((one) => one.clearingWays));
  const isComing = useSession((state) => isWorkedOn(state, waysAnswer) || isLeftUndone(state, waysAnswer)); // prettier-ignore
  if (!has) return isComing ? <LongWait of={waysAnswer} doing="Laying out three ways" /> : null;
  return (
    <div className="tools">
      <ActionButton name="ways" look="lead" />
    </div>
  );
}

function DebrisFindings(): ReactElement {
  const findings = useSession(useShallow((state) => findingsOf('debris', state)));
  return <Findings of={findings} />;
}

function Berms(): ReactElement | null {
  const features = useSession((state) => state.features);
  const answers = useSession((state) => state.answers);
  const units = useSession((state) => state.settings.units);
  const berms = useMemo(() => ofKind(features, 'berm'), [features]);
  const hasHeaps = ofKind(features, 'heap').length > 0;
  if (berms.length === 0) {
    if (hasHeaps) return null;
    return (
      <div className="teach">
        <p>
          <Said>
            <b>Draw a berm line.</b> {toolFor('berm').why}
          </Said>
        </p>
        <ActionButton name="draw-berm" look="lead">
          Draw berm
        </ActionButton>
      </div>
    );
  }
  return (
    <>
      <table className="numbers narrow picks">
        <caption className="out-of-sight">Berms</caption>
        <thead>
          <tr>
            <th scope="col">Berm</th>
            <th scope="col">length</th>
            <th scope="col">holds, {volumeUnit(units)}</th>
            <th scope="col">debris near</th>
          </tr>
        </thead>
        <tbody>
          {berms.map((berm) => {
            const line = answers[berm.id]?.bermLine?.value;
            const holds = answers[berm.id]?.bermHolds?.value;
            return (
              <tr key={berm.id}>
                <th scope="row">
                  <PickFeature of={berm} />
                </th>
                <td>{line ? <Figure of={lengthQuantity(line.lengthMeters, units)} /> : '…'}</td>
                <td>{holds && <b>{debrisQuantity(holds.holdsCubicMeters, units).text}</b>}</td>
                <td>
                  {holds && <b>{debrisQuantity(holds.shareCubicMeters.likely, units).text}</b>}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </>
  );
}

/** All the debris against all that is drawn for it. */
function Room(): ReactElement | null {
  const debris = useSession((state) => state.site.debris?.value);
  const units = useSession((state) => state.settings.units);
  if (!debris || debris.blockCount === 0) return null;
  const { looseCubicMeters, roomCubicMeters, leftOverCubicMeters } = debris;
  return (
    <Rows>
      <Row label="Debris, loose">
        <Figure of={debrisQuantity(looseCubicMeters.likely, units)} />
      </Row>
      <Row label="Berms and brush piles hold">
        <Figure of={debrisQuantity(roomCubicMeters, units)} />
      </Row>
      <Row label="Without a place in reach">
        {leftOverCubicMeters < 0.5 ? (
          'none'
        ) : (
          <Figure of={debrisQuantity(leftOverCubicMeters, units)} />
        )}
      </Row>
    </Rows>
  );
}
