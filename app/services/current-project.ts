import { ok, type Result } from '../../geo/result.ts';
import type { PlanDocument } from '../document/plan-document.ts';
import { browserHost, type PlanHost } from '../document/host.ts';
import { listProjects, markProject } from '../document/project-list.ts';
import { openDocument, type OpenPlan } from '../document/start.ts';
import type { StoreProvider } from '../document/store-provider.ts';
import { bindDocument } from '../store/bind-document.ts';
import { clearProject, session } from '../store/session.ts';

/** What the services that change a plan need of whichever is open; asked anew at each use. */
export interface PlanAtHand {
  readonly document: PlanDocument;
  readonly provider: StoreProvider;
}

/** The id of the first project of a browser: two tabs that start it at once start the same one. */
export const firstProjectId = 'plan';

/** What is remembered besides the projects themselves. */
export interface Memory {
  /** The project of this tab, through a reload; another tab has its own. */
  recall(): string | null;
  remember(id: string): void;
  /** Whether own projects were saved in this browser, even if none is there any more. */
  hadProjects(): boolean;
  setHadProjects(had: boolean): void;
}

/**
 * The project on this screen. Going over to another: the next one is opened, the old one is taken off
 * the screen and out of the worker, the next one put there, and the old one closed with all that it
 * still had to save. One after the other, however fast they are asked for.
 */
export class CurrentProject implements PlanAtHand {
  #plan: OpenPlan;
  #unbind: () => void;
  #going: Promise<void> = Promise.resolve();
  readonly #host: PlanHost;
  readonly #memory: Memory;
  readonly #held = new Set<Promise<unknown>>();
  /** Resolves when the worker has forgotten the project before. */
  forgetAnswers: () => Promise<unknown> = () => Promise.resolve();

  /**
   * Opens what this tab showed last, else what was opened last in this browser, else the first
   * project. `isFirst` tells that this browser holds no project at all, or cannot hold any.
   */
  static async start(
    memory: Memory,
    host = browserHost(),
  ): Promise<{ project: CurrentProject; isFirst: boolean }> {
    const list = await listProjects(host, true);
    const there = list.ok ? list.value.filter((one) => one.deletedAt === null) : [];
    const recalled = memory.recall();
    const isThere = there.some((one) => one.id === recalled);
    // An own, still empty project is in no list.
    const isNew = recalled !== null && list.ok && !list.value.some((one) => one.id === recalled);
    const newest = there.toSorted((a, b) => lastUse(b) - lastUse(a))[0];
    const id = isThere || isNew ? recalled! : (newest?.id ?? host.newId());
    const isFirst = list.ok ? list.value.length === 0 && !isNew : !host.indexedDB;
    const plan = await openDocument(isFirst || !list.ok ? firstProjectId : id, host);
    return { project: new CurrentProject(plan, memory, host), isFirst };
  }

  private constructor(plan: OpenPlan, memory: Memory, host: PlanHost) {
    this.#host = host;
    this.#memory = memory;
    this.#plan = plan;
    this.#unbind = this.#show(plan);
  }

  get id(): string {
    return this.#plan.planId;
  }

  get open(): OpenPlan {
    return this.#plan;
  }

  get document(): PlanDocument {
    return this.#plan.document;
  }

  get provider(): StoreProvider {
    return this.#plan.provider;
  }

  /** True while nothing was drawn in it and no ground is in it. */
  get isEmpty(): boolean {
    const { features, grounds, photos } = this.#plan.document.snapshot;
    return [features, grounds, photos].every((map) => Object.keys(map).length === 0);
  }

  /** Does something with a project, whether it is the one on the screen or not. */
  async within<T>(id: string, job: (plan: PlanAtHand) => T | Promise<T>): Promise<Result<T>> {
    if (id === this.id) return ok(await job(this));
    const plan = await openDocument(id, this.#host);
    try {
      const { save, loaded } = plan.provider;
      if (save.state === 'failed' && !loaded) return { ok: false, problem: save.problem };
      return ok(await job(plan));
    } finally {
      await plan.close();
    }
  }

  /** Keeps the project open, also behind another one, until the work on it is done. */
  hold(work: Promise<unknown>): void {
    this.#held.add(work);
    void work.finally(() => this.#held.delete(work)).catch(() => {});
  }

  /** Goes over to a project, new or stored; `fill` writes into it before it is shown. */
  goTo(id: string, fill?: (document: PlanDocument) => void): Promise<void> {
    const going = this.#going.then(() => this.#goTo(id, fill));
    this.#going = going.catch(() => {});
    return going;
  }

  async #goTo(id: string, fill?: (document: PlanDocument) => void): Promise<void> {
    if (id === this.id) return;
    const next = await openDocument(id, this.#host);
    fill?.(next.document);
    const last = this.#plan;
    this.#unbind();
    clearProject();
    await this.forgetAnswers().catch(() => {});
    // What the worker still had to say of the old one has come by now.
    session.setState({ site: {}, answers: {}, working: null });
    this.#plan = next;
    this.#unbind = this.#show(next);
    const work = [...this.#held];
    if (work.length === 0) return last.close();
    // It may take long or hang, as the reading of the demo on a slow line does.
    void Promise.allSettled(work).then(() => last.close());
  }

  #show(plan: OpenPlan): () => void {
    const { planId } = plan;
    this.#memory.remember(planId);
    session.setState({ projectId: planId });
    const unbind = bindDocument(plan);
    void this.#takeMarks(planId);
    return unbind;
  }

  /** When it was copied last; and that it is open now. */
  async #takeMarks(id: string): Promise<void> {
    const host = this.#host;
    const list = await listProjects(host, true);
    const entry = list.ok ? list.value.find((one) => one.id === id) : undefined;
    const now = host.now();
    const createdAt = entry?.createdAt ?? entry?.savedAt ?? now;
    await markProject(id, { openedAt: now, createdAt }, host);
    if (session.getState().projectId !== id) return;
    const { copiedAt, copiedEdits } = entry ?? { copiedAt: null, copiedEdits: 0 };
    session.setState(({ copy }) => ({ copy: { ...copy, copiedAt, copiedEdits, createdAt } }));
  }
}

function lastUse({ openedAt, savedAt }: { openedAt: number | null; savedAt: number }): number {
  return Math.max(openedAt ?? 0, savedAt);
}

export function browserMemory(): Memory {
  const read = (storage: () => Storage, key: string): string | null => {
    try {
      return storage().getItem(key);
    } catch {
      // Where site data is not allowed, asking already throws.
      return null;
    }
  };
  const write = (storage: () => Storage, key: string, value: string): void => {
    try {
      storage().setItem(key, value);
    } catch {
      // Nothing can be remembered here; a reload opens what was open last.
    }
  };
  return {
    recall: () => read(() => sessionStorage, 'assart project'),
    remember: (id) => write(() => sessionStorage, 'assart project', id),
    hadProjects: () => read(() => localStorage, 'assart had projects') === 'yes',
    setHadProjects: (had) => write(() => localStorage, 'assart had projects', had ? 'yes' : 'no'),
  };
}
