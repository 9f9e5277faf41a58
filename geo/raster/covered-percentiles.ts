import type { CellField } from './cell-window.ts';
import { eachCoveredRun, type CoveredCells } from './covered-cells.ts';

/**
 * Percentiles of a field over covered cells, each cell weighing its share: for every `p` in
 * `shares` (0 to 1) the smallest value such that the cells at or below it weigh at least p of all
 * (inverse of the weighted distribution: type 1 of Hyndman & Fan 1996, The American Statistician
 * 50:361-365). So a percentile is always a value that a cell has.
 * Cells without data are left out; NaN when none is left. No sort: counts by the upper and then the
 * lower 16 bits of the value, so time is linear in the cells. Throws RangeError for p outside 0..1.
 * Example: values 1 2 3 4, each whole: 0.5 gives 2, 0.9 gives 4.
 */
export function coveredPercentiles(
  field: CellField,
  covered: CoveredCells,
  shares: readonly number[],
): number[] {
  const wrong = shares.find((p) => !(p >= 0 && p <= 1));
  if (wrong !== undefined) throw new RangeError(`percentile share ${wrong} is not within 0 to 1`);
  const upper = new Float64Array(65536);
  let total = 0;
  eachCoveredRun(covered, field, (data, from, to, share) => {
    for (let i = from; i < to; i++) upper[sortKey(data[i]!) >>> 16]! += share;
    total += (to - from) * share;
  });
  if (total === 0) return shares.map(() => NaN);
  const lower = new Float64Array(65536);
  return shares.map((p) => {
    // The slack keeps a sum of shares that misses p by rounding from going one value too far.
    const target = p * total - 1e-12 * total;
    const first = firstReaching(upper, 0, target);
    lower.fill(0);
    eachCoveredRun(covered, field, (data, from, to, share) => {
      for (let i = from; i < to; i++) {
        const key = sortKey(data[i]!);
        if (key >>> 16 === first.bucket) lower[key & 0xffff]! += share;
      }
    });
    const second = firstReaching(lower, first.before, target);
    return valueOfKey(((first.bucket << 16) | second.bucket) >>> 0);
  });
}

/** First non-empty bucket at which the running sum reaches the target; the last one if none does. */
function firstReaching(buckets: Float64Array, start: number, target: number) {
  let running = start;
  let last = { bucket: 0, before: start };
  for (let bucket = 0; bucket < buckets.length; bucket++) {
    if (buckets[bucket] === 0) continue;
    last = { bucket, before: running };
    running += buckets[bucket]!;
    if (running >= target) return last;
  }
  return last;
}

const float = new Float32Array(1);
const bits = new Uint32Array(float.buffer);

/** 32 bits of the value, arranged so that they sort as the values do; -0 counts as 0. */
function sortKey(value: number): number {
  float[0] = value + 0;
  const b = bits[0]!;
  return (b & 0x80000000 ? ~b : b | 0x80000000) >>> 0;
}

function valueOfKey(key: number): number {
  bits[0] = key & 0x80000000 ? key & 0x7fffffff : ~key;
  return float[0]!;
}
