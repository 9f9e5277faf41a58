import type { TileKind } from '../../layers/tiles/tile-kind.ts';
import { session } from '../store/session.ts';
import type { WorkerEvent } from '../workers/messages.ts';

/** Puts what the worker says into the session; new tiles go to the map. */
export function takeWorkerEvent(
  event: Exclude<WorkerEvent, { event: 'progress' }>,
  onTiles: (kinds: readonly TileKind[], version: string) => void,
): void {
  switch (event.event) {
    case 'site-answer':
      session.setState(({ site }) => ({
        site:
          event.answer === null
            ? without(site, event.name)
            : { ...site, [event.name]: event.answer },
      }));
      return;
    case 'feature-answer':
      session.setState(({ answers }) => {
        const before = answers[event.id] ?? {};
        const after =
          event.answer === null
            ? without(before, event.name)
            : { ...before, [event.name]: event.answer };
        return {
          answers:
            Object.keys(after).length > 0
              ? { ...answers, [event.id]: after }
              : without(answers, event.id),
        };
      });
      return;
    case 'working':
      session.setState({
        working: event.share >= 1 ? null : { share: event.share, doing: event.doing },
      });
      return;
    case 'failed':
      session.setState({ problem: event.problem });
      return;
    case 'tiles-changed':
      onTiles(event.kinds, event.version);
  }
}

function without<T extends object, K extends keyof T>(record: T, key: K): T {
  const { [key]: _gone, ...rest } = record;
  return rest as T;
}
