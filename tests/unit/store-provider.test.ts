import { forceCloseDatabase, IDBObjectStore } from 'fake-indexeddb';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { databaseName, databaseVersion } from '../../app/document/database.ts';
import { listProjects } from '../../app/document/project-list.ts';
import { openDocument, type OpenPlan } from '../../app/document/start.ts';
import type { SaveState } from '../../app/store/session.ts';
import type { Problem } from '../../geo/result.ts';
import { apply, canonical, fillDisk, ground, settle, stand, TestBrowser } from '../document-rig.ts';

const open: OpenPlan[] = [];

async function openTab(browser: TestBrowser, host = browser.host()) {
  const plan = await openDocument('plan', host);
  open.push(plan);
  const saves: SaveState[] = [];
  const problems: Problem[] = [];
  plan.watch({ save: (state) => saves.push(state), problem: (p) => problems.push(p) });
  return { ...plan, saves, problems };
}

function rawDatabase(factory: IDBFactory): Promise<IDBDatabase> {
  return new Promise((resolve) => {
    const request = factory.open(databaseName);
    request.onsuccess = () => resolve(request.result);
  });
}

/** All rows of a store as they lie there, with a way to change them. */
async function rows(factory: IDBFactory, change?: (row: UpdateRow, i: number) => void) {
  const db = await rawDatabase(factory);
  const transaction = db.transaction('updates', 'readwrite');
  const found: UpdateRow[] = [];
  await new Promise<void>((resolve) => {
    transaction.oncomplete = () => resolve();
    transaction.objectStore('updates').openCursor().onsuccess = (event) => {
      const cursor = (event.target as IDBRequest<IDBCursorWithValue | null>).result;
      if (!cursor) return;
      const row = cursor.value as UpdateRow;
      change?.(row, found.length);
      if (change) cursor.update(row);
      found.push(row);
      cursor.continue();
    };
  });
  db.close();
  return found;
}
interface UpdateRow {
  bytes: Uint8Array;
  checksum: number;
  aside?: boolean;
}

afterEach(async () => {
  vi.restoreAllMocks();
  await Promise.all(open.splice(0).map((plan) => plan.close()));
});

