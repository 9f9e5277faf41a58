import type { Problem } from '../../geo/result.ts';
import type { SaveState } from '../store/session.ts';
import { openDatabase } from './database.ts';
import { PlanDocument } from './plan-document.ts';
import { missingRaster, RasterStore } from './raster-store.ts';
import { StoreProvider } from './store-provider.ts';
import type { TabPort } from './tab-channel.ts';
import { listPlans, type PlanRow } from './update-log.ts';

/** What a plan needs of the browser; tests put their own in its place. */
export interface PlanHost {
  readonly indexedDB: IDBFactory | undefined;
  readonly openPort: (name: string) => TabPort | null;
  readonly newId: () => string;
  /** Milliseconds since 1970, UTC. */
  readonly now: () => number;
  /** Calls `hide` when the page may be gone any moment, `show` when it is seen again. */
  readonly watchPage: (hide: () => void, show: () => void) => () => void;
}

export interface OpenPlan {
  readonly planId: string;
  readonly document: PlanDocument;
  readonly provider: StoreProvider;
  readonly rasters: RasterStore;
  /** Grounds and photos that the plan names and this browser does not have. */
  readonly missing: readonly Problem[];
  /** Keeps `save` and `problem` told, of what has happened already too; returns how to stop. */
  watch(watcher: PlanWatcher): () => void;
  /** Saves what is left and lets go of everything. */
  close(): Promise<void>;
}

export interface PlanWatcher {
  save(state: SaveState): void;
  problem(problem: Problem): void;
}

/** Opens a plan, new or stored. Never rejects: what is wrong with the storage, `watch` tells. */
export async function openDocument(planId: string, host = browserHost()): Promise<OpenPlan> {
  const document = new PlanDocument();
  const watchers = new Set<PlanWatcher>();
  const problems: Problem[] = [];
  const report = (problem: Problem) => {
    problems.push(problem);
    for (const watcher of watchers) watcher.problem(problem);
  };

  const provider = await StoreProvider.open(document.doc, {
    planId,
    indexedDB: host.indexedDB,
    port: host.openPort(`assart plan ${planId}`),
    tabId: host.newId(),
    now: host.now,
    describe: () => ({ name: document.snapshot.settings.siteName, rasterIds: rasterIds(document) }),
    onSave: (state) => watchers.forEach((watcher) => watcher.save(state)),
    onProblem: report,
  });
  const unwatchPage = host.watchPage(
    () => provider.hand(),
    () => provider.wake(),
  );
  const rasters = new RasterStore(host.indexedDB, host.now);
  const missing = provider.loaded ? await missingRasters(document, rasters) : [];
  missing.forEach(report);

  return {
    planId,
    document,
    provider,
    rasters,
    missing,
    watch: (watcher) => {
      watchers.add(watcher);
      watcher.save(provider.save);
      for (const problem of problems) watcher.problem(problem);
      return () => watchers.delete(watcher);
    },
    close: async () => {
      unwatchPage();
      await provider.close();
      rasters.close();
      document.close();
    },
  };
}

/** All plans stored in this browser; empty when there are none or nothing can be read. */
export async function storedPlans(host = browserHost()): Promise<PlanRow[]> {
  const opened = await openDatabase(host.indexedDB, () => {});
  if (!opened.ok) return [];
  try {
    return await listPlans(opened.value);
  } finally {
    opened.value.close();
  }
}

function rasterIds(document: PlanDocument): string[] {
  const { grounds, photos } = document.snapshot;
  return [...Object.keys(grounds), ...Object.keys(photos)].sort();
}

async function missingRasters(document: PlanDocument, rasters: RasterStore): Promise<Problem[]> {
  const { grounds, photos } = document.snapshot;
  const missing: Problem[] = [];
  for (const record of [...Object.values(grounds), ...Object.values(photos)]) {
    const has = await rasters.has(record.id);
    if (has.ok && !has.value) missing.push(missingRaster(record.id, record.name));
  }
  return missing;
}

function browserHost(): PlanHost {
  return {
    indexedDB: storageOfBrowser(),
    openPort: (name) =>
      typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(name),
    newId: randomId,
    now: () => Date.now(),
    watchPage: (hide, show) => {
      const onVisibility = () => (document.visibilityState === 'hidden' ? hide() : show());
      window.addEventListener('pagehide', hide);
      window.addEventListener('pageshow', show);
      document.addEventListener('visibilitychange', onVisibility);
      return () => {
        window.removeEventListener('pagehide', hide);
        window.removeEventListener('pageshow', show);
        document.removeEventListener('visibilitychange', onVisibility);
      };
    },
  };
}

/** Where a browser forbids storage, already asking for it may throw. */
function storageOfBrowser(): IDBFactory | undefined {
  try {
    return globalThis.indexedDB;
  } catch {
    return undefined;
  }
}

/** `crypto.randomUUID` is missing where the page is served without https, as to a tablet. */
export function randomId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
