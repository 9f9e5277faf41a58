import * as Y from 'yjs';
import { schemaVersion } from '../../geo/plan/migrations/migrate.ts';
import type { Problem } from '../../geo/result.ts';
import type { SaveState } from '../store/session.ts';
import { openDatabase } from './database.ts';
import { fillGaps } from './fill-gaps.ts';
import { gestureMark } from './plan-document.ts';
import { problemFromError, storageProblem } from './storage-problem.ts';
import { TabChannel, type TabPort } from './tab-channel.ts';
import { appendUpdate, compactUpdates, loadUpdates, planRow, type PlanRow } from './update-log.ts';

export interface StoreOptions {
  readonly planId: string;
  readonly indexedDB: IDBFactory | undefined;
  /** To the other tabs of this plan; null where the browser has none. */
  readonly port: TabPort | null;
  /** Unique to this tab. */
  readonly tabId: string;
  /** Milliseconds since 1970, UTC. */
  readonly now: () => number;
  /** What the list of plans says of this one. */
  readonly describe: () => Pick<PlanRow, 'name' | 'rasterIds' | 'featureCount'>;
  /** Brings what was loaded, of an older version, up to date. */
  readonly migrate: (version: number) => void;
  readonly onSave: (state: SaveState) => void;
  readonly onProblem: (problem: Problem) => void;
  /** After each saved change: how many gestures are saved in this plan. */
  readonly onEdits?: (edits: number) => void;
  readonly retryMilliseconds?: number;
  readonly compactAfterRows?: number;
  /** How long to wait for another tab when a saved change is missing. */
  readonly answerMilliseconds?: number;
}

/** What Yjs writes for a document with nothing in it: no clients, no deletions. */
const emptyUpdateLength = 2;

/**
 * Saves a document as it changes and keeps the tabs that show it equal. Every change is written at
 * once, those of one moment together, and counts as saved when the browser says that it is on disk.
 * What could not be written stays queued and is tried again: on the next change and by a timer.
 */
export class StoreProvider {
  readonly #doc: Y.Doc;
  readonly #options: StoreOptions;
  readonly #channel: TabChannel | null;
  readonly #fromStore = { origin: 'store' };
  readonly #fromTabs = { origin: 'tabs' };
  #db: IDBDatabase | null = null;
  #queue: Uint8Array[] = [];
  /** Gestures among what is queued, and in what is stored. */
  #queuedEdits = 0;
  #storedEdits = 0;
  #writing: Promise<void> | null = null;
  #rows = 0;
  #toMend: { readonly unreadableRows: number; readonly version: number } | null = null;
  #loaded = false;
  #closed = false;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #save: SaveState = { state: 'saved', at: null };