describe('saving', () => {
  it('keeps what was drawn, says when, and finds it again', async () => {
    const browser = new TestBrowser();
    const first = await openTab(browser);
    expect(first.provider.save).toEqual({ state: 'saved', at: null });
    apply(first.document, { features: { a: stand('a') }, settings: { siteName: 'North bench' } });
    first.document.setConditions({ hourUtc: '2026-10-01T11:00:00Z' });
    expect(first.provider.save).toEqual({ state: 'saving' });
    expect(await first.provider.flush()).toBe(true);
    expect(first.provider.save).toEqual({ state: 'saved', at: browser.now });
    await first.close();

    const again = await openTab(browser);
    expect(canonical(again.document.snapshot)).toBe(canonical(first.document.snapshot));
    expect(again.document.snapshot.conditions.hourUtc).toBe('2026-10-01T11:00:00Z');
    expect(again.document.canUndo).toBe(false);
    expect(again.provider.save).toEqual({ state: 'saved', at: browser.now });
    expect(await listProjects(browser.host())).toMatchObject({
      value: [{ id: 'plan', name: 'North bench', savedAt: browser.now, featureCount: 1 }],
    });
  });

  it('keeps plans apart', async () => {
    const browser = new TestBrowser();
    const one = await openDocument('one', browser.host());
    const two = await openDocument('two', browser.host());
    open.push(one, two);
    apply(one.document, { features: { a: stand('a') } });
    await settle();
    expect(two.document.snapshot.features).toEqual({});
    await one.close();
    const again = await openDocument('two', browser.host());
    open.push(again);
    expect(again.document.snapshot.features).toEqual({});
  });

  it('writes the edits of one moment together, without being asked', async () => {
    const browser = new TestBrowser();
    const { document, provider } = await openTab(browser);
    for (let i = 0; i < 50; i++) apply(document, { features: { a: stand('a', `a${i}`) } });
    await settle();
    expect(provider.save.state).toBe('saved');
    expect(await rows(browser.indexedDB)).toHaveLength(1);
  });

  it('goes on saving after it was asked to save nothing', async () => {
    const browser = new TestBrowser();
    const { document, provider } = await openTab(browser);
    expect(await provider.flush()).toBe(true);
    expect(await provider.flush()).toBe(true);
    apply(document, { features: { a: stand('a') } });
    await settle();
    expect(provider.save.state).toBe('saved');
    expect(await rows(browser.indexedDB)).toHaveLength(1);
  });

  it('puts many rows together now and then, and loses nothing by it', async () => {
    const browser = new TestBrowser();
    const { document, provider } = await openTab(browser);
    for (let i = 0; i < 230; i++) {
      apply(document, { features: { [`f${i % 40}`]: stand(`f${i % 40}`, `n${i}`) } });
      await provider.flush();
    }
    expect((await rows(browser.indexedDB)).length).toBeLessThan(60);
    const again = await openTab(browser);
    expect(canonical(again.document.snapshot)).toBe(canonical(document.snapshot));
  });

  it('has everything up to the last awaited write when the tab is killed', async () => {
    const browser = new TestBrowser();
    let alive = true;
    // A killed process: its database connection goes, and nothing that it does arrives any more.
    const killed = new Proxy(browser.indexedDB, {
      get: (target, key) =>
        key !== 'open'
          ? Reflect.get(target, key)
          : (...args: Parameters<IDBFactory['open']>) => {
              if (!alive) throw new DOMException('killed', 'AbortError');
              const request = target.open(...args);
              request.addEventListener('success', () => {
                const db = request.result;
                const transaction = db.transaction.bind(db);
                db.transaction = (...wanted) => {
                  if (!alive) throw new DOMException('killed', 'AbortError');
                  return transaction(...wanted);
                };
              });
              return request;
            },
    });
    const first = await openTab(browser, browser.host({ indexedDB: killed }));
    for (let i = 0; i < 10; i++) {
      apply(first.document, { features: { [`f${i}`]: stand(`f${i}`) } });
      await first.provider.flush();
    }
    const awaited = canonical(first.document.snapshot);
    alive = false;
    apply(first.document, { features: { late: stand('late') } });

    const again = await openTab(browser, browser.host({ openPort: () => null }));
    expect(canonical(again.document.snapshot)).toBe(awaited);
    expect(again.problems).toEqual([]);
  });

  it('hands over what is queued when the page goes away, while another write is under way', async () => {
    const browser = new TestBrowser();
    let hide = () => {};
    const host = browser.host({
      watchPage: (onHide) => {
        hide = onHide;
        return () => {};
      },
    });
    const first = await openTab(browser, host);
    apply(first.document, { features: { a: stand('a') } });
    await Promise.resolve();
    await Promise.resolve();
    apply(first.document, { features: { b: stand('b') } });
    const transactions = vi.spyOn(IDBObjectStore.prototype, 'add');
    hide();
    // In the same turn, before anything else can run.
    expect(transactions).toHaveBeenCalledTimes(1);
    await settle();
    expect(await rows(browser.indexedDB)).toHaveLength(2);
    expect(first.provider.save.state).toBe('saved');
  });
});

