import { useMemo, useState, type ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import type { FeatureAnswers } from '../../../geo/answers/answers.ts';
import type { Basis } from '../../../geo/answers/finding.ts';
import { isKind, type PlanFeature } from '../../../geo/plan/feature.ts';
import { isLeftUndone } from '../../store/left-undone.ts';
import { selectedFeatures } from '../../store/selection.ts';
import { sectionShownOf } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { coordinate, elevationQuantity, fallQuantity, lengthQuantity } from '../../words/format.ts';
import { featureSize, sizeQuantity } from '../../words/feature-size.ts';
import { kindWords } from '../../words/kind-words.ts';
import { outlineTrouble } from '../../words/outline-words.ts';
import { choiceWords } from '../../words/property-words.ts';
import { surveyLine } from '../../words/survey-words.ts';
import { ActionButton } from '../action-button.tsx';
import { WrittenField } from '../fields.tsx';
import { HowWorkedOut } from '../how-worked-out.tsx';
import { LeftUndone } from '../left/left-undone.tsx';
import { StoppedLine } from '../left/stopped-line.tsx';
import { PlotNumbers } from '../plot-numbers.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { Findings } from '../worksheet/findings.tsx';
import { errorOf } from '../worksheet/section-states.ts';
import { AskFirst } from './ask-first.tsx';
import { BurnNumbers } from './burn-numbers.tsx';
import { BermNumbers } from './berm-numbers.tsx';
import { CanopyRows } from './canopy-rows.tsx';
import { ChangeShape } from './change-shape.tsx';
import { DamNumbers } from './dam-numbers.tsx';
import { FeatureTools } from './feature-tools.tsx';
import { GapPlan } from './gap-plan.tsx';
import { HeapNumbers } from './heap-numbers.tsx';
import { OutlineFault } from './outline-fault.tsx';
import { PlantableNumbers } from './plantable-numbers.tsx';
import { PropertyFields } from './property-fields.tsx';
import { Several } from './several.tsx';
import { TimberNumbers } from './timber-numbers.tsx';
import { StandParts, standWindAnswers } from './stand-parts.tsx';
import { TrialFooter } from './trial-footer.tsx';
import './selected.css';

/** What is selected: its name, what is computed of it, what can be set, and how it was worked out. */
export function WhatItIs(): ReactElement | null {
  const feature = useSession((state) =>
    state.selectedId === null ? undefined : state.features[state.selectedId],
  );
  const several = useSession(useShallow((state) => selectedFeatures(state)));
  const isAtDeed = useSession((state) => state.desk === 'metes');
  // What is tried then is the deed's, and has its own way out.
  if (!feature || isAtDeed) return null;
  if (several.length > 1) return <Several features={several} />;
  return <Panel key={feature.id} feature={feature} />;
}

function Panel({ feature }: { readonly feature: PlanFeature }): ReactElement {
  const services = useServices();
  const answers = useSession((state) => state.answers[feature.id]);
  const survey = useSession((state) => state.site.ground?.value.survey);
  const answer =
    answers?.plotGround ??
    answers?.bermLine ??
    answers?.standGround ??
    answers?.sectionLine ??
    answers?.shapeMeasure;
  const findings = [
    ...(answer?.findings ?? []),
    ...(answers?.plantable?.findings ?? []),
    ...(answers?.plotLowSpots?.findings ?? []),
    ...(answers?.plotStorm?.findings ?? []),
    ...(answers?.timberDebris?.findings ?? []),
    ...(answers?.bermHolds?.findings ?? []),
    ...(answers?.heapHolds?.findings ?? []),
    ...(answers?.damming?.findings ?? []),
    ...(answers?.burning?.findings ?? []),
    ...(answers?.standShots?.findings ?? []),
    ...(answers?.seenByHeight?.findings ?? []),
  ];
  const mine = (...features: (keyof FeatureAnswers)[]) => ({ features, id: feature.id });
  const isLeft = useSession(
    (state) =>
      isLeftUndone(state, { features: 'all', id: feature.id }) ||
      (feature.kind === 'stand' && isLeftUndone(state, standWindAnswers)),
  );
  const [setting, setSetting] = useState(false);
  const trial = useSession((state) => state.trial);
  const kind = kindWords[feature.kind].one;
  // Such an outline has no answers, so nothing is to be waited for.
  const trouble = useMemo(() => outlineTrouble(feature), [feature]);
  return (
    <section
      className="what"
      aria-label={`What it is: ${feature.name || kind}`}
      data-covers="right"
    >
      <header>
        <WrittenField
          label="Name"
          large
          shown={feature.name}
          read={(text) =>
            text.trim().length <= 200
              ? { value: text.trim() }
              : { wrong: 'Keep it to 200 letters.' }
          }
          onValue={(name) => services.renameFeature(feature.id, name)}
        />
        <button
          type="button"
          className="button plain close"
          aria-label="Put it down"
          onClick={() => services.select(null)}
        >
          <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
            <path d="M2 2 L14 14 M14 2 L2 14" stroke="currentColor" strokeWidth="2" />
          </svg>
        </button>
        <p className="narrow aside">
          <Said>
            {kind.toLowerCase()}
            {survey && <span className="what-survey"> · {surveyLine(survey)}</span>}
          </Said>
        </p>
      </header>
      <div className="what-body" tabIndex={0} role="group" aria-label="Numbers and properties">
        <AskFirst feature={feature} />
        {trouble && <OutlineFault feature={feature} trouble={trouble} />}
        {isLeft && <StoppedLine what="Figures marked here are as they were before." />}
        <Findings of={findings.filter((finding) => finding.level === 'stop')} own />
        <LeftUndone of={mine('plantable')}>
          {answers?.plantable && <PlantableNumbers of={answers.plantable.value} />}
        </LeftUndone>
        {isKind(feature, 'no-go') && <Reason feature={feature} />}
        <LeftUndone
          of={mine('plotGround', 'bermLine', 'standGround', 'sectionLine', 'shapeMeasure')}
        >
          {!trouble && <Computed feature={feature} />}
        </LeftUndone>
        <LeftUndone of={mine('timberDebris', 'canopyStems', 'heapHolds')}>
          {isKind(feature, 'timber-block') && <TimberNumbers feature={feature} />}
          {isKind(feature, 'timber-block') && <CanopyRows feature={feature} />}
          {isKind(feature, 'heap') && <HeapNumbers feature={feature} />}
        </LeftUndone>
        {isKind(feature, 'stand') && <StandParts feature={feature} />}
        <LeftUndone of={mine('damming', 'lettingGaps', 'bermGaps', 'burning')}>
          <DamNumbers feature={feature} />
          {isKind(feature, 'berm') && <GapPlan feature={feature} />}
          <BurnNumbers feature={feature} />
        </LeftUndone>
        <Findings of={findings.filter((finding) => finding.level !== 'stop')} own />
        <details
          className="fold"
          open={setting}
          onToggle={(event) => setSetting(event.currentTarget.open)}
        >
          <summary className="narrow">Set what it is</summary>
          <PropertyFields feature={feature} />
        </details>
        <ChangeShape feature={feature} />
        <Worked basis={answer?.basis} />
        {answers?.plantable && (
          <HowWorkedOut
            basis={answers.plantable.basis}
            title="How the acres to plant were worked out"
          />
        )}
        <FeatureTools feature={feature} />
      </div>
      {trial ? (
        <TrialFooter trial={trial} />
      ) : (
        <footer className="tools">
          <ActionButton name="edit-shape" />
          {answers?.sectionLine && <SectionButton id={feature.id} />}
          <ActionButton name="delete" />
        </footer>
      )}
    </section>
  );
}

/** Why a ground is kept out of: it decides more than its size. */
function Reason({ feature }: { readonly feature: PlanFeature<'no-go'> }): ReactElement {
  const { reason, detail } = feature.properties;
  return (
    <p className="narrow aside-line">
      <Said>
        <b>Keep out: {choiceWords(reason)}.</b> {detail}
      </Said>
    </p>
  );
}

function SectionButton({ id }: { readonly id: string }): ReactElement {
  const isShown = useSession((state) => sectionShownOf(state) === id);
  return <ActionButton name="section" pressed={isShown} />;
}

function Worked({ basis }: { readonly basis: Basis | undefined }): ReactElement | null {
  return basis ? <HowWorkedOut basis={basis} /> : null;
}

function Computed({ feature }: { readonly feature: PlanFeature }): ReactElement {
  const answers = useSession((state) => state.answers[feature.id]);
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  if (isKind(feature, 'plot')) {
    const plot = answers?.plotGround?.value;
    return plot ? (
      <PlotNumbers
        id={feature.id}
        plot={plot}
        lowSpots={answers.plotLowSpots?.value}
        storm={answers.plotStorm?.value}
      />
    ) : (
      <Waiting />
    );
  }
  if (isKind(feature, 'berm')) return <BermNumbers feature={feature} />;
  if (isKind(feature, 'stand')) {
    const ground = answers?.standGround?.value;
    if (!ground) return <Waiting />;
    return (
      <Rows>
        <Row label="Ground elevation">
          <Figure of={elevationQuantity(ground.elevationMeters, error, units)} />
        </Row>
        <Row label="Place">
          <b>{coordinate(ground.longitude, ground.latitude)}</b>
        </Row>
      </Rows>
    );
  }
  const section = answers?.sectionLine?.value;
  if (section) {
    return (
      <Rows>
        <Row label="Length along the line">
          <Figure of={lengthQuantity(section.lengthMeters, units)} />
        </Row>
        {section.surface && (
          <>
            <Row label="Climbs">
              <Figure of={fallQuantity(section.surface.climbMeters, error, units)} />
            </Row>
            <Row label="Falls">
              <Figure of={fallQuantity(section.surface.fallMeters, error, units)} />
            </Row>
          </>
        )}
      </Rows>
    );
  }
  const size = featureSize(answers);
  if (size) {
    return (
      <Rows>
        <Row label={sizeWords[size.measure]}>
          <Figure of={sizeQuantity(size, error, units)} />
        </Row>
      </Rows>
    );
  }
  return (
    <p className="narrow aside-line">
      <Said>
        It is kept with the plan. No answer about {kindWords[feature.kind].many.toLowerCase()} in
        this version.
      </Said>
    </p>
  );
}

const sizeWords = {
  area: 'Area',
  length: 'Length along the line',
  elevation: 'Ground elevation',
} as const;

function Waiting(): ReactElement {
  return (
    <p className="narrow aside-line" aria-live="polite">
      Working it out …
    </p>
  );
}
