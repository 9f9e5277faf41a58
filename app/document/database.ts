import { ok, type Problem, type Result } from '../../geo/result.ts';
import { problemFromError, storageProblem } from './storage-problem.ts';

/**
 * The one database of the browser, for all plans:
 * `plans` by id, for a list without opening any, written with every saved change; `marks` by plan,
 * when it was opened, copied, deleted; `updates`, one row per saved change, found by plan; `rasters`,
 * headers by content hash; `raster-parts`, their bytes by [hash, part].
 */
export const databaseName = 'assart';
export const databaseVersion = 2;

/** Brings an older database, or none (version 0), up to date; runs in one transaction. */
function build(db: IDBDatabase, oldVersion: number): void {
  if (oldVersion < 1) {
    db.createObjectStore('plans', { keyPath: 'id' });
    db.createObjectStore('updates', { autoIncrement: true }).createIndex('planId', 'planId');
    db.createObjectStore('rasters', { keyPath: 'id' });
    db.createObjectStore('raster-parts');
  }
  if (oldVersion < 2) db.createObjectStore('marks', { keyPath: 'id' });
}

/**
 * Opens the database. `onLost` is called once if it is taken away later (deleted, replaced by a
 * newer version, closed by the browser), with the connection still good for one last write.
 */
export function openDatabase(
  factory: IDBFactory | undefined,
  onLost: (problem: Problem, db: IDBDatabase) => void,
): Promise<Result<IDBDatabase>> {
  return new Promise((resolve) => {
    const fail = (problem: Problem) => resolve({ ok: false, problem });
    if (!factory) return fail(storageProblem('storage-unavailable'));
    let opening: IDBOpenDBRequest;
    try {
      opening = factory.open(databaseName, databaseVersion);
    } catch (error) {
      return fail(problemFromError(error, 'storage-unavailable'));
    }
    let givenUp = false;
    opening.onupgradeneeded = (event) => build(opening.result, event.oldVersion);
    opening.onerror = () => fail(problemFromError(opening.error, 'storage-unavailable'));
    opening.onblocked = () => {
      givenUp = true;
      fail(storageProblem('storage-blocked'));
    };
    opening.onsuccess = () => {
      const db = opening.result;
      if (givenUp) return db.close();
      db.onversionchange = (event) => {
        onLost(storageProblem(event.newVersion === null ? 'storage-deleted' : 'storage-newer'), db);
        db.close();
      };
      db.onclose = () => onLost(storageProblem('storage-deleted'), db);
      resolve(ok(db));
    };
  });
}

/** Resolves when everything in the transaction is stored; rejects with why it was not. */
export function stored(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error('the browser gave up'));
  });
}

/** The answer to one request. Inside a transaction await nothing else between two of them. */
export function answer<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}
