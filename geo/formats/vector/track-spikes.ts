import type { XY } from '../../plan/overlay/arrangement.ts';

export interface SpikeLimits {
  /** Distance between two fixes that error alone can make, metres. */
  readonly slackMeters: number;
}

/** Slower than this nothing is called too fast: a hurried walk. */
const LEAST_TOP_SPEED = 3;
/** So many fixes that agree with each other are a place and not a spike. */
const AGREEING_FIXES = 5;

/**
 * Marks the fixes of a track that stay: 1, and 0 for spikes. With times a fix is a spike that could
 * be reached from the last good one only faster than three times the median speed (at least 3 m/s)
 * and beyond the slack; five that agree with each other count as a jump of the recorder and stay.
 * With or without times a lone fix is one that strays by eight median steps and the slack and comes
 * straight back. Metres of a plane; times in milliseconds, NaN where unknown.
 */
export function keepWithoutSpikes(
  line: readonly XY[],
  timesMs: Float64Array | null,
  { slackMeters }: SpikeLimits,
): Uint8Array {
  const keep = new Uint8Array(line.length).fill(1);
  if (timesMs) rejectTooFast(line, timesMs, slackMeters, keep);
  rejectStrays(line, slackMeters, keep);
  return keep;
}

function rejectTooFast(
  line: readonly XY[],
  timesMs: Float64Array,
  slack: number,
  keep: Uint8Array,
): void {
  const top = topSpeed(line, timesMs);
  const isReached = (a: number, b: number) => {
    const seconds = (timesMs[b] - timesMs[a]) / 1000;
    // Fixes without a time cannot be too fast.
    return Number.isNaN(seconds) || apart(line[a], line[b]) <= top * Math.max(0, seconds) + slack;
  };
  let last = 0;
  /** First fix since the track last started afresh. */
  let start = 0;
  let run: number[] = [];
  for (let i = 1; i < line.length; i++) {
    if (isReached(last, i)) {
      last = i;
      run = [];
      continue;
    }
    if (run.length > 0 && !isReached(run[run.length - 1], i)) run = [];
    keep[i] = 0;
    run.push(i);
    if (run.length < AGREEING_FIXES) continue;
    // A handful of fixes before the jump were the spike, not those after it.
    let before = 0;
    for (let k = start; k <= last; k++) before += keep[k];
    if (before < AGREEING_FIXES) for (let k = start; k <= last; k++) keep[k] = 0;
    for (const k of run) keep[k] = 1;
    start = run[0];
    last = i;
    run = [];
  }
}

function rejectStrays(line: readonly XY[], slack: number, keep: Uint8Array): void {
  const kept: number[] = [];
  for (let i = 0; i < line.length; i++) if (keep[i] === 1) kept.push(i);
  const steps = kept.slice(1).map((k, i) => apart(line[kept[i]], line[k]));
  const limit = Math.max(slack, 8 * middle(steps));
  for (let i = 1; i + 1 < kept.length; i++) {
    const [before, at, after] = [line[kept[i - 1]], line[kept[i]], line[kept[i + 1]]];
    const out = apart(before, at);
    const back = apart(at, after);
    if (out > limit && back > limit && apart(before, after) < Math.min(out, back) / 2) {
      keep[kept[i]] = 0;
    }
  }
}

function topSpeed(line: readonly XY[], timesMs: Float64Array): number {
  const speeds: number[] = [];
  for (let i = 1; i < line.length; i++) {
    const seconds = (timesMs[i] - timesMs[i - 1]) / 1000;
    if (seconds > 0) speeds.push(apart(line[i - 1], line[i]) / seconds);
  }
  return Math.max(LEAST_TOP_SPEED, 3 * middle(speeds));
}

/** Middle value; 0 of nothing. */
function middle(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  return sorted.length === 0 ? 0 : sorted[sorted.length >> 1];
}

function apart([ax, ay]: XY, [bx, by]: XY): number {
  return Math.hypot(ax - bx, ay - by);
}
