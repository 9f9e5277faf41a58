import { createSHA256 } from 'hash-wasm';
import { ok, type Problem, type Result } from '../../geo/result.ts';
import { answer, openDatabase, stored } from './database.ts';
import { problemFromError, storageProblem } from './storage-problem.ts';

/** What the bytes are; those of a grid are float32, little-endian, row-major, row 0 north. */
export interface RasterMeta {
  readonly kind: 'ground' | 'photo';
  readonly format: 'float32' | 'rgba' | 'encoded';
  /** Of an encoded picture, e.g. image/webp. */
  readonly mediaType?: string;
  readonly width: number;
  readonly height: number;
}

export interface RasterHeader extends RasterMeta {
  /** SHA-256 of the bytes, in hex. */
  readonly id: string;
  readonly byteLength: number;
  /** Milliseconds since 1970, UTC. */
  readonly storedAt: number;
}

export interface StoredRaster {
  readonly header: RasterHeader;
  readonly bytes: ArrayBuffer;
}

type Bytes = ArrayBuffer | ArrayBufferView<ArrayBuffer>;

/** Bytes of one part: each is copied in about a millisecond, so a page stays live meanwhile. */
const partBytes = 4 * 1024 * 1024;

/** Hashed between two pauses: a few milliseconds. */
const sliceBytes = 1024 * 1024;

/**
 * SHA-256 in hex: the same bytes have the same name everywhere. By `hash-wasm`, in slices with
 * pauses: the browser's own digest blocks its thread, is no faster, and is missing without https.
 */
export async function contentHash(bytes: Bytes): Promise<string> {
  const view = viewOf(bytes);
  const hash = await createSHA256();
  for (let at = 0; at < view.length; at += sliceBytes) {
    hash.update(view.subarray(at, at + sliceBytes));
    await turn();
  }
  return hash.digest('hex');
}

/** Lets the page answer its user; a message comes round sooner than a timer. */
function turn(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}

function viewOf(bytes: Bytes): Uint8Array<ArrayBuffer> {
  return ArrayBuffer.isView(bytes)
    ? new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    : new Uint8Array(bytes);
}

/**
 * Rasters of all plans, each kept once under the hash of its bytes, beside the documents that name
 * them. Works on the page and in a worker alike; every problem comes back as a value.
 */
export class RasterStore {
  readonly #factory: IDBFactory | undefined;
  readonly #now: () => number;
  #opening: Promise<Result<IDBDatabase>> | null = null;

  constructor(factory: IDBFactory | undefined, now: () => number) {
    this.#factory = factory;
    this.#now = now;
  }

