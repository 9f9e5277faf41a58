import { useMemo, type ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { useSession } from '../../store/use-session.ts';
import { bearing } from '../../words/format.ts';
import { sharesText, verdictWords } from '../../words/wind-words.ts';
import { toolFor } from '../../words/draw-tools.ts';
import { ActionButton } from '../action-button.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { Said } from '../said.tsx';
import { WindRecordPart } from '../wind/wind-record.tsx';
import { CautionLines } from './caution-lines.tsx';
import { DrawTools } from './draw-tools.tsx';
import { Findings } from './findings.tsx';
import { PickFeature } from './pick-feature.tsx';
import { Section } from './section.tsx';
import { SitingLines } from './siting-lines.tsx';
import { ShotFields } from './shot-fields.tsx';
import { findingsOf, ofKind, sectionAnswers } from './section-states.ts';

/** The seats, whether they work on the wind below and over the season, and the record behind it. */
export function StandsSection(): ReactElement {
  return (
    <Section name="stands">
      <LeftUndone of={sectionAnswers.stands}>
        <StandFindings />
        <Stands />
      </LeftUndone>
      <SitingLines />
      <ShotFields />
      <WindRecordPart />
      <DrawTools group="stands" />
      <CautionLines names={['stand', 'overhead']} />
    </Section>
  );
}

function StandFindings(): ReactElement {
  const findings = useSession(useShallow((state) => findingsOf('stands', state)));
  return <Findings of={findings} />;
}

function Stands(): ReactElement {
  const features = useSession((state) => state.features);
  const seasons = useSession((state) => state.site.standSeasons?.value.stands);
  const winds = useSession((state) => state.site.standWinds?.value.stands);
  const wind = winds ?? {};
  const stands = useMemo(() => ofKind(features, 'stand'), [features]);
  if (stands.length === 0) {
    return (
      <div className="teach">
        <p>
          <Said>
            <b>Set a stand.</b> {toolFor('stand').why}
          </Said>
        </p>
        <ActionButton name="draw-stand" look="lead">
          Draw stand
        </ActionButton>
      </div>
    );
  }
  return (
    <>
      <table className="numbers narrow picks stand-list">
        <caption className="out-of-sight">Stands</caption>
        <thead>
          <tr>
            <th scope="col">Stand</th>
            <th scope="col">on this wind</th>
            <th scope="col">dawn, dusk</th>
            <th scope="col">faces</th>
          </tr>
        </thead>
        <tbody>
          {stands.map((stand) => {
            const faces = stand.properties.facingDegrees;
            return (
              <tr key={stand.id}>
                <th scope="row">
                  <PickFeature of={stand} />
                </th>
                <td className="verdict">
                  {wind[stand.id] ? <b>{verdictWords[wind[stand.id]!.verdict]}</b> : '…'}
                </td>
                <td>{seasons?.[stand.id] ? sharesText(seasons[stand.id]!.season) : ''}</td>
                <td>{faces === null ? 'not set' : <b>{bearing(faces)}</b>}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </>
  );
}
