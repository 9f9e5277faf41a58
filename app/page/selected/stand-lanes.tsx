import type { ReactElement } from 'react';
import type { Answer } from '../../../geo/answers/answers.ts';
import type { LaneShown, StandLanes } from '../../../geo/answers/lane-answers.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { windShown } from '../../services/lanes-shown.ts';
import { useSession } from '../../store/use-session.ts';
import {
  climbText,
  exposedTexts,
  laneText,
  noLaneText,
  secondReason,
  servesText,
  shownWindText,
} from '../../words/lane-words.ts';
import { directions16 } from '../../words/format.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { LongWait } from '../left/long-wait.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { Findings } from '../worksheet/findings.tsx';

/** Ways in to a stand, wind by wind, once somebody asks for them; and out at dark. */
export function StandLanesPart({
  feature,
}: {
  readonly feature: PlanFeature<'stand'>;
}): ReactElement {
  const asked = useSession((state) => state.settings.lanesFor === feature.id);
  const answer = useSession((state) => state.site.standLanes);
  const services = useServices();
  const mine = asked && answer?.value.standId === feature.id ? answer : null;
  return (
    <section className="dams" aria-label="Ways in">
      <p className="narrow">
        <Said>
          <b>Ways in.</b>{' '}
          {!asked &&
            'From each access point, for each wind that it can be sat on: time, scent, sight, wet and steep ground.'}
        </Said>
      </p>
      {asked ? (
        <button
          type="button"
          className="text-button narrow"
          onClick={() => services.setSetting('lanesFor', '')}
        >
          Put the ways in away
        </button>
      ) : (
        <button
          type="button"
          className="button"
          onClick={() => services.setSetting('lanesFor', feature.id)}
        >
          Find ways in
        </button>
      )}
      {asked && !mine && <LongWait of={{ site: ['standLanes'] }} doing="Looking for ways in" />}
      {mine && (
        <LeftUndone of={{ site: ['standLanes'] }}>
          <Found standId={feature.id} answer={mine} />
        </LeftUndone>
      )}
    </section>
  );
}

function Found({
  standId,
  answer,
}: {
  readonly standId: string;
  readonly answer: Answer<StandLanes>;
}): ReactElement {
  const site = useSession((state) => state.site);
  const conditions = useSession((state) => state.conditions);
  const shown = windShown({ site, conditions });
  const lanes = shown?.lanes;
  const verdict = site.standWinds?.value.stands[standId]?.verdict ?? null;
  const units = useSession((state) => state.settings.units);
  const { winds, out } = answer.value;
  return (
    <>
      <Findings of={answer.findings} own />
      {shown && lanes && (
        <>
          <p className="narrow">
            <Said>
              <b>{shownWindText(lanes.direction, shown.inHand, verdict, shown.isMost)}</b>{' '}
              {noLaneText(lanes)}
            </Said>
          </p>
          {lanes.best && <One lane={lanes.best} title="Best" standId={standId} />}
          {lanes.best && lanes.second && (
            <One
              lane={lanes.second}
              title="Another way"
              standId={standId}
              why={secondReason(lanes.best, lanes.second, units)}
            />
          )}
        </>
      )}
      {out && <One lane={out} title="Out at dark, on the slope’s evening air" standId={standId} />}
      <details className="fold">
        <summary className="narrow">Every wind</summary>
        <table className="numbers narrow">
          <caption className="out-of-sight">The best way in by wind</caption>
          <tbody>
            {winds.map((wind) => (
              <tr key={wind.direction}>
                <th scope="row" className="whole">
                  {directions16[wind.direction]}
                </th>
                <td className="words">
                  <Said>{wind.best ? laneText(wind.best, units) : 'none'}</Said>
                </td>
                <td className="words">
                  <Said>{noLaneText(wind)}</Said>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
      <HowWorkedOut basis={answer.basis} title="How the ways in were found" />
    </>
  );
}

function One({
  lane,
  title,
  standId,
  why = '',
}: {
  readonly lane: LaneShown;
  readonly title: string;
  readonly standId: string;
  readonly why?: string;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const timeZone = useSession((state) => state.settings.timeZone);
  const access = useSession((state) => state.features[lane.accessId]?.name);
  const services = useServices();
  const exposed = exposedTexts(lane, units);
  return (
    <div className="gap">
      <p className="narrow">
        <Said>
          <b>{title}:</b> {laneText(lane, units)} from {access || 'the access point'};{' '}
          {climbText(lane, timeZone, units)}. {why} {servesText(lane)}
        </Said>
      </p>
      {exposed.length > 0 && (
        <ul className="narrow">
          {exposed.map((text) => (
            <li key={text}>
              <Said>{text}</Said>
            </li>
          ))}
        </ul>
      )}
      <button
        type="button"
        className="text-button narrow"
        onClick={() => services.keepLane(standId, lane.line)}
      >
        Draw it on the plan
      </button>
    </div>
  );
}
