import type { XY } from '../../plan/overlay/arrangement.ts';

export interface Closure {
  /** First and last fix of the loop. */
  readonly from: number;
  readonly to: number;
  /** Between them, metres: what the straight closing piece bridges. */
  readonly gapMeters: number;
}

/** Beginning and end that may overlap, as a share of the whole length. */
const END_SHARE = 0.15;
const MOST_CANDIDATES = 400;

/**
 * Where a track that was walked round best closes: the pair of fixes, one from the first and one from
 * the last 15 % of its length, that lie nearest each other; what was walked before and after them is
 * overlap. Null for lines of fewer than four fixes. Metres of a plane.
 */
export function findClosure(line: readonly XY[]): Closure | null {
  if (line.length < 4) return null;
  const run = runningLength(line);
  const whole = run[run.length - 1];
  const heads = candidates(run, 0, END_SHARE * whole);
  const tails = candidates(run, (1 - END_SHARE) * whole, whole);
  let best: Closure = { from: 0, to: line.length - 1, gapMeters: gap(line, 0, line.length - 1) };
  for (const from of heads) {
    for (const to of tails) {
      const gapMeters = gap(line, from, to);
      if (to - from >= 3 && gapMeters < best.gapMeters) best = { from, to, gapMeters };
    }
  }
  return best;
}

function runningLength(line: readonly XY[]): Float64Array {
  const run = new Float64Array(line.length);
  for (let i = 1; i < line.length; i++) run[i] = run[i - 1] + gap(line, i - 1, i);
  return run;
}

/** Indices between two lengths, thinned evenly to a few hundred. */
function candidates(run: Float64Array, from: number, to: number): number[] {
  const all: number[] = [];
  for (let i = 0; i < run.length; i++) if (run[i] >= from && run[i] <= to) all.push(i);
  const step = Math.ceil(all.length / MOST_CANDIDATES);
  return all.filter((_, i) => i % step === 0 || i === all.length - 1);
}

function gap(line: readonly XY[], a: number, b: number): number {
  return Math.hypot(line[a][0] - line[b][0], line[a][1] - line[b][1]);
}
