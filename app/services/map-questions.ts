import type { MapEvents } from '../../layers/map-controller.ts';
import { session } from '../store/session.ts';
import { StoppedError, type Door } from '../workers/door.ts';
import type { Requests } from '../workers/messages.ts';

/** Asks the worker until the map no longer wants the answer; null then. */
export async function askUntil<N extends 'tile' | 'contourLabels'>(
  door: Door,
  name: N,
  order: Requests[N][0],
  signal: AbortSignal,
): Promise<Requests[N][1] | null> {
  const asked = door.ask(name, order);
  const stop = () => asked.stop();
  signal.addEventListener('abort', stop);
  try {
    return await asked.answer;
  } catch (error) {
    if (error instanceof StoppedError) return null;
    throw error;
  } finally {
    signal.removeEventListener('abort', stop);
  }
}

/** Asks for what is under the pointer, one question at a time, the latest place only. */
export function pointerProbe(door: Door): MapEvents['onPointer'] {
  let asking = false;
  let next: { lng: number; lat: number } | null = null;
  const ask = async () => {
    asking = true;
    while (next) {
      const place = next;
      next = null;
      try {
        const probe = await door.ask('probe', place).answer;
        session.setState({ pointer: { ...place, ...probe } });
      } catch {
        session.setState({ pointer: null });
      }
    }
    asking = false;
  };
  return (place) => {
    next = place;
    if (!place) session.setState({ pointer: null });
    else if (!asking) void ask();
  };
}
