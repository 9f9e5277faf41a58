import type { Problem } from '../../geo/result.ts';
import type { SaveState } from '../store/session.ts';
import { browserHost } from './host.ts';
import { PlanDocument } from './plan-document.ts';
import { missingRaster, RasterStore } from './raster-store.ts';
import { StoreProvider } from './store-provider.ts';

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
  /** How many gestures are saved in this plan. */
  edits?(edits: number): void;
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
    describe: () => ({
      name: document.snapshot.settings.siteName,
      rasterIds: document.rasterIds,
      featureCount: Object.keys(document.snapshot.features).length,
    }),
    migrate: (version) => document.migrate(version),
    onEdits: (edits) => watchers.forEach((watcher) => watcher.edits?.(edits)),
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
      watcher.edits?.(provider.edits);
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

async function missingRasters(document: PlanDocument, rasters: RasterStore): Promise<Problem[]> {
  const { grounds, photos } = document.snapshot;
  const missing: Problem[] = [];
  for (const record of [...Object.values(grounds), ...Object.values(photos)]) {
    const has = await rasters.has(record.id);
    if (has.ok && !has.value) missing.push(missingRaster(record.id, record.name));
  }
  return missing;
}
