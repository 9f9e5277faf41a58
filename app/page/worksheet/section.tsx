import type { ReactElement, ReactNode } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { isLeftUndone } from '../../store/left-undone.ts';
import type { SectionName } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { StoppedLine } from '../left/stopped-line.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { Mark } from './mark.tsx';
import { useHeldHead } from './use-held-head.ts';
import { sectionAnswers, sectionState, sectionTitles, standingWords } from './section-states.ts';

/** One step of the job: its line is always in sight, its body when it is opened. */
export function Section({
  name,
  children,
}: {
  readonly name: SectionName;
  readonly children: ReactNode;
}): ReactElement {
  const { standing, summary } = useSession(useShallow((state) => sectionState(name, state)));
  const open = useSession((state) => state.openSection === name);
  const left = useSession((state) => isLeftUndone(state, sectionAnswers[name]));
  const services = useServices();
  const [head, hold] = useHeldHead(open);
  return (
    <section className="section" data-open={open} aria-labelledby={`section-${name}`}>
      <h2>
        <button
          ref={head}
          type="button"
          id={`section-${name}`}
          className="section-line"
          aria-expanded={open}
          aria-controls={`section-body-${name}`}
          onClick={() => {
            hold();
            services.openSection(open ? null : name);
          }}
        >
          <Mark standing={standing} />
          <span className="section-title">{sectionTitles[name]}</span>
          <span className="section-word narrow">
            {standing === 'empty' && left ? 'stopped' : standingWords[standing]}
            {standing !== 'empty' && left && ', stopped'}
          </span>
          <span className="section-summary narrow">
            <Said>{summary}</Said>
          </span>
        </button>
      </h2>
      <div className="section-body" id={`section-body-${name}`} hidden={!open}>
        {open && left && <StoppedLine what="Figures marked here are as they were before." />}
        {open && children}
      </div>
    </section>
  );
}
