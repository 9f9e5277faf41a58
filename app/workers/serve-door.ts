import type { FromWorker, ToWorker } from './door.ts';
import type { RequestName, Requests, WorkerEvent } from './messages.ts';

/** The worker's side of the door: each request to its handler, stops to the request they name. */

export interface Asking {
  /** True once the page no longer wants the answer. */
  readonly stopped: () => boolean;
  progress(share: number, doing: string): void;
}

export type Handlers = {
  readonly [N in RequestName]: (
    input: Requests[N][0],
    asking: Asking,
  ) => Promise<Requests[N][1]> | Requests[N][1];
};

interface Scope {
  postMessage(message: FromWorker, transfer: Transferable[]): void;
  onmessage: ((event: MessageEvent<ToWorker>) => void) | null;
}

export interface ServedDoor {
  say(event: WorkerEvent): void;
}

/** Hands the outputs over without copying: what can be transferred out of them. */
function transfersOf(output: unknown): Transferable[] {
  if (typeof ImageBitmap !== 'undefined' && output instanceof ImageBitmap) return [output];
  return [];
}

export function serveDoor(scope: Scope, handlers: Handlers): ServedDoor {
  const stops = new Map<number, { stopped: boolean }>();
  const post = (message: FromWorker, transfer: Transferable[] = []) =>
    scope.postMessage(message, transfer);

  scope.onmessage = async ({ data }) => {
    if ('stop' in data) {
      const asked = stops.get(data.stop);
      if (asked) asked.stopped = true;
      return;
    }
    const { job, name, input } = data;
    const state = { stopped: false };
    stops.set(job, state);
    const asking: Asking = {
      stopped: () => state.stopped,
      progress: (share, doing) => post({ event: 'progress', job, share, doing }),
    };
    try {
      const handler = handlers[name] as (i: unknown, a: Asking) => unknown;
      const output = await handler(input, asking);
      post({ job, ok: true, output }, transfersOf(output));
    } catch (error) {
      post({ job, ok: false, message: error instanceof Error ? error.message : String(error) });
    } finally {
      stops.delete(job);
    }
  };
  post({ ready: true });
  return { say: (event) => post(event) };
}
