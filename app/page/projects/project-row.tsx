import type { ReactElement } from 'react';
import type { ProjectEntry } from '../../document/project-list.ts';
import { copyLine, deletedLine, projectLine } from '../../words/project-words.ts';
import { WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';

/** One project of the list: its name to write over, what is in it, what can be done with it. */
export function ProjectRow({
  project,
  isOpen,
  now,
}: {
  readonly project: ProjectEntry;
  readonly isOpen: boolean;
  readonly now: number;
}): ReactElement {
  const services = useServices();
  const { id } = project;
  const name = project.name || 'Unnamed site';
  return (
    <li className="project" aria-label={name}>
      <div className="project-name">
        <WrittenField
          label="Name of the project"
          large
          shown={name}
          read={(text) =>
            text.trim().length <= 200
              ? { value: text.trim() }
              : { wrong: 'Keep it to 200 letters.' }
          }
          onValue={(value) => services.renameProject(id, value)}
        />
        {isOpen && <b className="project-open narrow">open now</b>}
      </div>
      <p className="aside narrow">
        {projectLine(project, now)} · {copyLine(project, now)}
      </p>
      <div className="tools">
        {!isOpen && (
          <button
            type="button"
            className="button"
            aria-label={`Open ${name}`}
            onClick={() => services.openProject(id)}
          >
            Open
          </button>
        )}
        <button
          type="button"
          className="button"
          aria-label={`Save a copy of ${name}`}
          onClick={() => services.saveCopy(id)}
        >
          Save a copy
        </button>
        <button
          type="button"
          className="button"
          aria-label={`Duplicate ${name}`}
          onClick={() => services.duplicateProject(id)}
        >
          Duplicate
        </button>
        <button
          type="button"
          className="button"
          aria-label={`Delete ${name}`}
          onClick={() => services.deleteProject(id)}
        >
          Delete
        </button>
      </div>
    </li>
  );
}

/** A deleted project, for as long as it can be taken back. */
export function DeletedProject({
  project,
  now,
}: {
  readonly project: ProjectEntry;
  readonly now: number;
}): ReactElement {
  const services = useServices();
  const name = project.name || 'Unnamed site';
  return (
    <li className="project project-deleted" aria-label={`${name}, deleted`}>
      <p>
        <s>{name}</s>{' '}
        <span className="aside narrow">{deletedLine(project.deletedAt ?? now, now)}</span>
      </p>
      <button
        type="button"
        className="button"
        aria-label={`Undo delete of ${name}`}
        onClick={() => services.restoreProject(project.id)}
      >
        Undo delete
      </button>
    </li>
  );
}
