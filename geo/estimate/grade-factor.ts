/** Published points of the graph that could be read: rise over run, factor (handbook §4.1). */
const points = [
  [-0.15, 1.3],
  [-0.1, 1.15],
  [0, 1],
] as const;

/** Uphill no point could be read: 2 % less for each 1 % (ours), down to the least. */
const UPHILL = 2;
const LEAST = 0.3;

/** How a factor was come by: between published points, held past the last, or by our own rule. */
export type GradeBasis = 'published' | 'past-published' | 'own-rule';

/**
 * Correction of a dozer's production for grade, rise over run along the push, above 0 uphill:
 * 1 on the level, 1.15 down 10 %, 1.30 down 15 % and steeper, straight between.
 * Throws RangeError for a grade that is no number.
 */
export function gradeFactor(grade: number): {
  readonly factor: number;
  readonly basis: GradeBasis;
} {
  if (!Number.isFinite(grade)) throw new RangeError(`a grade of ${grade}`);
  if (grade > 0) return { factor: Math.max(LEAST, 1 - UPHILL * grade), basis: 'own-rule' };
  const [steepest] = points;
  if (grade < steepest[0]) return { factor: steepest[1], basis: 'past-published' };
  const upper = points.findIndex(([at]) => at >= grade);
  const [b, a] = [points[upper]!, points[Math.max(0, upper - 1)]!];
  const share = a[0] === b[0] ? 1 : (grade - a[0]) / (b[0] - a[0]);
  return { factor: a[1] + (b[1] - a[1]) * share, basis: 'published' };
}