  /** Resolves with the stored plan in `doc`, or with why there is none in `save`. Never rejects. */
  static async open(doc: Y.Doc, options: StoreOptions): Promise<StoreProvider> {
    const provider = new StoreProvider(doc, options);
    await provider.#connect();
    provider.#channel?.hello();
    if (provider.#db) await provider.flush();
    else provider.#retryLater();
    return provider;
  }

  private constructor(doc: Y.Doc, options: StoreOptions) {
    this.#doc = doc;
    this.#options = options;
    this.#channel = options.port
      ? new TabChannel({
          doc,
          port: options.port,
          self: options.tabId,
          origin: this.#fromTabs,
          onUnreadable: (error) => this.#reportTab(error),
        })
      : null;
    doc.on('update', this.#onUpdate);
  }

  get save(): SaveState {
    return this.#save;
  }

  /** Whether what was stored has been read: an empty document may be taken for a new plan. */
  get loaded(): boolean {
    return this.#loaded;
  }

  /** Gestures saved in this plan, of this tab and others. */
  get edits(): number {
    return this.#storedEdits;
  }

  /** Resolves with true when everything so far is stored, false when it could not be. */
  async flush(): Promise<boolean> {
    await this.#write();
    return this.#queue.length === 0;
  }

  /** The page may be gone any moment: hands over what is queued without waiting for anything. */
  hand(): void {
    if (!this.#db || this.#queue.length === 0) return;
    void this.#writeOnce(this.#db).then((written) => written || this.#retryLater());
  }

  /** The page is seen again: other tabs may have spoken while it slept. */
  wake(): void {
    this.#channel?.hello();
    if (this.#queue.length > 0) void this.flush();
  }

  async close(): Promise<void> {
    if (this.#closed) return;
    this.#doc.off('update', this.#onUpdate);
    await this.flush();
    this.#closed = true;
    this.#channel?.close();
    clearTimeout(this.#retry);
    this.#db?.close();
    this.#db = null;
  }

  readonly #onUpdate = (
    update: Uint8Array,
    origin: unknown,
    _doc: Y.Doc,
    transaction: Y.Transaction,
  ): void => {
    if (origin === this.#fromStore) return;
    if (transaction.meta.has(gestureMark)) this.#queuedEdits++;
    // Changes of other tabs are stored from here too: what is drawn on top of them must never be
    // in the store without them, even if that tab was killed before it had saved.
    this.#queue.push(update);
    if (origin !== this.#fromTabs) this.#channel?.update(update);
    if (this.#save.state === 'saved') this.#say({ state: 'saving' });
    void this.#write();
  };

  /** In a turn of its own, so that the edits of one moment go together. */
  #write(): Promise<void> {
    this.#writing ??= Promise.resolve().then(() => this.#writeAll());
    return this.#writing;
  }

  async #writeAll(): Promise<void> {
    try {
      // Between the last look at the queue and the end of this loop nothing may be awaited, or a
      // change made meanwhile would wait for the next one.
      while (!this.#closed) {
        const db = this.#db ?? (await this.#connect());
        if (!db) return this.#retryLater();
        if (this.#toMend) {
          await this.#mend(db);
        } else if (this.#queue.length > 0) {
          if (!(await this.#writeOnce(db))) return this.#retryLater();
        } else if (this.#rows > (this.#options.compactAfterRows ?? 200)) {
          await this.#compact(db);
        } else {
          this.#channel?.confirm();
          return;
        }
      }
    } finally {
      this.#writing = null;
    }
  }

  async #writeOnce(db: IDBDatabase): Promise<boolean> {
    const batch = this.#queue;
    const edits = this.#queuedEdits;
    this.#queue = [];
    this.#queuedEdits = 0;
    const savedAt = this.#options.now();
    try {
      const plan = {
        id: this.#options.planId,
        savedAt,
        schemaVersion,
        ...this.#options.describe(),
      };
      await appendUpdate(db, plan, Y.mergeUpdates(batch), edits);
    } catch (error) {
      this.#queue = [...batch, ...this.#queue];
      this.#queuedEdits += edits;
      // A lost connection has said so already, in better words than the write that ran into it.
      if (this.#db === db) this.#fail(problemFromError(error, 'storage-failed'));
      return false;
    }
    this.#rows++;
    this.#storedEdits += edits;
    this.#options.onEdits?.(this.#storedEdits);
    if (this.#db === db && this.#queue.length === 0) {
      this.#say({ state: 'saved', at: this.#options.now() });
    }
    return true;
  }

  /** Opens the database and takes in what is stored; null, and the reason said, if it cannot. */
  async #connect(): Promise<IDBDatabase | null> {
    const opened = await openDatabase(this.#options.indexedDB, (problem, db) => {
      if (this.#db !== db) return;
      this.hand();
      this.#db = null;
      this.#fail(problem);
    });
    if (!opened.ok) {
      this.#fail(opened.problem);
      return null;
    }
    const db = opened.value;
    const before = Y.encodeStateAsUpdate(this.#doc);
    const { planId } = this.#options;
    try {
      const stored = await planRow(db, planId);
      if ((stored?.schemaVersion ?? 0) > schemaVersion) {
        db.close();
        // Nothing of it may reach other tabs from here, nor the other way round.
        this.#channel?.close();
        this.#fail(storageProblem('plan-newer'));
        return null;
      }
      const found = await loadUpdates(db, planId, this.#doc, this.#fromStore);
      this.#rows = found.rows;
      this.#storedEdits = found.edits;
      const version = found.rows === 0 ? schemaVersion : (found.plan?.schemaVersion ?? 0);
      this.#toMend = { unreadableRows: found.unreadable, version };
      if (this.#queue.length === 0) this.#say({ state: 'saved', at: found.plan?.savedAt ?? null });
    } catch (error) {
      db.close();
      this.#fail(problemFromError(error, 'storage-failed'));
      return null;
    }
    // Anything here before the store was (re)opened may not be in it.
    if (before.length > emptyUpdateLength) this.#queue.unshift(before);
    this.#db = db;
    this.#loaded = true;
    return db;
  }

  /** After loading: gets in what damaged or lost rows hold back, says so, puts the rest in order. */
  async #mend(db: IDBDatabase): Promise<void> {
    const { unreadableRows: unreadable, version } = this.#toMend!;
    this.#toMend = null;
    if (this.#doc.store.pendingStructs) {
      this.#channel?.hello();
      await this.#channel?.firstAnswer(this.#options.answerMilliseconds ?? 400);
    }
    const filled = fillGaps(this.#doc, this);
    if (unreadable > 0 || filled) this.#options.onProblem(lostPart(unreadable));
    if (version < schemaVersion) this.#options.migrate(version);
    if (unreadable > 0) await this.#compact(db);
  }

  async #compact(db: IDBDatabase): Promise<void> {
    try {
      await compactUpdates(db, this.#options.planId);
      this.#rows = 1;
    } catch {
      // Every change is stored already; putting rows together can wait.
      this.#rows = 0;
    }
  }

  #retryLater(): void {
    if (this.#closed) return;
    clearTimeout(this.#retry);
    this.#retry = setTimeout(() => void this.flush(), this.#options.retryMilliseconds ?? 5000);
  }

  #fail(problem: Problem): void {
    this.#say({ state: 'failed', problem });
  }

  #say(state: SaveState): void {
    this.#save = state;
    this.#options.onSave(state);
  }

  #reportTab(error: unknown): void {
    this.#options.onProblem({
      code: 'tab-message-unreadable',
      what: 'Another tab sent a change that cannot be read here.',
      wayOut: 'Reload this tab to see the plan as it was saved.',
      where: String(error),
    });
  }
}

function lostPart(rows: number): Problem {
  return {
    code: 'saved-part-unreadable',
    what: 'Part of the saved plan is damaged and could not be read; the rest is here.',
    wayOut: 'Look over the newest drawings and redo what is missing.',
    ...(rows > 0 && { where: `${rows} saved ${rows === 1 ? 'change' : 'changes'}` }),
  };
}
