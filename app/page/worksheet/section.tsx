import type { ReactElement, ReactNode } from 'react';
import { useShallow } from 'zustand/react/shallow';
import type { SectionName } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';
import { Mark } from './mark.tsx';
import { sectionState, sectionTitles, standingWords } from './section-states.ts';

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
  const services = useServices();
  return (
    <section className="section" data-open={open} aria-labelledby={`section-${name}`}>
      <h2>
        <button
          type="button"
          id={`section-${name}`}
          className="section-line"
          aria-expanded={open}
          aria-controls={`section-body-${name}`}
          onClick={() => services.openSection(open ? null : name)}
        >
          <Mark standing={standing} />
          <span className="section-title">{sectionTitles[name]}</span>
          <span className="section-word narrow">{standingWords[standing]}</span>
          <span className="section-summary narrow">{summary}</span>
        </button>
      </h2>
      <div className="section-body" id={`section-body-${name}`} hidden={!open}>
        {open && children}
      </div>
    </section>
  );
}
