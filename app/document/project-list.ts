import type { Problem, Result } from '../../geo/result.ts';
import { ok } from '../../geo/result.ts';
import { answer, openDatabase, stored } from './database.ts';
import { browserHost, type PlanHost } from './host.ts';
import { RasterStore, type RasterHeader } from './raster-store.ts';
import { problemFromError } from './storage-problem.ts';
import { updateBytes, type PlanRow } from './update-log.ts';

/** What is remembered of a plan besides its content; each part is written on its own. */
interface PlanMarks {
  readonly id: string;
  /** Milliseconds since 1970, UTC, as all times here. */
  readonly createdAt?: number;
  readonly openedAt?: number;
  readonly copiedAt?: number;
  /** Gestures that were saved when the last copy was made. */
  readonly copiedEdits?: number;
  readonly deletedAt?: number;
}

export interface ProjectEntry {
  readonly id: string;
  readonly name: string;
  readonly savedAt: number;
  readonly createdAt: number | null;
  readonly openedAt: number | null;
  readonly copiedAt: number | null;
  readonly copiedEdits: number;
  /** Null unless it waits to be swept; whoever draws on in another tab takes it back. */
  readonly deletedAt: number | null;
  readonly featureCount: number;
  readonly rasterIds: readonly string[];
  /** Of everything drawn. */
  readonly planBytes: number;
  /** Of grounds and photos, and how many of those other projects use too. */
  readonly rasterBytes: number;
  readonly sharedRasterBytes: number;
}

/** How long a deleted project can be taken back, and an unused raster waits for an undo. */
export const keepDeletedMilliseconds = 30 * 86_400_000;
const keepUnusedRastersMilliseconds = 7 * 86_400_000;

/**
 * The projects of this browser, newest first; deleted ones that can still be taken back, too.
 * `isQuick` leaves `planBytes` at 0: adding them up reads everything that is drawn.
 */
export function listProjects(
  host = browserHost(),
  isQuick = false,
): Promise<Result<ProjectEntry[]>> {
  return withDatabase(host, async (db) => {
    const transaction = db.transaction(['plans', 'marks', 'rasters'], 'readonly');
    const [plans, marks, rasters] = await Promise.all([
      answer<PlanRow[]>(transaction.objectStore('plans').getAll()),
      answer<PlanMarks[]>(transaction.objectStore('marks').getAll()),
      answer<RasterHeader[]>(transaction.objectStore('rasters').getAll()),
    ]);
    const bytesOf = isQuick ? new Map<string, number>() : await updateBytes(db);
    const sizes = new Map(rasters.map((raster) => [raster.id, raster.byteLength]));
    const users = new Map<string, number>();
    for (const plan of plans) {
      for (const id of plan.rasterIds) users.set(id, (users.get(id) ?? 0) + 1);
    }
    const sum = (ids: readonly string[]) =>
      ids.reduce((bytes, id) => bytes + (sizes.get(id) ?? 0), 0);
    return plans
      .map((plan): ProjectEntry => {
        const mark = marks.find((one) => one.id === plan.id);
        return {
          id: plan.id,
          name: plan.name,
          savedAt: plan.savedAt,
          createdAt: mark?.createdAt ?? null,
          openedAt: mark?.openedAt ?? null,
          copiedAt: mark?.copiedAt ?? null,
          copiedEdits: mark?.copiedEdits ?? 0,
          deletedAt: deletedAt(plan, mark),
          featureCount: plan.featureCount ?? 0,
          rasterIds: plan.rasterIds,
          planBytes: bytesOf.get(plan.id) ?? 0,
          rasterBytes: sum(plan.rasterIds),
          sharedRasterBytes: sum(plan.rasterIds.filter((id) => users.get(id)! > 1)),
        };
      })
      .sort((a, b) => b.savedAt - a.savedAt || (a.id < b.id ? -1 : 1));
  });
}

/** Takes down when a project was opened, copied, deleted; undefined takes a mark off. */
export function markProject(
  id: string,
  change: { readonly [K in Exclude<keyof PlanMarks, 'id'>]?: PlanMarks[K] | undefined },
  host = browserHost(),
): Promise<Result<null>> {
  return withDatabase(host, async (db) => {
    const transaction = db.transaction('marks', 'readwrite');
    const done = stored(transaction);
    const store = transaction.objectStore('marks');
    const before = await answer<PlanMarks | undefined>(store.get(id));
    store.put({ ...before, ...change, id });
    await done;
    return null;
  });
}

/**
 * Throws away for good: projects deleted long enough ago, marks of projects that never held
 * anything, and rasters that no project names any more and that are a week old (a plan may be about
 * to name one, or an undo in an open tab). Nothing of the projects in `openIds`.
 */
export async function sweepProjects(
  openIds: readonly string[],
  openRasterIds: readonly string[],
  host = browserHost(),
): Promise<Result<{ readonly projects: number; readonly rasters: number }>> {
  const now = host.now();
  const swept = await withDatabase(host, async (db) => {
    const transaction = db.transaction(['plans', 'marks', 'updates'], 'readwrite');
    const done = stored(transaction);
    const plans = transaction.objectStore('plans');
    const marks = transaction.objectStore('marks');
    const updates = transaction.objectStore('updates');
    const rows = await answer<PlanRow[]>(plans.getAll());
    const gone: string[] = [];
    for (const mark of await answer<PlanMarks[]>(marks.getAll())) {
      if (openIds.includes(mark.id)) continue;
      const plan = rows.find((row) => row.id === mark.id);
      const since = plan && deletedAt(plan, mark);
      if (plan && (since === null || now - since! < keepDeletedMilliseconds)) continue;
      // A tab may have opened it this moment and not saved anything yet.
      if (!plan && now - (mark.openedAt ?? 0) < keepUnusedRastersMilliseconds) continue;
      marks.delete(mark.id);
      if (!plan) continue;
      plans.delete(mark.id);
      for (const key of await answer(updates.index('planId').getAllKeys(mark.id))) {
        updates.delete(key);
      }
      gone.push(mark.id);
    }
    await done;
    const kept = rows.filter((row) => !gone.includes(row.id)).flatMap((row) => row.rasterIds);
    return { projects: gone.length, kept };
  });
  if (!swept.ok) return swept;
  const store = new RasterStore(host.indexedDB, host.now);
  const { projects, kept } = swept.value;
  const before = now - keepUnusedRastersMilliseconds;
  const removed = await store.removeUnused([...kept, ...openRasterIds], before);
  store.close();
  return removed.ok ? ok({ projects, rasters: removed.value }) : removed;
}

function deletedAt(plan: PlanRow, mark: PlanMarks | undefined): number | null {
  const at = mark?.deletedAt;
  return at !== undefined && at >= plan.savedAt ? at : null;
}

async function withDatabase<T>(
  host: PlanHost,
  job: (db: IDBDatabase) => Promise<T>,
): Promise<Result<T>> {
  const opened = await openDatabase(host.indexedDB, () => {});
  if (!opened.ok) return opened;
  try {
    return ok(await job(opened.value));
  } catch (error) {
    const problem: Problem = problemFromError(error, 'storage-failed');
    return { ok: false, problem };
  } finally {
    opened.value.close();
  }
}
