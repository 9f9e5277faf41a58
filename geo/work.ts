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
