import type { TileKind } from '../../layers/tiles/tile-kind.ts';
import { session, type Session } from '../store/session.ts';
import type { WorkerEvent } from '../workers/messages.ts';

type Event = Exclude<WorkerEvent, { event: 'progress' }>;
type Answered = Extract<Event, { event: 'site-answer' | 'feature-answer' | 'working' | 'left' }>;

/** About two frames: an edit of a large plan settles hundreds of answers, and the page draws once. */
const gatherMilliseconds = 32;

/**
 * Puts what the worker says into the session; new tiles go to the map. The first answer after a pause
 * is put there at once, those that follow it closely all together.
 */
export function takeWorkerEvents(
  onTiles: (kinds: readonly TileKind[], version: string) => void,
): (event: Event) => void {
  let gathered: { readonly event: Answered; readonly turn: number }[] = [];
  let closedUntil = 0;

  const flush = () => {
    const { turns } = session.getState();
    // What was said of a project that has gone off the screen meanwhile is of no use.
    const events = gathered.filter(({ turn }) => turn === turns).map(({ event }) => event);
    gathered = [];
    closedUntil = performance.now() + gatherMilliseconds;
    session.setState((now) => taken(now, events));
  };

  return (event) => {
    switch (event.event) {
      case 'failed':
        session.setState({ problem: event.problem });
        return;
      case 'tiles-changed':
        onTiles(event.kinds, event.version);
        return;
      default:
    }
    if (gathered.push({ event, turn: session.getState().turns }) > 1) return;
    const wait = closedUntil - performance.now();
    if (wait > 0) setTimeout(flush, wait);
    else flush();
  };
}

function taken(
  now: Session,
  events: readonly Answered[],
): Partial<Pick<Session, 'site' | 'answers' | 'working' | 'left'>> {
  let { site, answers, working, left } = now;
  for (const event of events) {
    switch (event.event) {
      case 'site-answer':
        site = withAnswer(site, event.name, event.answer);
        break;
      case 'feature-answer': {
        const of = withAnswer(answers[event.id] ?? {}, event.name, event.answer);
        answers = withAnswer(answers, event.id, Object.keys(of).length > 0 ? of : null);
        break;
      }
      case 'left':
        left = event.keys && new Set(event.keys);
        break;
      default:
        working = event.share >= 1 ? null : { share: event.share, doing: event.doing, key: event.key }; // prettier-ignore
    }
  }
  return { site, answers, working, left };
}

function withAnswer<T extends object, K extends keyof T>(record: T, key: K, value: T[K] | null): T {
  if (value !== null) return { ...record, [key]: value };
  const { [key]: _gone, ...rest } = record;
  return rest as T;
}
