/**
 * Long work in `geo/` is a generator that yields how far it is, once per band of rows.
 * Whoever runs it decides when to pause and when to drop it; a kernel knows no signal.
 */

/** Share done, 0 to 1, and what is being done, for the progress line. */
export interface Progress {
  readonly share: number;
  readonly doing: string;
}

export type Work<T> = Generator<Progress, T, void>;

/** Runs long work to its end without a pause: for tests, the command line and short grids. */
export function finish<T>(work: Work<T>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

/**
 * The same work as a part of longer work: its progress lies between two shares of the whole, 0 to 1,
 * and never goes back, though it may be put together of several works itself.
 * `doing`: what is said in place of its own words. 0.5 of a work between 0.2 and 0.4 is 0.3.
 */
export function* partOf<T>(work: Work<T>, from: number, to: number, doing?: string): Work<T> {
  let reached = from;
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
    reached = Math.max(reached, from + (to - from) * step.value.share);
    yield { share: reached, doing: doing ?? step.value.doing };
  }
}
