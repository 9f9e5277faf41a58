import type { XY } from '../../plan/overlay/arrangement.ts';

export interface WithoutDwells {
  readonly line: readonly XY[];
  readonly knots: number;
  /** Fixes that were taken together, less the one that stands for each knot. */
  readonly removed: number;
}

const LEAST_SECONDS = 40;

/**
 * Replaces each knot that a standing receiver draws by one point, the mean of its fixes. A knot is a
 * run of fixes within `radiusMeters` of its first that lasts 40 s or more; of fixes without times,
 * one that walks six radii without leaving. Metres of a plane, times in milliseconds.
 */
export function collapseDwells(
  line: readonly XY[],
  timesMs: Float64Array | null,
  radiusMeters: number,
): WithoutDwells {
  const out: XY[] = [];
  let knots = 0;
  let removed = 0;
  for (let i = 0; i < line.length;) {
    const end = lastWithin(line, i, radiusMeters);
    const seconds = timesMs ? (timesMs[end] - timesMs[i]) / 1000 : Number.NaN;
    const stands = Number.isNaN(seconds)
      ? lengthOf(line, i, end) > 6 * radiusMeters
      : seconds >= LEAST_SECONDS;
    if (stands && end > i + 1) {
      out.push(meanOf(line, i, end));
      knots++;
      removed += end - i;
      i = end + 1;
    } else out.push(line[i++]);
  }
  return { line: out, knots, removed };
}

function lastWithin(line: readonly XY[], from: number, radius: number): number {
  let end = from;
  const [x, y] = line[from];
  while (
    end + 1 < line.length &&
    Math.hypot(line[end + 1][0] - x, line[end + 1][1] - y) <= radius
  ) {
    end++;
  }
  return end;
}

function lengthOf(line: readonly XY[], from: number, to: number): number {
  let length = 0;
  for (let i = from + 1; i <= to; i++) {
    length += Math.hypot(line[i][0] - line[i - 1][0], line[i][1] - line[i - 1][1]);
  }
  return length;
}

function meanOf(line: readonly XY[], from: number, to: number): XY {
  let [x, y] = [0, 0];
  for (let i = from; i <= to; i++) {
    x += line[i][0];
    y += line[i][1];
  }
  const count = to - from + 1;
  return [x / count, y / count];
}
