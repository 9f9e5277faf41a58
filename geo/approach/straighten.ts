import type { CostSurface } from './least-cost.ts';
import { lineCost, wayCost, type CellPoint } from './line-cost.ts';

/** A corner is tried against so many corners before it. */
const LOOK_BACK = 24;
/** Halving the pieces and straightening again stops when it gains less than this share. */
const LEAST_GAIN = 1e-3;
const MOST_ROUNDS = 4;

/**
 * A way of steps from cell to cell as few straight pieces, that cost no more and enter no barred
 * cell: of all ways over a choice of its corners the cheapest (dynamic programming over the last
 * 24), then the same with the middles of the pieces as further corners, until little is gained. The
 * ends stay. Costs are `lineCost`'s. On ground that costs the same everywhere one straight line.
 */
export function straighten(surface: CostSurface, way: readonly CellPoint[]): CellPoint[] {
  let now = cheapestCorners(surface, withoutStraightCorners(way));
  let cost = wayCost(surface, now);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const tried = cheapestCorners(surface, withMiddles(now));
    const triedCost = wayCost(surface, tried);
    if (!(triedCost < cost * (1 - LEAST_GAIN))) break;
    now = tried;
    cost = triedCost;
  }
  return now;
}

/** Passes until no corner more can be left out. */
function cheapestCorners(surface: CostSurface, way: readonly CellPoint[]): CellPoint[] {
  let now = [...way];
  for (;;) {
    const next = onePass(surface, now);
    if (next.length === now.length) return next;
    now = next;
  }
}

function onePass(surface: CostSurface, way: readonly CellPoint[]): CellPoint[] {
  const best = new Float64Array(way.length).fill(Infinity);
  const from = new Int32Array(way.length);
  best[0] = 0;
  for (let j = 1; j < way.length; j++) {
    for (let i = j - 1; i >= 0 && i >= j - LOOK_BACK; i--) {
      // Ties go to the longer piece: fewer corners.
      const most = best[j]! - best[i]!;
      const cost = lineCost(surface, way[i]!, way[j]!, most * (1 + 1e-9));
      if (cost === Infinity) continue;
      best[j] = Math.min(best[j]!, best[i]! + cost);
      from[j] = i;
    }
  }
  const kept: CellPoint[] = [];
  for (let j = way.length - 1; j > 0; j = from[j]!) kept.push(way[j]!);
  kept.push(way[0]!);
  return kept.reverse();
}

function withMiddles(way: readonly CellPoint[]): CellPoint[] {
  const points = [way[0]!];
  for (let i = 1; i < way.length; i++) {
    const [a, b] = [way[i - 1]!, way[i]!];
    // In thirds, so that both ends of a piece can move on their own; none shorter than a cell.
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const parts = length > 3 ? 3 : 1;
    for (let k = 1; k < parts; k++) {
      points.push([a[0] + ((b[0] - a[0]) * k) / parts, a[1] + ((b[1] - a[1]) * k) / parts]);
    }
    points.push(b);
  }
  return points;
}

function withoutStraightCorners(way: readonly CellPoint[]): CellPoint[] {
  return way.filter((p, i) => {
    if (i === 0 || i === way.length - 1) return true;
    const [a, b] = [way[i - 1]!, way[i + 1]!];
    return (p[0] - a[0]) * (b[1] - p[1]) !== (p[1] - a[1]) * (b[0] - p[0]);
  });
}
