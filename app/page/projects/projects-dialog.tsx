import type { ReactElement } from 'react';
import type { ProjectsState } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { keptWords, storageLine } from '../../words/project-words.ts';
import { FileButton } from '../file-button.tsx';
import { Dialog } from '../opening/dialog.tsx';
import { useServices } from '../services.ts';
import { useClock } from '../use-clock.ts';
import { DeletedProject, ProjectRow } from './project-row.tsx';

/** The projects of this browser: new ones, copies as files, and what they take. */
export function ProjectsDialog(): ReactElement | null {
  const projects = useSession((state) => state.projects);
  const services = useServices();
  if (!projects) return null;
  return (
    <Dialog title="Projects" onLeave={() => services.leaveProjects()}>
      <div className="projects">
        <p className="aside narrow">
          Projects are kept in this browser, on this computer. A copy is one file that any mapping
          program can read.
        </p>
        <NewOnes />
        {projects.problem && (
          <p className="project-problem" role="alert">
            <b>{projects.problem.what}</b> {projects.problem.wayOut}
          </p>
        )}
        <Busy />
        <List projects={projects} />
        <p className="aside narrow">
          {storageLine(projects.storage)}{' '}
          {projects.isKept !== null && (projects.isKept ? keptWords.kept : keptWords.notKept)}
        </p>
        <div className="tools">
          <button type="button" className="button lead" onClick={() => services.leaveProjects()}>
            Close
          </button>
        </div>
      </div>
    </Dialog>
  );
}

function NewOnes(): ReactElement {
  const services = useServices();
  return (
    <div className="tools">
      <button type="button" className="button" onClick={() => services.newProject()}>
        New project
      </button>
      <FileButton
        words="Open a copy…"
        label="Project file"
        accept=".zip,application/zip"
        testId="open-copy"
        onFiles={(files) => services.openFiles(files)}
      />
      <button type="button" className="button" onClick={() => services.startDemo()}>
        Look at the demo
      </button>
    </div>
  );
}

function List({ projects }: { readonly projects: ProjectsState }): ReactElement {
  const now = useClock(10_000);
  const openId = useSession((state) => state.projectId);
  if (!projects.list) return <p role="status">Reading the list …</p>;
  const there = projects.list.filter((project) => project.deletedAt === null);
  const deleted = projects.list.filter((project) => project.deletedAt !== null);
  return (
    <>
      {there.length === 0 && <p>Nothing is saved yet: draw something, and it is here.</p>}
      <ul className="project-list">
        {there.map((project) => (
          <ProjectRow key={project.id} project={project} isOpen={project.id === openId} now={now} />
        ))}
        {deleted.map((project) => (
          <DeletedProject key={project.id} project={project} now={now} />
        ))}
      </ul>
    </>
  );
}

/** A copy on its way, shown here because the dialog lies over the page's own progress. */
function Busy(): ReactElement | null {
  const opening = useSession((state) => state.opening);
  if (opening?.state !== 'reading') return null;
  const percent = Math.round(opening.share * 100);
  return (
    <div className="project-busy narrow" role="status">
      <span>
        {opening.doing} <span className="aside">{percent} %</span>
      </span>
      <progress max={100} value={percent} aria-label={`${opening.doing}, ${percent} %`} />
      <button type="button" className="button" onClick={opening.stop}>
        Stop
      </button>
    </div>
  );
}
