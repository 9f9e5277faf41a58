import * as Y from 'yjs';
import { answer, stored } from './database.ts';

/** What the list of plans shows of one, without opening it. */
export interface PlanRow {
  readonly id: string;
  readonly name: string;
  /** Milliseconds since 1970, UTC. */
  readonly savedAt: number;
  /** Grounds and photos that it uses: not to be thrown away. */
  readonly rasterIds: readonly string[];
  /** Of its stored values (`geo/plan/migrations`); a plan that says none is of version 0. */
  readonly schemaVersion?: number;
  readonly featureCount?: number;
}

interface UpdateRow {
  readonly planId: string;
  readonly bytes: Uint8Array;
  readonly checksum: number;
  /** How many gestures are in it; a row that says none holds none. */
  readonly edits?: number;
  /** Found unreadable once and reported; kept, but not tried again. */
  readonly aside?: boolean;
}

export interface LoadedUpdates {
  readonly rows: number;
  readonly unreadable: number;
  /** Null for a plan that was never saved. */
  readonly plan: PlanRow | null;
  /** Gestures in all saved changes together. */
  readonly edits: number;
}

/** Adds one saved change and brings the plan's row up to date; resolves when both are stored. */
export function appendUpdate(
  db: IDBDatabase,
  plan: PlanRow,
  bytes: Uint8Array,
  edits: number,
): Promise<void> {
  const transaction = db.transaction(['updates', 'plans'], 'readwrite', { durability: 'strict' });
  transaction.objectStore('updates').add(updateRow(plan.id, bytes, edits));
  transaction.objectStore('plans').put(plan);
  transaction.commit?.();
  return stored(transaction);
}

/** What is stored of a plan besides its changes; null for one that was never saved. */
export function planRow(db: IDBDatabase, planId: string): Promise<PlanRow | null> {
  const plans = db.transaction('plans', 'readonly').objectStore('plans');
  return answer<PlanRow | undefined>(plans.get(planId)).then((row) => row ?? null);
}

/** Applies every readable saved change to `doc` as one change with `origin`. */
export async function loadUpdates(
  db: IDBDatabase,
  planId: string,
  doc: Y.Doc,
  origin: unknown,
): Promise<LoadedUpdates> {
  const transaction = db.transaction(['updates', 'plans'], 'readonly');
  const [all, plan] = await Promise.all([
    readRows(transaction, planId),
    answer<PlanRow | undefined>(transaction.objectStore('plans').get(planId)),
  ]);
  const rows = all.rows.filter((row) => !row.aside);
  let unreadable = 0;
  Y.transact(
    doc,
    () => {
      for (const row of rows) if (!apply(doc, row, origin)) unreadable++;
    },
    origin,
    false,
  );
  return { rows: rows.length, unreadable, plan: plan ?? null, edits: editsIn(all.rows) };
}

/**
 * Puts all saved changes of a plan together into one row, in one transaction, so that other tabs
 * may go on appending. Rows that cannot be read stay where they are, marked as seen.
 */
export async function compactUpdates(db: IDBDatabase, planId: string): Promise<void> {
  const transaction = db.transaction('updates', 'readwrite', { durability: 'strict' });
  const done = stored(transaction);
  const store = transaction.objectStore('updates');
  const { keys, rows } = await readRows(transaction, planId);
  const whole = new Y.Doc();
  rows.forEach((row, i) => {
    if (row.aside) return;
    if (apply(whole, row, null)) store.delete(keys[i]!);
    // Its gestures are counted in the row that takes the others' place.
    else store.put({ ...row, aside: true, edits: 0 }, keys[i]);
  });
  const edits = editsIn(rows.filter((row) => !row.aside));
  store.add(updateRow(planId, Y.encodeStateAsUpdate(whole), edits));
  whole.destroy();
  await done;
}

/** Bytes of all saved changes of each plan. */
export async function updateBytes(db: IDBDatabase): Promise<Map<string, number>> {
  const bytes = new Map<string, number>();
  const store = db.transaction('updates', 'readonly').objectStore('updates');
  // All at once would hold every plan in memory.
  for (const planId of await planIds(store)) {
    const rows = await answer<UpdateRow[]>(store.index('planId').getAll(planId));
    bytes.set(
      planId,
      rows.reduce((sum, row) => sum + row.bytes.byteLength, 0),
    );
  }
  return bytes;
}

function planIds(store: IDBObjectStore): Promise<string[]> {
  return new Promise((resolve, reject) => {
    const found: string[] = [];
    const request = store.index('planId').openKeyCursor(null, 'nextunique');
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const cursor = request.result;
      if (!cursor) return resolve(found);
      found.push(cursor.key as string);
      cursor.continue();
    };
  });
}

async function readRows(
  transaction: IDBTransaction,
  planId: string,
): Promise<{ keys: IDBValidKey[]; rows: UpdateRow[] }> {
  const index = transaction.objectStore('updates').index('planId');
  const [keys, rows] = await Promise.all([
    answer(index.getAllKeys(planId)),
    answer<UpdateRow[]>(index.getAll(planId)),
  ]);
  return { keys, rows };
}

function apply(doc: Y.Doc, row: UpdateRow, origin: unknown): boolean {
  try {
    if (checksum(row.bytes) !== row.checksum) return false;
    Y.applyUpdate(doc, row.bytes, origin);
    return true;
  } catch {
    return false;
  }
}

function updateRow(planId: string, bytes: Uint8Array, edits: number): UpdateRow {
  // A copy of its own: storing a view would store the whole buffer behind it.
  return { planId, bytes: bytes.slice(), checksum: checksum(bytes), edits };
}

function editsIn(rows: readonly UpdateRow[]): number {
  return rows.reduce((sum, row) => sum + (row.edits ?? 0), 0);
}

/** FNV-1a, 32 bits: tells a damaged row before Yjs takes in half of it. */
function checksum(bytes: Uint8Array): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < bytes.length; i++) hash = Math.imul(hash ^ bytes[i]!, 0x01000193);
  return hash >>> 0;
}