describe('trouble with the storage', () => {
  it('says when the disk is full, keeps the edits, and saves them when there is room', async () => {
    const browser = new TestBrowser();
    const first = await openTab(browser);
    apply(first.document, { features: { a: stand('a') } });
    await first.provider.flush();
    const makeRoom = fillDisk();
    try {
      apply(first.document, { features: { b: stand('b') } });
      apply(first.document, { features: { c: stand('c') } });
      expect(await first.provider.flush()).toBe(false);
      apply(first.document, { features: { d: stand('d') } });
      await settle();
    } finally {
      makeRoom();
    }
    expect(first.provider.save).toMatchObject({
      state: 'failed',
      problem: { code: 'storage-full' },
    });
    expect(first.saves.at(-1)).toEqual(first.provider.save);
    expect(Object.keys(first.document.snapshot.features)).toEqual(['a', 'b', 'c', 'd']);
    // Not flashing between failed and saving while it cannot save.
    expect(first.saves.filter(({ state }) => state === 'saving')).toHaveLength(2);
    const stillOld = await openTab(browser, browser.host({ openPort: () => null }));
    expect(Object.keys(stillOld.document.snapshot.features)).toEqual(['a']);

    expect(await first.provider.flush()).toBe(true);
    expect(first.provider.save.state).toBe('saved');
    const again = await openTab(browser, browser.host({ openPort: () => null }));
    expect(canonical(again.document.snapshot)).toBe(canonical(first.document.snapshot));
  });

  it('tries again by itself', async () => {
    const browser = new TestBrowser();
    const first = await openTab(browser);
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const makeRoom = fillDisk();
    try {
      apply(first.document, { features: { a: stand('a') } });
      await settle();
    } finally {
      makeRoom();
    }
    expect(first.provider.save.state).toBe('failed');
    vi.advanceTimersByTime(5000);
    vi.useRealTimers();
    await settle();
    expect(first.provider.save.state).toBe('saved');
  });

  it.each([
    ['no storage at all', undefined],
    [
      'storage that throws',
      { open: () => { throw new DOMException('denied', 'SecurityError'); } } as never, // prettier-ignore
    ],
  ])('opens in memory with %s, and says so', async (_, indexedDB) => {
    const plan = await openTab(new TestBrowser(), new TestBrowser().host({ indexedDB }));
    expect(plan.provider.loaded).toBe(false);
    expect(plan.provider.save).toMatchObject({
      state: 'failed',
      problem: { code: 'storage-unavailable' },
    });
    apply(plan.document, { features: { a: stand('a') } });
    expect(plan.document.snapshot.features.a!.name).toBe('a');
  });

  it('stops saving when a newer version has taken the store, having written what it had', async () => {
    const browser = new TestBrowser();
    const first = await openTab(browser);
    apply(first.document, { features: { a: stand('a') } });
    const newer = browser.indexedDB.open(databaseName, databaseVersion + 1);
    await new Promise((resolve) => (newer.onsuccess = resolve));
    newer.result.close();
    await settle();
    expect(first.provider.save).toMatchObject({ problem: { code: 'storage-newer' } });
    apply(first.document, { features: { b: stand('b') } });
    await settle();
    expect(first.provider.save).toMatchObject({ problem: { code: 'storage-newer' } });
    expect(await rows(browser.indexedDB)).toHaveLength(1);
  });

  it('waits while an older tab holds the store, then reads what is in it', async () => {
    const browser = new TestBrowser();
    const stored = await openTab(browser);
    apply(stored.document, { features: { a: stand('a') } });
    await stored.close();
    let blocked = true;
    const host = browser.host({
      indexedDB: new Proxy(browser.indexedDB, {
        get: (target, key) =>
          key !== 'open'
            ? Reflect.get(target, key)
            : (...args: Parameters<IDBFactory['open']>) => {
                const request = target.open(...args);
                if (blocked)
                  queueMicrotask(() => request.onblocked?.(new Event('blocked') as never));
                return request;
              },
      }),
    });
    const late = await openTab(browser, host);
    expect(late.provider.save).toMatchObject({ problem: { code: 'storage-blocked' } });
    expect(late.provider.loaded).toBe(false);
    apply(late.document, { features: { b: stand('b') } });
    await settle();
    blocked = false;
    expect(await late.provider.flush()).toBe(true);
    expect(Object.keys(late.document.snapshot.features).sort()).toEqual(['a', 'b']);
    expect(late.provider.save.state).toBe('saved');
    const again = await openTab(browser, browser.host({ openPort: () => null }));
    expect(canonical(again.document.snapshot)).toBe(canonical(late.document.snapshot));
  });

  it.each(['deleted', 'closed by the browser'])(
    'saves the whole plan anew after it was %s',
    async (how) => {
      const browser = new TestBrowser();
      let db: IDBDatabase | undefined;
      const open = browser.indexedDB.open.bind(browser.indexedDB);
      vi.spyOn(browser.indexedDB, 'open').mockImplementation((...args) => {
        const request = open(...args);
        request.addEventListener('success', () => (db ??= request.result));
        return request;
      });
      const first = await openTab(browser);
      apply(first.document, { features: { a: stand('a') } });
      await first.provider.flush();
      if (how === 'deleted') browser.indexedDB.deleteDatabase(databaseName);
      else forceCloseDatabase(db as never);
      await settle();
      expect(first.provider.save).toMatchObject({ problem: { code: 'storage-deleted' } });
      apply(first.document, { features: { b: stand('b') } });
      expect(await first.provider.flush()).toBe(true);
      expect(first.provider.save.state).toBe('saved');
      const again = await openTab(browser, browser.host({ openPort: () => null }));
      expect(Object.keys(again.document.snapshot.features).sort()).toEqual(['a', 'b']);
    },
  );
});

