import {
  decodeBlock,
  type BlockDecoder,
  type BlockParams,
} from '../../geo/formats/geotiff/decode-block.ts';

/**
 * A few workers that unpack GeoTIFF blocks, made from inside the ground worker. One pool per app.
 * Where workers cannot be had or do not answer, the same function runs in the calling thread; a
 * worker that breaks down later rejects everything that is waiting, and the pool works on alone.
 */
export interface DecodePool extends BlockDecoder {
  /** Ends the workers; what is waiting is rejected. */
  close(): void;
}

export interface ToDecodeWorker {
  readonly job: number;
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly params: BlockParams;
  /** Memory of an earlier block to unpack into. */
  readonly spare?: ArrayBuffer;
}

export type FromDecodeWorker =
  | { readonly ready: true }
  | { readonly job: number; readonly ok: true; readonly block: ArrayBuffer }
  | { readonly job: number; readonly ok: false; readonly message: string };

interface Job extends ToDecodeWorker {
  readonly resolve: (block: ArrayBuffer) => void;
  readonly reject: (error: Error) => void;
}

interface Lane {
  readonly worker: Worker;
  readonly busy: Map<number, Job>;
}

export interface PoolChoices {
  readonly lanes?: number;
  readonly handshakeMilliseconds?: number;
  readonly makeWorker?: () => Worker;
}

const MOST_LANES = 4;
/** Jobs given to a worker ahead, so that it never waits for the next. */
const AHEAD = 2;

const makeDecodeWorker = () =>
  new Worker(new URL('./decode-worker.ts', import.meta.url), { type: 'module' });

export function createDecodePool(choices: PoolChoices = {}): DecodePool {
  const cores = globalThis.navigator?.hardwareConcurrency ?? 2;
  const lanes = choices.lanes ?? Math.max(1, Math.min(cores, MOST_LANES));
  const queue: Job[] = [];
  const spares: ArrayBuffer[] = [];
  const ready: Lane[] = [];
  const made: Worker[] = [];
  let state: 'unopened' | 'opening' | 'open' | 'alone' = 'unopened';
  let handshake: ReturnType<typeof setTimeout> | undefined;
  let lastJob = 0;

  const closeWorkers = (why: string) => {
    clearTimeout(handshake);
    for (const worker of made.splice(0)) worker.terminate();
    const lost = ready.splice(0).flatMap((lane) => [...lane.busy.values()]);
    for (const job of lost) job.reject(new Error(why));
  };
  /** Workers never came: what waits is unpacked here, nothing is lost. */
  const goAlone = () => {
    state = 'alone';
    closeWorkers('no decode worker');
    for (const job of queue.splice(0)) {
      decodeBlock(job.bytes, job.params).then(job.resolve, job.reject);
    }
  };
  const breakDown = (why: string) => {
    if (state === 'opening' && ready.length === 0) return goAlone();
    if (state === 'alone') return;
    state = 'alone';
    const waiting = queue.splice(0);
    closeWorkers(why);
    for (const job of waiting) job.reject(new Error(why));
  };

  const feed = () => {
    for (;;) {
      const lane = ready.reduce<Lane | undefined>(
        (a, b) => (a && a.busy.size <= b.busy.size ? a : b),
        undefined,
      );
      if (!lane || lane.busy.size >= AHEAD) return;
      const job = queue.shift();
      if (!job) return;
      lane.busy.set(job.job, job);
      const { bytes, params } = job;
      const spare = spares.pop();
      const message: ToDecodeWorker = { job: job.job, bytes, params, ...(spare && { spare }) };
      lane.worker.postMessage(message, spare ? [bytes.buffer, spare] : [bytes.buffer]);
    }
  };

  const openLane = (worker: Worker) => {
    const lane: Lane = { worker, busy: new Map() };
    worker.onerror = (event) => {
      event.preventDefault?.();
      breakDown(`A decode worker stopped: ${event.message || 'no reason given'}`);
    };
    worker.onmessageerror = () => breakDown('A decode worker sent something unreadable');
    worker.onmessage = ({ data }: MessageEvent<FromDecodeWorker>) => {
      if ('ready' in data) {
        if (state === 'opening') state = 'open';
        clearTimeout(handshake);
        ready.push(lane);
      } else {
        const job = lane.busy.get(data.job);
        lane.busy.delete(data.job);
        if (data.ok) job?.resolve(data.block);
        else job?.reject(new Error(data.message));
      }
      feed();
    };
  };

  const open = () => {
    state = 'opening';
    const make = choices.makeWorker ?? makeDecodeWorker;
    try {
      for (let i = 0; i < lanes; i++) {
        const worker = make();
        made.push(worker);
        openLane(worker);
      }
    } catch {
      // No workers in this place (Node, an old browser without nested ones).
      return goAlone();
    }
    handshake = setTimeout(goAlone, choices.handshakeMilliseconds ?? 5_000);
  };

  return {
    lanes,
    decode(bytes, params) {
      if (state === 'unopened') open();
      if (state === 'alone') return decodeBlock(bytes, params);
      return new Promise((resolve, reject) => {
        queue.push({ job: ++lastJob, bytes, params, resolve, reject });
        feed();
      });
    },
    giveBack(block) {
      if (state === 'open' && spares.length < lanes * AHEAD) spares.push(block);
    },
    close() {
      spares.length = 0;
      breakDown('The decode pool was closed');
      closeWorkers('The decode pool was closed');
      state = 'alone';
    },
  };
}