  /**
   * Keeps the bytes unless they are kept already, wholly or not at all; the value is their id.
   * Whoever has their hash already hands it over.
   */
  async put(bytes: Bytes, meta: RasterMeta, hash?: string): Promise<Result<string>> {
    const view = viewOf(bytes);
    return this.#use(async (db) => {
      const id = hash ?? (await contentHash(bytes));
      const transaction = db.transaction(['rasters', 'raster-parts'], 'readwrite');
      const done = stored(transaction);
      try {
        await this.#putOnce(transaction, { ...meta, id, byteLength: view.byteLength }, view);
      } catch (error) {
        done.catch(() => {});
        abort(transaction);
        // A request cut off by a full disk says only that it was cut off.
        throw transaction.error ?? error;
      }
      await done;
      return ok(id);
    });
  }

  /** Problems: `raster-missing`, `raster-damaged`, and those of the browser's storage. */
  async get(id: string): Promise<Result<StoredRaster>> {
    return this.#use(async (db) => {
      const transaction = db.transaction(['rasters', 'raster-parts'], 'readonly');
      const header = await answer<RasterHeader | undefined>(
        transaction.objectStore('rasters').get(id),
      );
      if (header === undefined) return { ok: false, problem: missingRaster(id) };
      const whole = new Uint8Array(header.byteLength);
      const parts = transaction.objectStore('raster-parts');
      let length = 0;
      for (let at = 0; at < header.byteLength; at += partBytes) {
        const part = await answer<Uint8Array | undefined>(parts.get([id, at / partBytes]));
        if (part === undefined || at + part.byteLength > header.byteLength) break;
        whole.set(part, at);
        length += part.byteLength;
      }
      if (length !== header.byteLength) return { ok: false, problem: damagedRaster(id) };
      return ok({ header, bytes: whole.buffer });
    });
  }

  async has(id: string): Promise<Result<boolean>> {
    return this.#use(async (db) => {
      const headers = db.transaction('rasters', 'readonly').objectStore('rasters');
      return ok((await answer(headers.getKey(id))) !== undefined);
    });
  }

  async list(): Promise<Result<RasterHeader[]>> {
    return this.#use(async (db) =>
      ok(
        await answer<RasterHeader[]>(
          db.transaction('rasters', 'readonly').objectStore('rasters').getAll(),
        ),
      ),
    );
  }

  /**
   * Throws away what no plan names; the value is how many went. Rasters stored at or after
   * `storedBefore` stay: a plan may be about to name them, or an undo in an open tab may.
   */
  async removeUnused(keepIds: Iterable<string>, storedBefore: number): Promise<Result<number>> {
    const keep = new Set(keepIds);
    return this.#use(async (db) => {
      const transaction = db.transaction(['rasters', 'raster-parts'], 'readwrite');
      const done = stored(transaction);
      const headers = transaction.objectStore('rasters');
      const parts = transaction.objectStore('raster-parts');
      const unused = (await answer<RasterHeader[]>(headers.getAll())).filter(
        (header) => !keep.has(header.id) && header.storedAt < storedBefore,
      );
      for (const { id, byteLength } of unused) {
        headers.delete(id);
        for (let at = 0; at < byteLength; at += partBytes) parts.delete([id, at / partBytes]);
      }
      await done;
      return ok(unused.length);
    });
  }

  close(): void {
    void this.#opening?.then((opened) => opened.ok && opened.value.close());
    this.#opening = null;
  }

  async #putOnce(
    transaction: IDBTransaction,
    header: Omit<RasterHeader, 'storedAt'>,
    view: Uint8Array,
  ): Promise<void> {
    const headers = transaction.objectStore('rasters');
    if ((await answer(headers.getKey(header.id))) !== undefined) return;
    const parts = transaction.objectStore('raster-parts');
    for (let at = 0; at < view.byteLength; at += partBytes) {
      await answer(parts.put(view.slice(at, at + partBytes), [header.id, at / partBytes]));
    }
    await answer(headers.put({ ...header, storedAt: this.#now() }));
  }

  async #use<T>(job: (db: IDBDatabase) => Promise<Result<T>>): Promise<Result<T>> {
    const opening = (this.#opening ??= openDatabase(this.#factory, () => {
      if (this.#opening === opening) this.#opening = null;
    }));
    const opened = await opening;
    if (!opened.ok) {
      if (this.#opening === opening) this.#opening = null;
      return opened;
    }
    try {
      return await job(opened.value);
    } catch (error) {
      return { ok: false, problem: rasterProblem(error) };
    }
  }
}

/** Nothing half-stored stays; a transaction that has ended by itself says so by throwing. */
function abort(transaction: IDBTransaction): void {
  try {
    transaction.abort();
  } catch {
    // Ended already.
  }
}

function rasterProblem(error: unknown): Problem {
  const problem = problemFromError(error, 'storage-failed');
  if (problem.code !== 'storage-full') return problem;
  return {
    ...storageProblem('storage-full'),
    what: 'There is no room left on this computer to keep this ground or photo.',
    wayOut: 'Free some disk space, then open the file again.',
  };
}

/** A plan names a raster that is not in this browser. */
export function missingRaster(id: string, name?: string): Problem {
  return {
    code: 'raster-missing',
    what: `${name === undefined ? 'A ground or photo' : `"${name}"`} is part of this plan but is not stored on this computer.`,
    wayOut: 'Open its file again; everything drawn is here.',
    where: id,
  };
}

function damagedRaster(id: string): Problem {
  return {
    code: 'raster-damaged',
    what: 'A stored ground or photo is damaged.',
    wayOut: 'Open its file again; everything drawn is here.',
    where: id,
  };
}
