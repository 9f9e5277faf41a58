import type { RequestName, Requests, WorkerEvent } from './messages.ts';

/**
 * The page's side of the one worker door: typed requests with answers, stops, and what the worker
 * says unasked. A worker that fails to load or crashes rejects everything that is waiting: nothing
 * hangs.
 */

/** What goes over: requests with a number, and stops for that number. */
export type ToWorker =
  | { readonly job: number; readonly name: RequestName; readonly input: unknown }
  | { readonly stop: number };

export type FromWorker =
  | { readonly ready: true }
  | { readonly job: number; readonly ok: true; readonly output: unknown }
  | { readonly job: number; readonly ok: false; readonly message: string }
  | WorkerEvent;

/** A request that was stopped before its answer came. */
export class StoppedError extends Error {
  override readonly name = 'StoppedError';
}

export interface Asked<T> {
  readonly answer: Promise<T>;
  readonly stop: () => void;
}

export interface Door {
  ask<N extends RequestName>(
    name: N,
    input: Requests[N][0],
    onProgress?: (share: number, doing: string) => void,
  ): Asked<Requests[N][1]>;
  close(): void;
}

interface Waiting {
  readonly resolve: (value: never) => void;
  readonly reject: (error: Error) => void;
  readonly onProgress: ((share: number, doing: string) => void) | undefined;
}

/** Time that a worker may take to say that it is there; jobs themselves have no limit. */
const handshakeMilliseconds = 20_000;

export function createDoor(
  worker: Worker,
  onEvent: (event: Exclude<WorkerEvent, { event: 'progress' }>) => void,
): Door {
  const waiting = new Map<number, Waiting>();
  let lastJob = 0;
  let broken: Error | null = null;

  const breakDown = (why: string) => {
    clearTimeout(handshake);
    broken = new Error(why);
    for (const { reject } of waiting.values()) reject(broken);
    waiting.clear();
  };
  const handshake = setTimeout(
    () => breakDown('The part of Assart that computes did not start. Reload the page.'),
    handshakeMilliseconds,
  );
  worker.onerror = (event) =>
    breakDown(`The part of Assart that computes stopped: ${event.message || 'no reason given'}.`);
  worker.onmessageerror = () =>
    breakDown('The part of Assart that computes sent something unreadable.');
  worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
    if ('ready' in data) return clearTimeout(handshake);
    if ('event' in data) {
      if (data.event === 'progress') waiting.get(data.job)?.onProgress?.(data.share, data.doing);
      else onEvent(data);
      return;
    }
    const asked = waiting.get(data.job);
    waiting.delete(data.job);
    if (!asked) return;
    if (data.ok) asked.resolve(data.output as never);
    else asked.reject(new Error(data.message));
  };

  return {
    ask(name, input, onProgress) {
      const job = ++lastJob;
      const answer = new Promise<never>((resolve, reject) => {
        if (broken) return reject(broken);
        waiting.set(job, { resolve, reject, onProgress });
        worker.postMessage({ job, name, input } satisfies ToWorker);
      });
      return {
        answer,
        stop() {
          const asked = waiting.get(job);
          if (!asked) return;
          waiting.delete(job);
          worker.postMessage({ stop: job } satisfies ToWorker);
          asked.reject(new StoppedError(`${name} was stopped`));
        },
      };
    },
    close() {
      breakDown('The page closed its worker.');
      worker.terminate();
    },
  };
}
