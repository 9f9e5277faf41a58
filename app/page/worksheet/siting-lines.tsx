import type { ReactElement } from 'react';
import type { Answer } from '../../../geo/answers/answers.ts';
import type { SitePlace, Siting } from '../../../geo/answers/shot-answers.ts';
import { isPlaceShown } from '../../store/shown-place.ts';
import { useSession } from '../../store/use-session.ts';
import {
  hoursWords,
  inLineWords,
  laneWords,
  placeName,
  seenWords,
  weakWords,
} from '../../words/siting-words.ts';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { LongWait } from '../left/long-wait.tsx';
import { useServices } from '../services.ts';
import { CautionLines } from './caution-lines.tsx';
import { Findings } from './findings.tsx';
import './siting-lines.css';

/** Where a stand could go round each plot, once somebody asks; each place with its why and why not. */
export function SitingLines(): ReactElement {
  const asked = useSession((state) => state.settings.wantsSiting);
  const answer = useSession((state) => state.site.siting);
  const hasGround = useSession((state) => state.settings.groundId !== '');
  const services = useServices();
  return (
    <section className="dams" aria-label="Where a stand could go">
      {asked ? (
        <button
          type="button"
          className="text-button narrow"
          onClick={() => services.setSetting('wantsSiting', false)}
        >
          Put the places away
        </button>
      ) : (
        <button
          type="button"
          className="button"
          disabled={!hasGround}
          onClick={() => services.setSetting('wantsSiting', true)}
        >
          Where should a stand go?
        </button>
      )}
      {asked && !answer && hasGround && (
        <LongWait
          of={{ site: ['siting', 'siteBands', 'siteAir'] }}
          doing="Looking round every plot"
        />
      )}
      {asked && !answer && !hasGround && (
        <p className="narrow aside-line">Open the ground first.</p>
      )}
      {asked && answer && (
        <LeftUndone of={{ site: ['siting'] }}>
          <Places answer={answer} />
        </LeftUndone>
      )}
    </section>
  );
}

function Places({ answer }: { readonly answer: Answer<Siting> }): ReactElement {
  const features = useSession((state) => state.features);
  const { plots, knowsLanes } = answer.value;
  return (
    <>
      <Findings of={answer.findings} />
      <ul className="siting">
        {plots.flatMap(({ plotId, places }) =>
          places.map((place, index) => (
            <Place
              key={`${plotId} ${index}`}
              name={placeName(features[plotId]?.name ?? '', index)}
              plotId={plotId}
              place={place}
              knowsLanes={knowsLanes}
            />
          )),
        )}
      </ul>
      <CautionLines names={['shot']} />
      <HowWorkedOut basis={answer.basis} title="How the places were found" />
    </>
  );
}

function Place({
  name,
  plotId,
  place,
  knowsLanes,
}: {
  readonly name: string;
  readonly plotId: string;
  readonly place: SitePlace;
  readonly knowsLanes: boolean;
}): ReactElement {
  const services = useServices();
  const isShown = useSession((state) => isPlaceShown(state, place.at));
  const features = useSession((state) => state.features);
  const units = useSession((state) => state.settings.units);
  const inLine = inLineWords(place, (id) => features[id]?.name || 'a stand without a name', units);
  return (
    <li className="narrow">
      <b>{name}.</b> {inLine && <b>{inLine}</b>} {hoursWords(place)} {seenWords(place)}{' '}
      {laneWords(place, knowsLanes)} {weakWords(place)}
      <div className="tools">
        <button
          type="button"
          className="button"
          aria-label={`Set a stand here: ${name}`}
          onClick={() => services.layStand(plotId, place)}
        >
          Set a stand here
        </button>
        <button
          type="button"
          className="button plain"
          aria-label={`Show it: ${name}`}
          aria-pressed={isShown}
          onClick={() => services.showPlace(place.at)}
        >
          Show it
        </button>
      </div>
    </li>
  );
}
