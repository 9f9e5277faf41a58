import type { ReactElement } from 'react';
import type { StormPool, WayOut } from '../../../geo/answers/answers.ts';
import { useSession } from '../../store/use-session.ts';
import { lengthQuantity, spoken, station } from '../../words/format.ts';
import { barsText, betterText, cutText, isLookedAt, mayBeWetland, spoilText, yardsText } from '../../words/way-out-words.ts'; // prettier-ignore
import { CheckField } from '../fields.tsx';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { CautionLines } from './caution-lines.tsx';
import { CulvertLines, questionOf } from './culvert-lines.tsx';
import { DozerFields } from './dozer-fields.tsx';
import { FlowLines } from './flow-lines.tsx';

/** The cheapest cut that lets each low spot out, against filling it; a wet place is a stop first. */
export function WaysOut(): ReactElement | null {
  const answer = useSession((state) => state.site.waysOut);
  const pools = useSession((state) => state.site.storm?.value.pools);
  const flows = useSession((state) => state.site.notchFlows?.basis);
  const work = useSession((state) => state.site.notchWork?.basis);
  if (!answer || !pools || answer.value.ways.length === 0) return null;
  return (
    <details className="fold">
      <summary className="narrow">The way out of each low spot</summary>
      {answer.value.ways.map((way) => {
        const pool = pools.find(({ id }) => id === way.id);
        return pool && <OneWay key={way.id} way={way} pool={pool} />;
      })}
      <p className="narrow aside-line">
        Waterways are commonly made for the rain that comes once in ten years: set the gauge to it
        before you stake.
      </p>
      <DozerFields />
      <CautionLines names={['wetland', 'dig']} />
      <HowWorkedOut basis={answer.basis} />
      {flows && <HowWorkedOut basis={flows} title="How the flow was worked out" />}
      {work && <HowWorkedOut basis={work} title="How the minutes were worked out" />}
    </details>
  );
}

function OneWay({ way, pool }: { readonly way: WayOut; readonly pool: StormPool }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const isFree = useSession(
    (state) => !mayBeWetland(pool) || isLookedAt(pool.deepestAt, state.settings.lookedAt),
  );
  const job = useSession((state) =>
    state.site.notchWork?.value.jobs.find(({ id }) => id === way.id),
  );
  const mustAsk = useSession(
    (state) => questionOf(state.site.culvertQuestions?.value, way.id)?.state === 'ask',
  );
  const services = useServices();
  const { notch, fill, bars } = way;
  const mayCut = isFree && !mustAsk;
  return (
    <section className="way-out" aria-label={`The way out of ${way.id}`}>
      <h3 className="narrow">{way.id}</h3>
      {mayBeWetland(pool) && (
        <>
          {!isFree && (
            <p className="narrow">
              <b>Stop. Have it looked at before any cut.</b> It may be wetland. Ask the Corps of
              Engineers district, the state agency, or the NRCS office.
            </p>
          )}
          <CheckField
            label="It has been looked at, and may be drained"
            value={isFree}
            onValue={(yes) => services.setLookedAt(pool.deepestAt, yes)}
          />
        </>
      )}
      {bars.length > 0 && (
        <p className="narrow">
          <Said>
            <b>Stop.</b> {notch ? 'The cut would touch' : 'Every way out digs through'}{' '}
            {barsText(bars)}.
          </Said>
        </p>
      )}
      {!notch && bars.length === 0 && (
        <p className="narrow">
          <Said>{way.why}</Said>
        </p>
      )}
      {isFree && <CulvertLines id={way.id} />}
      {mayCut && notch && (
        <>
          <p className="narrow">
            <Said>
              <b>Cut {yardsText(notch.bankCubicMeters, units)} bank</b>:{' '}
              {spoken(lengthQuantity(notch.lengthMeters, units))} long, to{' '}
              {cutText(notch.maxCutMeters, units)} deep.
            </Said>
          </p>
          <FlowLines id={way.id} />
          <Stakes of={notch} />
          <p className="narrow">
            <Said>{spoilText(notch, units)}</Said>
          </p>
        </>
      )}
      {mayCut && (
        <p className="narrow">
          <Said>
            {notch ? 'Or fill' : 'Fill'} {yardsText(fill.bankCubicMeters, units)} bank, and it is
            still dead level.
            {job && <b> {betterText(job)}</b>}
          </Said>
        </p>
      )}
      {mayCut && notch && bars.length === 0 && (
        <button type="button" className="button" onClick={() => services.layNotch(way.id)}>
          Put the notch on the plan
        </button>
      )}
    </section>
  );
}

function Stakes({ of }: { readonly of: NonNullable<WayOut['notch']> }): ReactElement {
  const units = useSession((state) => state.settings.units);
  return (
    <table className="numbers narrow">
      <caption className="out-of-sight">Cut at each stake, from the low spot outward</caption>
      <thead>
        <tr>
          <th scope="col">Stake</th>
          <th scope="col">cut</th>
        </tr>
      </thead>
      <tbody>
        {of.stations.map(({ stationMeters, cutMeters }) => (
          <tr key={stationMeters}>
            <th scope="row">{station(stationMeters, units)}</th>
            <td>{cutText(cutMeters, units)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
