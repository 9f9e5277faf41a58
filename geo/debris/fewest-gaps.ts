/** From, to. */
export type Stretch = readonly [from: number, to: number];

export interface StretchRules {
  readonly widthMeters: number;
  readonly spacingMeters: number;
  readonly leastPartMeters: number;
  readonly barred: readonly Stretch[];
}

/** Closer than this is the same place, metres. */
const SAME = 1e-9;

/**
 * Middles of the fewest gaps of one width in a stretch of berm (stations in metres) that leave no
 * part longer than the spacing or shorter than the least and touch no barred stretch, rising and
 * as evenly spread as can be; null where no gaps do. Exact: from the ends that k gaps can have, a
 * union of intervals, follow those that k + 1 can have. A stretch within the spacing needs none.
 * Example: 100 m, gaps of 4 m, parts up to 40 m: gaps at 32.7 and 67.3 m.
 */
export function fewestGaps([from, to]: Stretch, rules: StretchRules): number[] | null {
  const { widthMeters: width, spacingMeters: spacing, leastPartMeters: least } = rules;
  if (to - from <= spacing + SAME) return [];
  const starts = allowedStarts(from + least, to - width - least, rules);
  const last: Stretch = [to - spacing, to - least];
  let ends: Stretch[] = [[from, from]];
  const reached: Stretch[][] = [];
  const most = Math.ceil((to - from) / (width + least)) + 1;
  while (reached.length < most) {
    const reach = ends.map(([a, b]): Stretch => [a + least, b + spacing]);
    ends = meet(join(reach), starts).map(([a, b]): Stretch => [a + width, b + width]);
    if (ends.length === 0) return null;
    reached.push(ends);
    if (meet(ends, [last]).length > 0) return walkBack(reached, [from, to], rules);
  }
  return null;
}

/** Chooses the ends from the last gap back, each as near to its even place as may be. */
function walkBack(reached: readonly Stretch[][], [from, to]: Stretch, rules: StretchRules) {
  const { widthMeters: width, spacingMeters: spacing, leastPartMeters: least } = rules;
  const count = reached.length;
  const even = (to - from - count * width) / (count + 1);
  const middles: number[] = [];
  let next = to;
  for (let i = count - 1; i >= 0; i--) {
    const wished = from + (i + 1) * (even + width);
    const end = nearest(meet(reached[i]!, [[next - spacing, next - least]]), wished);
    middles.push(end - width / 2);
    next = end - width;
  }
  return middles.reverse();
}

function allowedStarts(first: number, last: number, { widthMeters, barred }: StretchRules) {
  let starts: Stretch[] = last >= first - SAME ? [[first, Math.max(first, last)]] : [];
  for (const [a, b] of barred) {
    if (!(b > a)) continue;
    starts = starts.flatMap(([s, e]): Stretch[] => {
      const [before, after] = [Math.min(e, a - widthMeters), Math.max(s, b)];
      if (before >= e || after <= s) return [[s, e]];
      return [...(before >= s ? [[s, before] as const] : []), ...(after <= e ? [[after, e] as const] : [])]; // prettier-ignore
    });
  }
  return starts;
}

/** Overlaps of two lists of intervals, rising; ones that only touch share a point. */
function meet(some: readonly Stretch[], others: readonly Stretch[]): Stretch[] {
  const shared: Stretch[] = [];
  for (const [a, b] of some) {
    for (const [c, d] of others) {
      const [start, end] = [Math.max(a, c), Math.min(b, d)];
      if (end >= start - SAME) shared.push([start, Math.max(start, end)]);
    }
  }
  return join(shared);
}

function join(intervals: readonly Stretch[]): Stretch[] {
  const joined: [number, number][] = [];
  for (const [a, b] of [...intervals].sort((p, q) => p[0] - q[0])) {
    const last = joined.at(-1);
    if (last && a <= last[1]) last[1] = Math.max(last[1], b);
    else joined.push([a, b]);
  }
  return joined;
}

function nearest(intervals: readonly Stretch[], wished: number): number {
  let best = NaN;
  for (const [a, b] of intervals) {
    const here = Math.min(b, Math.max(a, wished));
    if (!(Math.abs(here - wished) >= Math.abs(best - wished))) best = here;
  }
  return best;
}
