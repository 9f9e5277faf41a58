import { useMemo, type ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { useSession } from '../../store/use-session.ts';
import { elevationQuantity, lengthQuantity, station } from '../../words/format.ts';
import { toolFor } from '../../words/draw-tools.ts';
import { ActionButton } from '../action-button.tsx';
import { Figure } from '../quantity.tsx';
import { useServices } from '../services.ts';
import { CautionLines } from './caution-lines.tsx';
import { DrawTools } from './draw-tools.tsx';
import { Findings } from './findings.tsx';
import { Later } from './later.tsx';
import { Section } from './section.tsx';
import { errorOf, findingsOf, ofKind } from './section-states.ts';

/** Berm lines so far; volumes and gaps come when Clearing gives the debris. */
export function DebrisSection(): ReactElement {
  return (
    <Section name="debris">
      <DebrisFindings />
      <Berms />
      <DrawTools group="debris" />
      <Later name="debris" />
      <CautionLines names={['berm', 'dig']} />
    </Section>
  );
}

function DebrisFindings(): ReactElement {
  const findings = useSession(useShallow((state) => findingsOf('debris', state)));
  return <Findings of={findings} />;
}

function Berms(): ReactElement {
  const features = useSession((state) => state.features);
  const answers = useSession((state) => state.answers);
  const selectedId = useSession((state) => state.selectedId);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const services = useServices();
  const berms = useMemo(() => ofKind(features, 'berm'), [features]);
  if (berms.length === 0) {
    return (
      <div className="teach">
        <p>
          <b>Draw a berm line.</b> {toolFor('berm').why}
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
            <th scope="col">to station</th>
            <th scope="col">ground rises</th>
          </tr>
        </thead>
        <tbody>
          {berms.map((berm) => {
            const line = answers[berm.id]?.bermLine?.value;
            const rise =
              line && line.highestMeters !== null && line.lowestMeters !== null
                ? line.highestMeters - line.lowestMeters
                : null;
            return (
              <tr key={berm.id} data-selected={berm.id === selectedId}>
                <th scope="row">
                  <button
                    type="button"
                    className="pick"
                    aria-pressed={berm.id === selectedId}
                    onClick={() => services.select(berm.id === selectedId ? null : berm.id)}
                  >
                    {berm.name || 'unnamed'}
                  </button>
                </th>
                <td>{line ? <Figure of={lengthQuantity(line.lengthMeters, units)} /> : '…'}</td>
                <td>{line && <b>{station(line.lengthMeters, units)}</b>}</td>
                <td>{rise !== null && <Figure of={elevationQuantity(rise, error, units)} />}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </>
  );
}
