import { createHash } from 'node:crypto';
import { IDBFactory, IDBObjectStore } from 'fake-indexeddb';
import { describe, expect, it } from 'vitest';
import { databaseName } from '../../app/document/database.ts';
import { contentHash, RasterStore, type RasterMeta } from '../../app/document/raster-store.ts';
import type { Result } from '../../geo/result.ts';
import { fillDisk } from '../document-rig.ts';

const meta: RasterMeta = { kind: 'ground', format: 'float32', width: 1500, height: 1500 };

/** 9 MB with every byte position telling: three parts, the last one short. */
function grid(seed = 0): Float32Array<ArrayBuffer> {
  const data = new Float32Array(1500 * 1500);
  for (let i = 0; i < data.length; i++) data[i] = i === 77 ? NaN : Math.fround(i * 0.37 + seed);
  return data;
}

function value<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}

function firstDifference(a: Uint8Array, b: Uint8Array): number | null {
  if (a.length !== b.length) return Math.min(a.length, b.length);
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return i;
  return null;
}

async function inside<T>(
  factory: IDBFactory,
  job: (parts: IDBObjectStore, headers: IDBObjectStore) => IDBRequest<T>,
): Promise<T> {
  const db = await new Promise<IDBDatabase>((resolve) => {
    const request = factory.open(databaseName);
    request.onsuccess = () => resolve(request.result);
  });
  const transaction = db.transaction(['rasters', 'raster-parts'], 'readwrite');
  const request = job(transaction.objectStore('raster-parts'), transaction.objectStore('rasters'));
  await new Promise((resolve) => (transaction.oncomplete = resolve));
  db.close();
  return request.result;
}

describe('contentHash', () => {
  it('is SHA-256: the one-block example of FIPS 180-4 (NIST example values, "abc")', async () => {
    expect(await contentHash(new TextEncoder().encode('abc'))).toBe(
      'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
    );
  });

  it('is what OpenSSL gives, for every length round a block and over many slices', async () => {
    const reference = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
    for (let length = 0; length < 200; length++) {
      const bytes = Uint8Array.from({ length }, (_, i) => i * 31 + length);
      expect(await contentHash(bytes)).toBe(reference(bytes));
    }
    const large = new Uint8Array(grid().buffer);
    expect(await contentHash(large)).toBe(reference(large));
  });
});

describe('RasterStore', () => {
  it('gives the same bytes back, named by the hash that OpenSSL gives', async () => {
    const store = new RasterStore(new IDBFactory(), () => 5);
    const data = grid();
    const id = value(await store.put(data, meta));
    expect(id).toBe(createHash('sha256').update(new Uint8Array(data.buffer)).digest('hex'));
    const found = value(await store.get(id));
    expect(found.header).toEqual({ ...meta, id, byteLength: 9_000_000, storedAt: 5 });
    expect(firstDifference(new Uint8Array(found.bytes), new Uint8Array(data.buffer))).toBeNull();
    expect(value(await store.has(id))).toBe(true);
    store.close();
  });

  it('keeps the same bytes once, also when put twice at the same time, and only the part meant', async () => {
    const factory = new IDBFactory();
    const store = new RasterStore(factory, () => 5);
    const data = grid();
    const wider = new Float32Array(data.length + 8);
    wider.set(data, 4);
    const view = wider.subarray(4, 4 + data.length);
    const ids = await Promise.all([store.put(data, meta), store.put(view, meta)]);
    expect(value(ids[0]!)).toBe(value(ids[1]!));
    value(await store.put(data.buffer, meta));
    expect(value(await store.list())).toHaveLength(1);
    expect(await inside(factory, (parts) => parts.count())).toBe(3);
    store.close();
  });

  it('throws away only what is neither named nor new', async () => {
    const factory = new IDBFactory();
    let now = 1;
    const store = new RasterStore(factory, () => now);
    const kept = value(await store.put(grid(1), meta));
    const old = value(await store.put(grid(2), meta));
    now = 100;
    const fresh = value(await store.put(grid(3), meta));
    expect(value(await store.removeUnused([kept], 100))).toBe(1);
    expect(value(await store.list()).map(({ id }) => id)).toEqual([kept, fresh].sort());
    expect(await inside(factory, (parts) => parts.count())).toBe(6);
    expect(await store.get(old)).toMatchObject({ ok: false, problem: { code: 'raster-missing' } });
    store.close();
  });

  it('says when a part is lost or short instead of giving half a raster', async () => {
    for (const damage of [
      (parts: IDBObjectStore, id: string) => parts.delete([id, 1]),
      (parts: IDBObjectStore, id: string) => parts.put(new Uint8Array(7), [id, 2]),
      (parts: IDBObjectStore, id: string) => parts.put(new Uint8Array(5_000_000), [id, 2]),
    ]) {
      const factory = new IDBFactory();
      const store = new RasterStore(factory, () => 5);
      const id = value(await store.put(grid(), meta));
      await inside(factory, (parts) => damage(parts, id) as IDBRequest<unknown>);
      expect(await store.get(id)).toMatchObject({ problem: { code: 'raster-damaged', where: id } });
      store.close();
    }
  });

  it('keeps nothing of a raster for which there is no room', async () => {
    const factory = new IDBFactory();
    const store = new RasterStore(factory, () => 5);
    const makeRoom = fillDisk();
    const refused = await store.put(grid(), meta).finally(makeRoom);
    expect(refused).toMatchObject({ ok: false, problem: { code: 'storage-full' } });
    expect(await inside(factory, (parts) => parts.count())).toBe(0);
    expect(value(await store.list())).toEqual([]);
    value(await store.put(grid(), meta));
    store.close();
  });

  it('keeps nothing when a later part is refused outright', async () => {
    const factory = new IDBFactory();
    const store = new RasterStore(factory, () => 5);
    const { put } = IDBObjectStore.prototype;
    let writes = 0;
    IDBObjectStore.prototype.put = function (...args) {
      if (++writes === 3) throw new DOMException('no room', 'QuotaExceededError');
      return put.apply(this, args);
    };
    const refused = await store.put(grid(), meta).finally(() => {
      IDBObjectStore.prototype.put = put;
    });
    expect(refused).toMatchObject({ ok: false, problem: { code: 'storage-full' } });
    expect(await inside(factory, (parts) => parts.count())).toBe(0);
    store.close();
  });

  it('says so where nothing can be stored, and opens again after the store was deleted', async () => {
    const nowhere = new RasterStore(undefined, () => 5);
    expect(await nowhere.has('x')).toMatchObject({ problem: { code: 'storage-unavailable' } });
    const factory = new IDBFactory();
    const store = new RasterStore(factory, () => 5);
    const id = value(await store.put(grid(), meta));
    await new Promise((resolve) => {
      factory.deleteDatabase(databaseName).onsuccess = resolve;
    });
    expect(value(await store.has(id))).toBe(false);
    store.close();
  });
});
