import fc from 'fast-check';
import { IDBFactory, IDBObjectStore } from 'fake-indexeddb';
import type { PlanChange, PlanDocument, PlanSnapshot } from '../app/document/plan-document.ts';
import type { PlanHost } from '../app/document/host.ts';
import type { TabPort } from '../app/document/tab-channel.ts';
import type { PlanFeature } from '../geo/plan/feature.ts';
import { parseFeature } from '../geo/plan/feature.ts';
import type { GroundRecord } from '../geo/raster/ground-record.ts';

/** Parts that the tests of the document share. All places and names are invented. */

export function stand(id: string, name = id, lng = -84.5): PlanFeature {
  const parsed = parseFeature({
    id,
    kind: 'stand',
    name,
    geometry: { type: 'Point', coordinates: [lng, 44.25] },
  });
  if (!parsed.ok) throw new RangeError(parsed.problem.what);
  return parsed.value;
}

export function ground(id: string, name = 'Bench'): GroundRecord {
  return {
    id,
    name,
    place: {
      width: 2,
      height: 2,
      west: 0,
      north: 0,
      cellWidth: 1,
      cellHeight: 1,
      frame: { epsg: 26916, name: 'UTM 16N', datum: 'NAD83', proj: '+proj=utm +zone=16' },
      cellGroundAreaSquareMeters: 1,
      convergenceDegrees: 0,
    },
    bounds: [-87, 44, -86, 45],
    surveyedOn: '2026-04-02',
    clearing: 'before-clearing',
    verticalErrorMeters: 0.1,
    vertical: { unit: 'metre', datum: 'NAVD88', epsg: 5703 },
    sourceCrsName: 'UTM 16N',
    sourceFiles: ['bench.tif'],
    sourceCellMeters: 1,
    notes: [],
  };
}

/** Few keys and few values, so that edits of two tabs meet on the same key all the time. */
export const anyChange: fc.Arbitrary<PlanChange> = fc
  .record(
    {
      features: fc.dictionary(
        fc.constantFrom('a', 'b', 'c', 'd', 'e'),
        fc.oneof(fc.constant(null), fc.integer({ min: 0, max: 6 })),
        { minKeys: 1, maxKeys: 3 },
      ),
      settings: fc.record(
        {
          siteName: fc.constantFrom('', 'North bench', 'South bench'),
          units: fc.constantFrom('us' as const, 'metric' as const),
          listMinDepthMeters: fc.constantFrom(0.05, 0.1),
        },
        { requiredKeys: [] },
      ),
      grounds: fc.dictionary(
        fc.constantFrom('0'.repeat(64), '1'.repeat(64)),
        fc.constantFrom(null, 'Bench', 'Bench after'),
        { maxKeys: 1 },
      ),
    },
    { requiredKeys: [] },
  )
  .map(({ features = {}, settings = {}, grounds = {} }) => ({
    features: mapValues(features, (id, n) => (n === null ? null : stand(id, `${id}${n}`, -84 - n))),
    settings,
    grounds: mapValues(grounds, (id, name) => (name === null ? null : ground(id, name))),
  }));

function mapValues<A, B>(
  record: Record<string, A>,
  change: (key: string, value: A) => B,
): Record<string, B> {
  return Object.fromEntries(Object.entries(record).map(([k, v]) => [k, change(k, v)]));
}

/** The undoable part of a plan as text: equal text, equal plan. */
export function canonical({ features, settings, grounds, photos }: PlanSnapshot): string {
  return JSON.stringify({ features, settings, grounds, photos }, sortKeys);
}

function sortKeys(_: string, value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}

export function apply(document: PlanDocument, change: PlanChange): boolean {
  const done = document.transact(change);
  if (!done.ok) throw new RangeError(done.problem.what);
  return done.value;
}

/** A browser: one store and one set of channels, for as many tabs as are opened in it. */
export class TestBrowser {
  readonly indexedDB = new IDBFactory();
  now = 1_780_000_000_000;
  /** Says of each message whether it is lost. */
  lose: (message: unknown) => boolean = () => false;
  #tabs = 0;
  readonly #ports = new Map<string, Set<LocalPort>>();

  host(change: Partial<PlanHost> = {}): PlanHost {
    return {
      indexedDB: this.indexedDB,
      openPort: (name) => this.#openPort(name),
      newId: () => `tab-${++this.#tabs}`,
      now: () => this.now,
      watchPage: () => () => {},
      ...change,
    };
  }

  #openPort(name: string): TabPort {
    const ports = this.#ports.get(name) ?? new Set();
    this.#ports.set(name, ports);
    const port: LocalPort = {
      onmessage: null,
      postMessage: (message) => {
        for (const other of ports) {
          if (other === port || this.lose(message)) continue;
          const data = structuredClone(message);
          setImmediate(() => other.onmessage?.({ data } as MessageEvent));
        }
      },
      close: () => ports.delete(port),
    };
    ports.add(port);
    return port;
  }
}

interface LocalPort extends TabPort {
  onmessage: ((event: MessageEvent) => void) | null;
}

/** Lets all messages and stored writes that are under way arrive. */
export async function settle(rounds = 30): Promise<void> {
  for (let i = 0; i < rounds; i++) await new Promise((resolve) => setImmediate(resolve));
}

/**
 * A full disk: `add` and `put` are taken, then the transaction ends with the error that browsers
 * give (IndexedDB 3.0, "commit a transaction"). Returns how to make room again.
 */
export function fillDisk(): () => void {
  const { add, put } = IDBObjectStore.prototype;
  const refused = new WeakSet<IDBTransaction>();
  const refuse = (write: typeof add) =>
    function (this: IDBObjectStore, ...args: Parameters<typeof add>) {
      const request = write.apply(this, args);
      const transaction = this.transaction;
      if (refused.has(transaction)) return request;
      refused.add(transaction);
      const error = new DOMException('no room', 'QuotaExceededError');
      Object.defineProperty(transaction, 'error', { get: () => error, set: () => {} });
      transaction.commit = () => {};
      queueMicrotask(() => transaction.abort());
      return request;
    };
  IDBObjectStore.prototype.add = refuse(add);
  IDBObjectStore.prototype.put = refuse(put);
  return () => Object.assign(IDBObjectStore.prototype, { add, put });
}
