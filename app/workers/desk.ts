import { answerKey } from '../../geo/answers/answer-key.ts';
import type { AnswerGraph, Job, Settled } from '../../geo/answers/graph.ts';
import type { Work } from '../../geo/work.ts';
import { breathe, sliceMilliseconds } from './slices.ts';

/**
 * The order of work inside the ground worker, one thing at a time: short answers about what was just
 * touched, then tiles (newest first, they are what the eye is on) and the slow answers of the whole
 * site turn by turn. Everything runs in slices, and between any two slices messages get in.
 */
export interface Desk {
  /** Something changed: stale answers are worked out anew. */
  wake(): void;
  /** Leaves answers of the whole site, and long ones of a feature, undone until `goOn`. */
  stop(): void;
  goOn(): void;
  /** Queues a short piece of work; it is left out if `dropped` says so when its turn comes. */
  addTile(task: TileTask): void;
  /** Resolves when nothing is left to do. */
  idle(): Promise<void>;
}

export interface TileTask {
  readonly dropped: () => boolean;
  readonly run: () => Promise<void> | void;
}

export interface DeskEvents {
  settled(settled: Settled): void;
  /** `key` names the answer (`answerKey`); share 1 means that every answer is current. */
  working(share: number, doing: string, key: string): void;
  failed(job: Job, error: unknown): void;
  /** Which answers a stopped desk leaves as they were, whenever that changes; null: it goes on. */
  left(keys: readonly string[] | null): void;
}

/** Work begun and not ended, by answer; good only while its fingerprint is the one wanted. */
type Parked = Map<
  string,
  { readonly fingerprint: string; readonly work: Work<unknown>; readonly slices: number }
>;

/** What takes longer, about a third of a second, is not begun again for a desk that is stopped. */
const SHORT_SLICES = 20;

export function createDesk(graph: AnswerGraph, events: DeskEvents): Desk {
  const tiles: TileTask[] = [];
  const parked: Parked = new Map();
  let running: Promise<void> | null = null;
  let stopped = false;
  let saidLeft: string | null = null;

  /** The next answer to work on; a stopped desk still answers shortly for what is being drawn. */
  function nextJob(): Job | null {
    return graph.next(events.settled, (job) => {
      if (!stopped) return true;
      const begun = parked.get(answerKey(job.name, job.featureId));
      const slices = begun?.fingerprint === job.fingerprint ? begun.slices : 0;
      return job.featureId !== null && slices < SHORT_SLICES;
    });
  }

  function sayLeft(): void {
    const left = graph.notCurrent();
    const key = left.join(' ');
    if (key === saidLeft) return;
    saidLeft = key;
    events.left(left);
  }

  async function run(): Promise<void> {
    let answered = false;
    let tileTurn = false;
    for (;;) {
      const job = nextJob();
      const tileFirst = tiles.length > 0 && (tileTurn || !job);
      if (tileFirst) {
        tileTurn = false;
        const task = tiles.pop()!;
        if (!task.dropped()) await task.run();
      } else if (job) {
        answered = true;
        // Slow answers share the thread with the tiles, turn by turn.
        const ended = runSlice(job);
        tileTurn = !ended || job.featureId === null;
      } else {
        break;
      }
      await breathe();
    }
    if (stopped) sayLeft();
    else parked.clear();
    if (answered) events.working(1, '', '');
  }

  /** True when the job has ended, well or badly. */
  function runSlice(job: Job): boolean {
    const key = answerKey(job.name, job.featureId);
    const kept = parked.get(key);
    const begun = kept?.fingerprint === job.fingerprint ? kept : null;
    const until = performance.now() + sliceMilliseconds;
    try {
      const work = begun?.work ?? job.begin();
      for (;;) {
        const step = work.next();
        if (step.done) {
          parked.delete(key);
          graph.done(job, step.value, events.settled);
          return true;
        }
        if (performance.now() >= until) {
          parked.set(key, { fingerprint: job.fingerprint, work, slices: (begun?.slices ?? 0) + 1 });
          events.working(step.value.share, step.value.doing, key);
          return false;
        }
      }
    } catch (error) {
      parked.delete(key);
      events.failed(job, error);
      graph.done(job, null, events.settled);
      return true;
    }
  }

  function wake(): void {
    running ??= run().finally(() => {
      running = null;
      // Something may have come in after the last look.
      if (tiles.length > 0 || nextJob()) wake();
    });
  }

  return {
    wake,
    stop() {
      stopped = true;
      sayLeft();
    },
    goOn() {
      if (stopped) events.left(null);
      stopped = false;
      saidLeft = null;
      wake();
    },
    addTile(task) {
      tiles.push(task);
      wake();
    },
    async idle() {
      while (running) await running;
    },
  };
}