describe('a damaged store', () => {
  /** Ten rows, one stand each, and one stand renamed in every row. */
  async function tenRows(browser: TestBrowser): Promise<void> {
    const plan = await openTab(browser);
    for (let i = 0; i < 10; i++) {
      apply(plan.document, {
        features: { [`f${i}`]: stand(`f${i}`), same: stand('same', `n${i}`) },
      });
      await plan.provider.flush();
    }
    await plan.close();
  }

  it.each([
    ['one byte flipped', (row: UpdateRow) => { row.bytes[row.bytes.length >> 1]! ^= 4; }], // prettier-ignore
    ['half of it gone', (row: UpdateRow) => { row.bytes = row.bytes.slice(0, row.bytes.length >> 1); }], // prettier-ignore
    ['not bytes at all', (row: UpdateRow) => { row.bytes = 'x' as never; }], // prettier-ignore
  ])('loads the rest of the plan with %s in one row, and says so once', async (_, damage) => {
    const browser = new TestBrowser();
    await tenRows(browser);
    await rows(browser.indexedDB, (row, i) => i === 4 && damage(row));
    const plan = await openTab(browser);
    expect(plan.problems).toMatchObject([
      { code: 'saved-part-unreadable', where: '1 saved change' },
    ]);
    const { same, ...others } = plan.document.snapshot.features;
    expect(Object.keys(others)).toEqual(['f0', 'f1', 'f2', 'f3', 'f5', 'f6', 'f7', 'f8', 'f9']);
    // Its newer values hang on the lost one in Yjs: the last before it is what there is.
    expect(same!.name).toBe('n3');
    apply(plan.document, { features: { same: stand('same', 'drawn again') } });
    await plan.close();
    expect((await rows(browser.indexedDB)).filter((row) => row.aside)).toHaveLength(1);

    const again = await openTab(browser);
    expect(again.problems).toEqual([]);
    expect(canonical(again.document.snapshot)).toBe(canonical(plan.document.snapshot));
  });

  it('takes the damaged part from another tab that still has it', async () => {
    const browser = new TestBrowser();
    const healthy = await openTab(browser);
    for (let i = 0; i < 10; i++) {
      apply(healthy.document, { features: { [`f${i}`]: stand(`f${i}`) } });
      await healthy.provider.flush();
    }
    await rows(browser.indexedDB, (row, i) => i === 4 && (row.bytes[9]! ^= 1));
    const plan = await openTab(browser);
    expect(Object.keys(plan.document.snapshot.features)).toHaveLength(10);
    await plan.close();
    await healthy.close();
    const again = await openTab(browser);
    expect(Object.keys(again.document.snapshot.features)).toHaveLength(10);
    expect(again.problems).toEqual([]);
  });
});

