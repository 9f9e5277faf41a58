import type { Taken } from './bench-ground.ts';

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

/** Two lines, by the clock and by the processor's time, which others on the machine disturb less. */
export function twoRows(
  name: string,
  ours: Taken,
  tool: string,
  reference: Taken | null | undefined,
  bar: string,
): BenchRow[] {
  const row = (how: string, mine: number, theirs: number | undefined): BenchRow => ({
    name: `${name}, ${how}`,
    ours: mine,
    reference: theirs ?? null,
    referenceName: theirs === undefined ? `${tool}: not installed` : tool,
    ratio: theirs === undefined ? null : mine / theirs,
    bar,
  });
  return [
    row('by the clock', ours.warm, reference?.warm),
    row('processor time', ours.processor, reference?.processor),
  ];
}

/** A line that holds no time: what was found, and what it must be. */
export function found(name: string, value: number, bar?: string): BenchRow {
  return { name, ours: value, reference: null, referenceName: 'none', ratio: null, bar: bar ?? '' };
}
