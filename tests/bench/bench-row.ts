/** One line of the bench: our time, the reference's in the same run, and their ratio. */
export interface BenchRow {
  readonly name: string;
  /** Milliseconds, best of the runs named in `name`. */
  readonly ours: number;
  /** Milliseconds, or null where there is nothing to hold it against. */
  readonly reference: number | null;
  readonly referenceName: string;
  /** `ours / reference`. */
  readonly ratio: number | null;
  /** What the ratio or the time must keep to. */
  readonly bar?: string;
}
