/** What an answer wants said: the same ones in the panel, on paper and from the command line. */
export interface Finding {
  readonly level: 'stop' | 'caution' | 'note';
  /** Ids of the features it is about; empty when it is about the site. */
  readonly about: readonly string[];
  /** Names the sentence; `app/words` holds the sentences. */
  readonly code: string;
  /** SI, with the unit in each key, e.g. `maxDepthMeters`. */
  readonly values: Readonly<Record<string, number | string | null>>;
}

/** How an answer was worked out; the panel shows it under "how this was worked out". */
export interface Basis {
  /** Plain sentences: the method, in order. `{stepMeters}` in any sentence: that input, in the plan's units. */
  readonly method: readonly string[];
  /** Published source of the method, or `common practice, no source`. */
  readonly source: string;
  /** SI, with the unit in each key. */
  readonly inputs: Readonly<Record<string, number | string | null>>;
  /** How far to trust it and why, in one sentence. */
  readonly confidence: string;
}
