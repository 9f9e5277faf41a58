import { placeOf, type Arrangement, type XY } from './arrangement.ts';
import { turn } from './turn.ts';

/** Polygons of a plane, each a list of rings: the outer one first, counter-clockwise, then holes. */
export type PlanePolygon = XY[][];

/**
 * Turns rings of vertex indices into polygons: holes (clockwise) go under the smallest outer ring
 * that holds them. Vertices where lines merely crossed and the ring runs straight on are left out.
 * Rings do not repeat their first point. Largest polygon first.
 */
export function ringsToPolygons(a: Arrangement, rings: readonly number[][]): PlanePolygon[] {
  const outers: { ring: number[]; area: number; holes: number[][] }[] = [];
  const holes: { ring: number[]; area: number }[] = [];
  for (const walked of rings) {
    const ring = withoutStraightCrossings(a, walked);
    if (ring.length < 3) continue;
    const area = areaOf(a, ring);
    if (area > 0) outers.push({ ring, area, holes: [] });
    else if (area < 0) holes.push({ ring, area: -area });
  }
  outers.sort((p, q) => p.area - q.area);
  for (const hole of holes) {
    const [u, v] = hole.ring;
    // Rings share no edge, so the middle of one lies on no other ring.
    const x = (a.x[u] + a.x[v]) / 2;
    const y = (a.y[u] + a.y[v]) / 2;
    outers.find((o) => o.area > hole.area && holds(a, o.ring, x, y))?.holes.push(hole.ring);
  }
  return outers
    .reverse()
    .map((o) => [o.ring, ...o.holes].map((ring) => ring.map((v) => placeOf(a, v))));
}

/** A crossing is rounded to the lattice, so straight means within two units of the line. */
function withoutStraightCrossings(a: Arrangement, ring: readonly number[]): number[] {
  const { x, y, isCorner } = a;
  if (ring.every((v) => isCorner[v] === 1)) return [...ring];
  const kept: number[] = [];
  const n = ring.length;
  ring.forEach((v, i) => {
    const u = kept.length > 0 ? kept[kept.length - 1] : ring[n - 1];
    const w = ring[(i + 1) % n];
    const off = Math.abs(turn(x[u], y[u], x[v], y[v], x[w], y[w]));
    const reach = Math.abs(x[w] - x[u]) + Math.abs(y[w] - y[u]);
    const ahead = (x[v] - x[u]) * (x[w] - x[v]) + (y[v] - y[u]) * (y[w] - y[v]);
    if (isCorner[v] === 0 && off <= 2 * reach && ahead > 0) return;
    kept.push(v);
  });
  return kept;
}

/** Signed, in square units, about the first corner. */
function areaOf({ x, y }: Arrangement, ring: readonly number[]): number {
  const o = ring[0];
  let twice = 0;
  for (let i = 2; i < ring.length; i++) {
    const u = ring[i - 1];
    const v = ring[i];
    twice += (x[u] - x[o]) * (y[v] - y[o]) - (x[v] - x[o]) * (y[u] - y[o]);
  }
  return twice / 2;
}

function holds({ x, y }: Arrangement, ring: readonly number[], px: number, py: number): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [a, b] = [ring[j], ring[i]];
    if (y[a] > py === y[b] > py) continue;
    if (px < ((x[b] - x[a]) * (py - y[a])) / (y[b] - y[a]) + x[a]) inside = !inside;
  }
  return inside;
}
