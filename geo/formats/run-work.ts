import type { Work } from '../work.ts';
import type { Reading } from './opening.ts';

/** The user stopped it. Travels inside `formats/` up to the door, which makes a problem of it. */
export class ReadingStopped extends Error {}

/** Runs long work between two reads: tells progress, lets the caller breathe, hears a stop. */
export async function runWork<T>(work: Work<T>, reading: Reading): Promise<T> {
  for (;;) {
    if (reading.shouldStop?.()) throw new ReadingStopped();
    const step = work.next();
    if (step.done) return step.value;
    await reading.onProgress?.(step.value);
  }
}
