import type { RawPlan } from '../../geo/plan/raw-plan.ts';
import type { Problem, Result } from '../../geo/result.ts';
import { askToKeepStorage, isStorageKept, storageUse } from '../document/browser-storage.ts';
import { browserHost, randomId } from '../document/host.ts';
import type { PlanChange, PlanDocument } from '../document/plan-document.ts';
import { listProjects, markProject, sweepProjects } from '../document/project-list.ts';
import { openDocument } from '../document/start.ts';
import type { Services } from '../page/services.ts';
import { session, type Notice, type ProjectsState } from '../store/session.ts';
import type { Door } from '../workers/door.ts';
import type { CurrentProject, Memory } from './current-project.ts';
import { projectCopies } from './project-copies.ts';
import { projectName } from '../words/project-words.ts';

type ProjectServices = Pick<
  Services,
  | 'openProjects'
  | 'leaveProjects'
  | 'newProject'
  | 'openProject'
  | 'renameProject'
  | 'duplicateProject'
  | 'deleteProject'
  | 'restoreProject'
  | 'saveCopy'
  | 'dismissNotice'
  | 'startDemo'
>;

export interface ProjectsService {
  readonly services: ProjectServices;
  /** A new project that begins with this, and why it is one. */
  startWith(change: PlanChange, why: Notice): Promise<void>;
  /** Opens a project file; false where it is none. */
  openCopy(file: File): Promise<boolean>;
}

/** Said at the start where the browser has given up what was saved in it. */
export const projectsGone: Notice = {
  what: 'The projects that were saved in this browser are gone: the browser or somebody cleared its storage.',
  lines: ['Open them again from the copies that you saved as files.'],
};

export interface ProjectTools {
  readonly project: CurrentProject;
  readonly door: Door;
  readonly memory: Memory;
  readonly fillDemo: (plan: CurrentProject['open']) => Promise<void>;
  /** Lets go of what is being drawn. */
  readonly dropGesture: () => void;
  readonly fitToSite: () => void;
}

/** The projects of this browser, and their copies as files. */
export function projectsService(tools: ProjectTools): ProjectsService {
  const { project, door, memory } = tools;
  const host = browserHost();

  const show = (change: Partial<ProjectsState>) =>
    session.setState(({ projects }) => (projects ? { projects: { ...projects, ...change } } : {}));

  async function refresh(): Promise<void> {
    if (!session.getState().projects) return;
    await project.provider.flush();
    const [list, storage, isKept] = await Promise.all([
      listProjects(host),
      storageUse(),
      isStorageKept(),
    ]);
    show({
      storage,
      isKept,
      ...(list.ok ? { list: list.value } : { list: [], problem: list.problem }),
    });
  }

  async function goTo(id: string, fill?: (document: PlanDocument) => void): Promise<void> {
    tools.dropGesture();
    await project.goTo(id, fill);
    tools.fitToSite();
  }

  /** Runs one wish of the dialog: what goes wrong is said there, the list is read anew. */
  async function run(job: () => Promise<Result<unknown> | void>): Promise<void> {
    show({ problem: null });
    const done = await job();
    if (done && !done.ok) tell(done.problem);
    await refresh();
  }

  function tell(problem: Problem): void {
    if (session.getState().projects) show({ problem });
    else session.setState({ problem });
  }

  async function startDemo(): Promise<void> {
    if (!project.isEmpty) await goTo(randomId());
    session.setState({ projects: null });
    const work = tools.fillDemo(project.open);
    project.hold(work);
    await work;
    tools.fitToSite();
  }

  async function deleteProject(id: string): Promise<Result<unknown>> {
    if (id === project.id) {
      const list = await listProjects(host, true);
      const next = list.ok
        ? list.value.find((one) => one.id !== id && one.deletedAt === null)
        : undefined;
      await goTo(next?.id ?? randomId());
    }
    const done = await markProject(id, { deletedAt: host.now() }, host);
    await noteOwnProjects();
    return done;
  }

  async function noteOwnProjects(): Promise<void> {
    const list = await listProjects(host, true);
    if (list.ok) memory.setHadProjects(list.value.some((one) => one.deletedAt === null));
  }

  async function duplicate(id: string): Promise<Result<unknown>> {
    const made = await project.within(id, ({ document }) => {
      const plan: RawPlan = document.raw();
      const { settings, grounds } = document.snapshot;
      const name = projectName(settings.siteName, grounds[settings.groundId]?.name);
      const named = `${name}, copy`.slice(0, 200);
      return { ...plan, settings: { ...plan.settings, siteName: named } };
    });
    if (!made.ok) return made;
    const twin = await openDocument(randomId(), host);
    twin.document.load(made.value);
    const isSaved = await twin.provider.flush();
    const { save } = twin.provider;
    await twin.close();
    if (!isSaved && save.state === 'failed') return { ok: false, problem: save.problem };
    return markProject(twin.planId, { createdAt: host.now() }, host);
  }

  const copies = projectCopies({ project, door, goTo, tell, refresh });

  session.subscribe((now, before) => {
    if (now.saved === before.saved || now.saved.state !== 'saved' || now.saved.at === null) return;
    memory.setHadProjects(true);
    const hasOwnGround = !now.settings.isDemo && Object.keys(now.grounds).length > 0;
    if (hasOwnGround) void askToKeepStorage();
  });
  void sweepProjects([project.id], project.document.rasterIds, host);

  return {
    async startWith(change, why) {
      await goTo(randomId(), (document) => document.seed(change));
      session.setState({ notice: why });
    },
    openCopy: copies.openCopy,
    services: {
      openProjects() {
        session.setState({ projects: { list: null, problem: null, storage: null, isKept: null } });
        void refresh();
      },
      leaveProjects: () => session.setState({ projects: null }),
      newProject: () => void goTo(randomId()).then(() => session.setState({ projects: null })),
      openProject: (id) => void goTo(id).then(() => session.setState({ projects: null })),
      renameProject: (id, name) =>
        void run(async () => {
          const done = await project.within(id, ({ document }) =>
            document.transact({ settings: { siteName: name } }),
          );
          return done.ok ? done.value : done;
        }),
      duplicateProject: (id) => void run(() => duplicate(id)),
      deleteProject: (id) => void run(() => deleteProject(id)),
      restoreProject: (id) => void run(async () => markProject(id, { deletedAt: undefined }, host)),
      saveCopy: (id) => void copies.saveCopy(id ?? project.id),
      dismissNotice: () => session.setState({ notice: null }),
      startDemo: () => void startDemo(),
    },
  };
}
