import type { VectorChoices } from '../../geo/formats/vector/vector-types.ts';
import { session } from '../store/session.ts';
import { StoppedError, type Asked } from '../workers/door.ts';
import type { DrawingOpening, GroundChoices, GroundOpening } from '../workers/messages.ts';
import type { PlanAtHand } from './current-project.ts';

/** What the user has said of files that do not say it themselves. */
export type Said = GroundChoices & VectorChoices;

type Tell = (share: number, doing: string) => void;
type Opening = GroundOpening | DrawingOpening;
type Taken<O> = Exclude<O, { kind: 'ask' | 'refused' }>;

/** One thing to open. */
export interface Reading {
  readonly name: string;
  readonly ask: (said: Said, tell: Tell) => Asked<Opening>;
  /** Opened wholly: it goes into the plan, or in front of the user. */
  readonly take: (opened: Opening) => void | Promise<void>;
}

/** A reading whose `take` knows what it gets. */
export function reading<O extends Opening>(of: {
  readonly name: string;
  readonly ask: (said: Said, tell: Tell) => Asked<O>;
  readonly take: (opened: Taken<O>) => void | Promise<void>;
}): Reading {
  return { ...of, take: (opened) => of.take(opened as Taken<O>) };
}

export interface OpeningQueue {
  /** Opens these one after the other, in place of what was being opened. */
  begin(readings: readonly Reading[]): void;
  /** Adds to what was already answered, and reads on. */
  answer(said: Said): void;
  /** Leaves the question or the refusal; the next one begins. */
  leave(): void;
}

/** Reads one thing after the other: progress, questions one at a time, refusals. */
export function openingQueue(plan: PlanAtHand): OpeningQueue {
  let waiting: Reading[] = [];
  let current: Reading | null = null;
  let said: Said = {};
  let asked: Asked<unknown> | null = null;

  function next(): void {
    current = waiting.shift() ?? null;
    said = {};
    if (current) void read(current);
  }

  async function read(one: Reading): Promise<void> {
    const { name } = one;
    const { document } = plan;
    const stop = () => {
      waiting = [];
      asked?.stop();
    };
    const show: Tell = (share, doing) => {
      if (current === one)
        session.setState({ opening: { state: 'reading', share, doing, name, stop } });
    };
    const own = one.ask(said, show);
    asked = own;
    show(0, 'reading');
    try {
      const opening = await own.answer;
      // Another project has come onto the screen meanwhile, or another file in its place.
      if (current !== one) return;
      if (plan.document !== document) {
        waiting = [];
        return leave();
      }
      if (opening.kind === 'ask') {
        session.setState({ opening: { state: 'asking', opening, name } });
      } else if (opening.kind === 'refused') {
        session.setState({ opening: { state: 'refused', problem: opening.problem, name } });
      } else {
        session.setState({ opening: null });
        await one.take(opening);
        if (current === one) next();
      }
    } catch (error) {
      if (current !== one) return;
      if (error instanceof StoppedError) return leave();
      session.setState({
        opening: {
          state: 'refused',
          name,
          problem: {
            code: 'opening-failed',
            what: error instanceof Error ? error.message : String(error),
            wayOut: 'Reload the page and open it again. What you drew is saved.',
          },
        },
      });
    }
  }

  function leave(): void {
    session.setState({ opening: null });
    next();
  }

  return {
    begin(readings) {
      current = null;
      asked?.stop();
      waiting = [...readings];
      next();
    },
    answer(more) {
      said = { ...said, ...more };
      if (current) void read(current);
    },
    leave,
  };
}
