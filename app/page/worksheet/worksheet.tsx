import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { projectName } from '../../words/project-words.ts';
import { gradeWords, surveyLine } from '../../words/survey-words.ts';
import { ActionButton } from '../action-button.tsx';
import { WrittenField } from '../fields.tsx';
import { SaveDrawings } from '../import/save-drawings.tsx';
import { KeepCopy } from '../projects/keep-copy.tsx';
import { NoticeBox } from '../projects/notice.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { ClearingSection } from './clearing-section.tsx';
import { DebrisSection } from './debris-section.tsx';
import { DrawTools } from './draw-tools.tsx';
import { GroundSection } from './ground-section.tsx';
import { KeyFold } from './key-fold.tsx';
import { Later } from './later.tsx';
import { Section } from './section.tsx';
import { StandsSection } from './stands-section.tsx';
import { TitleBlock } from './title-block.tsx';
import { WaterSection } from './water-section.tsx';

/** The margin of the sheet, in the order of the job. */
export function Worksheet(): ReactElement {
  return (
    <div className="worksheet" role="region" aria-label="Worksheet" tabIndex={-1}>
      <SiteLine />
      <NoticeBox />
      <KeepCopy />
      <GroundSection />
      <ClearingSection />
      <WaterSection />
      <Section name="grade">
        <Later name="grade" />
      </Section>
      <DebrisSection />
      <Section name="planting">
        <DrawTools group="planting" />
        <Later name="planting" />
      </Section>
      <StandsSection />
      <Section name="papers">
        <Later name="papers" />
        <SaveDrawings />
      </Section>
      <TitleBlock />
      <KeyFold />
    </div>
  );
}

function SiteLine(): ReactElement {
  const services = useServices();
  const siteName = useSession((state) => state.settings.siteName);
  const jobNumber = useSession((state) => state.settings.jobNumber);
  const survey = useSession((state) => state.site.ground?.value.survey);
  const groundName = useSession((state) => state.grounds[state.settings.groundId]?.name);
  return (
    <div className="site-line">
      <div className="site-name">
        <WrittenField
          label="Name of this site"
          large
          shown={siteName}
          placeholder={projectName('', groundName)}
          read={(text) =>
            text.trim().length <= 200
              ? { value: text.trim() }
              : { wrong: 'Keep it to 200 letters.' }
          }
          onValue={(name) => services.setSetting('siteName', name)}
        />
        {jobNumber && <span className="aside narrow">job {jobNumber}</span>}
        <ActionButton name="projects" look="plain" />
      </div>
      {survey && (
        <p className="aside narrow">
          <Said>
            {surveyLine(survey)} · {gradeWords[survey.grade]}
          </Said>
        </p>
      )}
    </div>
  );
}