describe('tabs', () => {
  it('show each other edits and conditions as they come', async () => {
    const browser = new TestBrowser();
    const a = await openTab(browser);
    const b = await openTab(browser);
    apply(a.document, { features: { f: stand('f') } });
    b.document.setConditions({ wind: { fromDegrees: 270, speedMetersPerSecond: 3 } });
    await settle();
    expect(canonical(b.document.snapshot)).toBe(canonical(a.document.snapshot));
    expect(a.document.snapshot.conditions.wind.fromDegrees).toBe(270);
    expect(b.document.canUndo).toBe(false);
  });

  it('notice that one message was lost, a deletion too, from the next one', async () => {
    const browser = new TestBrowser();
    const a = await openTab(browser);
    const b = await openTab(browser);
    apply(a.document, { features: { f: stand('f'), g: stand('g') } });
    await settle();
    let lost = 0;
    browser.lose = (message) => (message as { kind: string }).kind === 'update' && lost++ === 0;
    apply(a.document, { features: { f: null } });
    await settle();
    expect(lost).toBeGreaterThan(0);
    expect(b.document.snapshot.features.f).toBeUndefined();
    expect(canonical(b.document.snapshot)).toBe(canonical(a.document.snapshot));
  });

  it('does not store an edit without the unsaved edit of a killed tab that it was drawn on', async () => {
    const browser = new TestBrowser();
    const doomed = await openTab(browser, browser.host({ indexedDB: undefined }));
    const b = await openTab(browser);
    apply(doomed.document, { features: { f: stand('f', 'by the doomed') } });
    await settle();
    apply(b.document, { features: { f: stand('f', 'by B') } });
    await b.close();
    const again = await openTab(browser, browser.host({ openPort: () => null }));
    expect(again.document.snapshot.features.f!.name).toBe('by B');
    expect(again.problems).toEqual([]);
  });

  it('shrug at messages that they do not understand', async () => {
    const browser = new TestBrowser();
    const plan = await openTab(browser);
    const stranger = browser.host().openPort('assart plan plan')!;
    stranger.postMessage('hello?');
    stranger.postMessage({ format: 2, kind: 'update' });
    stranger.postMessage({
      format: 1,
      from: 'x',
      sent: 1,
      kind: 'update',
      update: new Uint8Array([9, 9]),
    });
    await settle();
    expect(plan.problems).toMatchObject([{ code: 'tab-message-unreadable' }]);
    apply(plan.document, { features: { a: stand('a') } });
    expect(await plan.provider.flush()).toBe(true);
  });

  it('speak through the BroadcastChannel of the platform too', async () => {
    const browser = new TestBrowser();
    const openPort = (name: string) => new BroadcastChannel(name) as never;
    const a = await openTab(browser, browser.host({ openPort }));
    const b = await openTab(browser, browser.host({ openPort }));
    apply(a.document, { features: { f: stand('f') } });
    await vi.waitFor(() => expect(b.document.snapshot.features.f!.name).toBe('f'));
  });
});

it('opens a plan whose ground is not on this computer, and says what it misses', async () => {
  const browser = new TestBrowser();
  const first = await openTab(browser);
  const put = await first.rasters.put(new Float32Array([1, 2, 3, 4]), {
    kind: 'ground',
    format: 'float32',
    width: 2,
    height: 2,
  });
  if (!put.ok) throw new RangeError(put.problem.what);
  const gone = 'f'.repeat(64);
  apply(first.document, {
    grounds: { [put.value]: ground(put.value, 'Here'), [gone]: ground(gone, 'Bench 2026') },
  });
  await first.close();
  const again = await openTab(browser);
  expect(again.missing).toMatchObject([{ code: 'raster-missing', where: gone }]);
  expect(again.missing[0]!.what).toContain('Bench 2026');
  expect(again.problems).toEqual(again.missing);
  expect(Object.keys(again.document.snapshot.grounds)).toHaveLength(2);
  expect(await listProjects(browser.host())).toMatchObject({
    value: [{ rasterIds: [put.value, gone].sort() }],
  });
});
