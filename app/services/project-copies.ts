import type { Problem } from '../../geo/result.ts';
import { randomId } from '../document/host.ts';
import type { PlanDocument } from '../document/plan-document.ts';
import { downloadFile, planForOpening, projectFileName } from '../document/project-file.ts';
import { markProject } from '../document/project-list.ts';
import { session } from '../store/session.ts';
import { blobSource } from '../workers/blob-source.ts';
import { StoppedError, type Asked, type Door } from '../workers/door.ts';
import type { CurrentProject } from './current-project.ts';
import { projectName } from '../words/project-words.ts';

export interface CopyTools {
  readonly project: CurrentProject;
  readonly door: Door;
  readonly goTo: (id: string, fill?: (document: PlanDocument) => void) => Promise<void>;
  readonly tell: (problem: Problem) => void;
  readonly refresh: () => Promise<void>;
}

/** Projects as files: out into the downloads, and in as a new project. */
export function projectCopies({ project, door, goTo, tell, refresh }: CopyTools) {
  /** Long work with the worker: shown as an opening is, and stopped as one. */
  async function withProgress<T>(
    name: string,
    isSaving: boolean,
    ask: (tell: (share: number, doing: string) => void) => Asked<T>,
  ): Promise<T | null> {
    const asked = ask((share, doing) => tellProgress(share, doing));
    const stop = () => asked.stop();
    const tellProgress = (share: number, doing: string) =>
      session.setState({ opening: { state: 'reading', share, doing, name, stop, isSaving } });
    tellProgress(0, isSaving ? 'Packing' : 'Reading');
    try {
      return await asked.answer;
    } catch (error) {
      if (!(error instanceof StoppedError)) {
        tell({
          code: 'project-file-failed',
          what: error instanceof Error ? error.message : String(error),
          wayOut: 'Reload the page and try again. What you drew is saved.',
        });
      }
      return null;
    } finally {
      session.setState({ opening: null });
    }
  }

  async function saveCopy(id: string): Promise<void> {
    const begun = await project.within(id, async ({ document, provider }) => {
      await provider.flush();
      const { settings, grounds } = document.snapshot;
      const name = projectName(settings.siteName, grounds[settings.groundId]?.name);
      return { plan: document.raw(), name, edits: provider.edits };
    });
    if (!begun.ok) return tell(begun.problem);
    const { plan, name, edits } = begun.value;
    const packed = await withProgress(name, true, (told) =>
      door.ask('packProject', { plan }, told),
    );
    if (!packed) return;
    if (packed.kind === 'refused') return tell(packed.problem);
    const now = Date.now();
    const file = projectFileName(name, now);
    downloadFile(packed.file, file);
    await markProject(id, { copiedAt: now, copiedEdits: edits });
    if (session.getState().projectId === id) {
      session.setState(({ copy }) => ({ copy: { ...copy, copiedAt: now, copiedEdits: edits } }));
    }
    const lines = packed.missing.map(({ what }) => what);
    if (lines.length > 0)
      session.setState({ notice: { what: `${file} was saved, not whole.`, lines } });
    await refresh();
  }

  /** Opens a project file as a new project; false where it is none. */
  async function openCopy(file: File): Promise<boolean> {
    // Loaded with the first file that is opened: a plan that is only drawn on needs no unzipping.
    const { isProjectZip } = await import('../../geo/formats/project/project-parts.ts');
    if (!(await isProjectZip(blobSource(file)).catch(() => false))) return false;
    const ask = (told: (share: number, doing: string) => void) =>
      door.ask('unpackProject', { file }, told);
    const opened = await withProgress(file.name, false, ask);
    if (!opened) return true;
    if (opened.kind === 'refused') {
      const { problem } = opened;
      session.setState({ projects: null, opening: { state: 'refused', problem, name: file.name } });
      return true;
    }
    const { plan, switchedOff } = planForOpening(opened.plan);
    await goTo(randomId(), (document) => document.load(plan));
    const lines = [
      ...opened.missing.map(({ what, wayOut }) => `${what} ${wayOut}`),
      ...opened.notes,
    ];
    if (switchedOff > 0) {
      lines.push(
        'Online imagery of the copy is switched off: switch it on under Layers if you want it.',
      );
    }
    // Notes of missing parts stand in the notice, in one place.
    session.setState({
      projects: null,
      problem: null,
      notice:
        lines.length > 0 ? { what: `${file.name} was opened as a new project.`, lines } : null,
    });
    return true;
  }

  return { saveCopy, openCopy };
}
