import { useMemo, type ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import type { SurveyQuality } from '../../../geo/answers/answers.ts';
import { squareMetersFromAcres } from '../../../geo/frame/units.ts';
import type { AnswersNamed } from '../../store/left-undone.ts';
import { useSession } from '../../store/use-session.ts';
import {
  areaQuantity,
  elevationQuantity,
  errorQuantity,
  lengthQuantity,
} from '../../words/format.ts';
import { toolFor } from '../../words/draw-tools.ts';
import { gradeWords, surveyLimits, surveyWhen } from '../../words/survey-words.ts';
import { ActionButton } from '../action-button.tsx';
import { OpenElevation } from '../opening/open-elevation.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { LongWait } from '../left/long-wait.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { Said } from '../said.tsx';
import { CautionLines } from './caution-lines.tsx';
import { DrawTools } from './draw-tools.tsx';
import { Findings } from './findings.tsx';
import { GroundChoice } from './ground-choice.tsx';
import { PlotLines } from './plot-lines.tsx';
import { Section } from './section.tsx';
import { errorOf, findingsOf, ofKind, sectionAnswers } from './section-states.ts';
import { SurveyFields } from './survey-fields.tsx';

/** The ground that everything rests on, and each plot drawn on it. */
export function GroundSection(): ReactElement {
  // What decides comes first: the plots, once there is ground under them.
  const opened = useSession((state) => state.grounds[state.settings.groundId] !== undefined);
  return (
    <Section name="ground">
      {opened ? (
        <>
          <PlotFigures />
          <GroundTools />
          <Site />
        </>
      ) : (
        <>
          <Site />
          <PlotFigures />
          <GroundTools />
        </>
      )}
      <GroundCautions />
    </Section>
  );
}

/** What a plot's row is read from besides its low spots, which say it by themselves. */
const plotAnswers: AnswersNamed = { features: ['plotGround', 'plantable'] };

function PlotFigures(): ReactElement {
  return (
    <>
      <LeftUndone of={plotAnswers}>
        <Plots />
      </LeftUndone>
      <LeftUndone of={sectionAnswers.ground}>
        <GroundFindings />
      </LeftUndone>
    </>
  );
}

function GroundFindings(): ReactElement {
  const findings = useSession(useShallow((state) => findingsOf('ground', state)));
  return <Findings of={findings} />;
}

function Site(): ReactElement {
  const ground = useSession((state) => state.site.ground?.value);
  const record = useSession((state) => state.grounds[state.settings.groundId]);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  if (!record) {
    return (
      <div className="teach">
        <p>
          <b>Open the ground first.</b> Slope, fall and standing water are read from elevation: a
          GeoTIFF, an ASCII grid or shots of your site. Acres and lengths work without it.
        </p>
        <OpenElevation />
      </div>
    );
  }
  return (
    <>
      <h3>{record.name}</h3>
      {ground ? (
        <Rows>
          <Row label="Area with elevation">
            <Figure of={areaQuantity(ground.areaSquareMeters, units)} />
          </Row>
          <Row label="Lowest to highest">
            <Figure of={elevationQuantity(ground.lowestMeters, error, units)} /> to{' '}
            <Figure of={elevationQuantity(ground.highestMeters, error, units)} />
          </Row>
          <SurveyRows survey={ground.survey} />
        </Rows>
      ) : (
        <LongWait of={{ site: ['ground'] }} doing="Reading the ground" />
      )}
      <details className="fold">
        <summary className="narrow">Set what the survey did not say</summary>
        {ground && (
          <ul className="limits narrow">
            {surveyLimits(ground.survey, record, units).map((line) => (
              <li key={line}>
                <Said>{line}</Said>
              </li>
            ))}
          </ul>
        )}
        <GroundChoice />
        <SurveyFields key={record.id} record={record} />
        <p className="aside narrow aside-line">
          <Said>
            From {record.sourceFiles.join(', ')} ({record.sourceCrsName}). {record.notes.join(' ')}
          </Said>
        </p>
        <OpenElevation again />
      </details>
    </>
  );
}

function SurveyRows({ survey }: { readonly survey: SurveyQuality }): ReactElement {
  const units = useSession((state) => state.settings.units);
  return (
    <>
      <Row label="Measured">
        <b>{surveyWhen(survey)}</b>
      </Row>
      <Row label="Good for">
        <b>{gradeWords[survey.grade]}</b>
      </Row>
      <Row label="Cells, vertical error">
        <Figure of={lengthQuantity(survey.cellMeters, units)} />,{' '}
        <Figure of={errorQuantity(survey.verticalErrorMeters, units)} />{' '}
        {!survey.verticalErrorIsStated && <span className="aside">assumed</span>}
      </Row>
    </>
  );
}

function Plots(): ReactElement {
  const features = useSession((state) => state.features);
  const plots = useMemo(() => ofKind(features, 'plot'), [features]);
  if (plots.length === 0) {
    return (
      <div className="teach">
        <p>
          <Said>
            <b>Draw a food plot.</b> {toolFor('plot').why} Or bring in what you have: a parcel, a
            walked track, anything in GeoJSON, KML, GPX or a shapefile.
          </Said>
        </p>
        <div className="tools">
          <ActionButton name="draw-plot" look="lead">
            Draw plot
          </ActionButton>
          <ActionButton name="bring-in" />
        </div>
      </div>
    );
  }
  return (
    <table className="numbers narrow picks">
      <caption className="out-of-sight">Food plots</caption>
      <thead>
        <tr>
          <th scope="col">Plot</th>
          <th scope="col">area</th>
          <th scope="col">slope</th>
          <th scope="col">falls to</th>
        </tr>
      </thead>
      {plots.map((plot) => (
        <PlotLines key={plot.id} plot={plot} />
      ))}
    </table>
  );
}

function GroundTools(): ReactElement {
  return (
    <>
      <DrawTools group="ground" />
      <DrawTools group="lines" title="Lines of others" />
      <div className="tools">
        <ActionButton name="bring-in" />
      </div>
    </>
  );
}

function GroundCautions(): ReactElement {
  const overAnAcre = useSession((state) => {
    const areas = ofKind(state.features, 'plot').map(
      (plot) => state.answers[plot.id]?.plotGround?.value.areaSquareMeters ?? 0,
    );
    return areas.reduce((sum, area) => sum + area, 0) >= squareMetersFromAcres(1);
  });
  return (
    <CautionLines
      names={
        overAnAcre ? ['screening', 'disturbance', 'slope', 'dig'] : ['screening', 'slope', 'dig']
      }
    />
  );
}
