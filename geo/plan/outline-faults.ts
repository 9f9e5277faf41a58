import type { Position } from './feature.ts';

/** What can be wrong with a drawn outline beyond its shape being a ring. */
export interface OutlineFault {
  readonly fault: 'crosses-itself' | 'no-area' | 'hole-outside';
  /** Where two edges cross; the first corner of a hole outside or of what has no area. */
  readonly at: Position;
}

/**
 * Finds why an outline encloses no clear piece of ground: two of its edges cross or touch, its
 * corners lie on one line, or a hole lies outside it. Null where it is sound.
 * Positions are longitude and latitude in degrees; edges are taken as straight in them, which for
 * outlines of a few miles is the same question as on the ground. O(n²) in the corners, with a
 * bounding test first: 2,000 corners take a few milliseconds.
 */
export function findOutlineFault(rings: readonly (readonly Position[])[]): OutlineFault | null {
  const outer = rings[0] ?? [];
  if (liesOnOneLine(outer)) return { fault: 'no-area', at: outer[0] ?? [0, 0] };
  const edges = rings.flatMap(toEdges);
  for (let i = 0; i < edges.length; i++) {
    for (let j = i + 1; j < edges.length; j++) {
      const at = meeting(edges[i]!, edges[j]!);
      if (at) return { fault: 'crosses-itself', at };
    }
  }
  // No edges cross, so one corner of a hole speaks for all of it.
  const astray = rings.slice(1).find((hole) => hole.length > 0 && !holds(outer, hole[0]!));
  return astray ? { fault: 'hole-outside', at: astray[0]! } : null;
}

function holds(ring: readonly Position[], [x, y]: Position): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[j]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

interface Edge {
  readonly a: Position;
  readonly b: Position;
  readonly next: Edge | null;
}

function toEdges(positions: readonly Position[]): Edge[] {
  const edges: { a: Position; b: Position; next: Edge | null }[] = [];
  for (let i = 0; i + 1 < positions.length; i++) {
    const a = positions[i]!;
    const b = positions[i + 1]!;
    // A corner given twice makes no edge and is no fault.
    if (!same(a, b)) edges.push({ a, b, next: null });
  }
  edges.forEach((edge, i) => (edge.next = edges[(i + 1) % edges.length]!));
  return edges;
}

function same(a: Position, b: Position): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

/** Where two edges meet, other than neighbours at their shared corner; null where they do not. */
function meeting(p: Edge, q: Edge): Position | null {
  if (
    Math.max(p.a[0], p.b[0]) < Math.min(q.a[0], q.b[0]) ||
    Math.max(q.a[0], q.b[0]) < Math.min(p.a[0], p.b[0]) ||
    Math.max(p.a[1], p.b[1]) < Math.min(q.a[1], q.b[1]) ||
    Math.max(q.a[1], q.b[1]) < Math.min(p.a[1], p.b[1])
  ) {
    return null;
  }
  const s1 = side(p.a, p.b, q.a);
  const s2 = side(p.a, p.b, q.b);
  const s3 = side(q.a, q.b, p.a);
  const s4 = side(q.a, q.b, p.b);
  if (p.next === q || q.next === p) {
    // Neighbours may meet only in their corner: folded back on itself is a fault.
    const corner = p.next === q ? p.b : p.a;
    return s1 === 0 && s2 === 0 && foldsBack(p, q, corner) ? corner : null;
  }
  if (s1 * s2 > 0 || s3 * s4 > 0) return null;
  if (s1 === 0 && s2 === 0) return overlapOf(p, q);
  const t = s3 / (s3 - s4);
  return [p.a[0] + t * (p.b[0] - p.a[0]), p.a[1] + t * (p.b[1] - p.a[1])];
}

function foldsBack(p: Edge, q: Edge, at: Position): boolean {
  const away = (e: Edge) => (same(e.a, at) ? e.b : e.a);
  const u = away(p);
  const w = away(q);
  return (u[0] - at[0]) * (w[0] - at[0]) + (u[1] - at[1]) * (w[1] - at[1]) > 0;
}

function overlapOf(p: Edge, q: Edge): Position | null {
  // The boxes overlap and all four corners lie on one line, so a corner of one lies in the other.
  const inside = (c: Position, e: Edge) =>
    c[0] >= Math.min(e.a[0], e.b[0]) &&
    c[0] <= Math.max(e.a[0], e.b[0]) &&
    c[1] >= Math.min(e.a[1], e.b[1]) &&
    c[1] <= Math.max(e.a[1], e.b[1]);
  return [q.a, q.b].find((c) => inside(c, p)) ?? [p.a, p.b].find((c) => inside(c, q)) ?? null;
}

/** Twice the signed area of a triangle: above 0 where c lies left of a→b. */
function side(a: Position, b: Position, c: Position): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/** True where no corner stands off the line through the first and the one farthest from it. */
function liesOnOneLine(ring: readonly Position[]): boolean {
  const o = ring[0] ?? [0, 0];
  let far = o;
  const reach = (c: Position) => Math.hypot(c[0] - o[0], c[1] - o[1]);
  for (const c of ring) if (reach(c) > reach(far)) far = c;
  // 1e-9 degree is the grain of stored positions.
  return ring.every((c) => Math.abs(side(o, far, c)) <= 1e-9 * reach(far));
}
