import type { XY } from './raw-feature.ts';

/** How many steps of looking for the outline of a hole are still allowed. */
export interface RingBudget {
  steps: number;
}

export interface GroupedRings {
  /** Polygons in file order, each an outline and its holes. */
  readonly polygons: readonly XY[][][];
  /** Rings turned like holes that lie in no outline and were taken for outlines. */
  readonly loose: number;
}

interface Ring {
  readonly points: XY[];
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
  /** Above 0 where it runs counter-clockwise. */
  readonly area: number;
}

/**
 * Sorts the rings of a shapefile polygon into outlines with their holes: outlines run clockwise,
 * holes counter-clockwise (ESRI Shapefile Technical Description, 1998, p. 8), each hole belongs to
 * the smallest outline that holds it. A hole in no outline counts as an outline.
 * Returns null when the rings are too many to be sorted within the budget.
 */
export function groupRings(rings: readonly XY[][], budget: RingBudget): GroupedRings | null {
  const all = rings.map(describe);
  const outlines = all.filter((ring) => ring.area <= 0);
  const polygons = new Map<Ring, XY[][]>(outlines.map((ring) => [ring, [ring.points]]));
  const bySize = sortBySize(outlines);
  let loose = 0;
  for (const hole of all) {
    if (hole.area <= 0) continue;
    const outline = outlineOf(hole, bySize, budget);
    if (budget.steps < 0) return null;
    if (outline) polygons.get(outline)!.push(hole.points);
    else {
      polygons.set(hole, [hole.points]);
      loose++;
    }
  }
  return { polygons: [...polygons.values()], loose };
}

/** Outlines from the smallest, their sizes and boxes in flat arrays. */
interface BySize {
  readonly outlines: readonly Ring[];
  readonly sizes: Float64Array;
  readonly boxes: Float64Array;
}

function sortBySize(outlines: readonly Ring[]): BySize {
  const sorted = outlines.toSorted((a, b) => b.area - a.area);
  const boxes = new Float64Array(4 * sorted.length);
  sorted.forEach(({ west, south, east, north }, i) => boxes.set([west, south, east, north], 4 * i));
  return { outlines: sorted, sizes: Float64Array.from(sorted, (ring) => -ring.area), boxes };
}

/** The first from the smallest that holds the hole; none smaller than the hole itself can. */
function outlineOf(
  hole: Ring,
  { outlines, sizes, boxes }: BySize,
  budget: RingBudget,
): Ring | null {
  let [low, high] = [0, sizes.length];
  // A hole may fill its outline to the last digit or two.
  const least = hole.area * (1 - 1e-9);
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sizes[middle] < least) low = middle + 1;
    else high = middle;
  }
  const { west, south, east, north } = hole;
  for (let i = low; i < sizes.length && budget.steps >= 0; i++) {
    budget.steps--;
    const at = 4 * i;
    if (west < boxes[at] || south < boxes[at + 1]) continue;
    if (east > boxes[at + 2] || north > boxes[at + 3]) continue;
    if (holds(outlines[i].points, hole.points, budget)) return outlines[i];
  }
  return null;
}

/** Told by the first corner of the hole that does not lie on the outline itself. */
function holds(outline: readonly XY[], hole: readonly XY[], budget: RingBudget): boolean {
  for (const [x, y] of hole) {
    budget.steps -= outline.length;
    if (budget.steps < 0) return false;
    const side = sideOf(outline, x, y);
    if (side !== 0) return side > 0;
  }
  // All corners on the outline: the hole fills a bay of it or all of it.
  return true;
}

/** 1 inside, -1 outside, 0 on an edge. */
function sideOf(ring: readonly XY[], x: number, y: number): number {
  let isInside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[j];
    const turn = (bx - ax) * (y - ay) - (by - ay) * (x - ax);
    if (turn === 0 && isBetween(x, ax, bx) && isBetween(y, ay, by)) return 0;
    if (ay > y !== by > y && turn > 0 === by > ay) isInside = !isInside;
  }
  return isInside ? 1 : -1;
}

function isBetween(value: number, a: number, b: number): boolean {
  return value >= Math.min(a, b) && value <= Math.max(a, b);
}

function describe(points: XY[]): Ring {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  let twice = 0;
  const [ox, oy] = points[0] ?? [0, 0];
  for (let i = 0; i < points.length; i++) {
    const [x, y] = points[i];
    if (x < west) west = x;
    if (x > east) east = x;
    if (y < south) south = y;
    if (y > north) north = y;
    const [nx, ny] = points[(i + 1) % points.length];
    twice += (x - ox) * (ny - oy) - (nx - ox) * (y - oy);
  }
  return { points, west, south, east, north, area: twice / 2 };
}
