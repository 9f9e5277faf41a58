import { expect, test } from 'vitest';
import { planeArea } from '../../geo/plan/construct/plan-plane.ts';
import { arrange, type XY } from '../../geo/plan/overlay/arrangement.ts';
import { overlay, shareOut, type Layer } from '../../geo/plan/overlay/overlay.ts';
import { passesSquare, turn } from '../../geo/plan/overlay/turn.ts';
import { seeded } from '../seeded.ts';

/**
 * The overlay on shapes as bad as they come: rings of random corners on a small lattice, crossing
 * and touching themselves and each other, lying on each other, folding back.
 */

function wildRing(random: () => number, size: number): XY[] {
  const corners = 3 + Math.floor(random() * 9);
  return Array.from({ length: corners }, (): XY => [
    Math.floor(random() * size),
    Math.floor(random() * size),
  ]);
}

const wild = (seed: number, size: number, count: number): XY[][] => {
  const random = seeded(seed);
  return Array.from({ length: count }, () => wildRing(random, size));
};

test('edges meet at vertices only, however coarse the lattice', () => {
  for (let seed = 0; seed < 400; seed++) {
    const rings = wild(seed, 4 + (seed % 20), 2);
    const paths = rings.map((points, layer) => ({ points, closed: true, layer }));
    // Unit 1: every crossing is moved by up to half a cell.
    const a = arrange(paths, 2, 1);
    const faults: string[] = [];
    for (let e = 0; e < a.edges; e++) {
      const [p, q] = [a.from[e], a.to[e]];
      for (let f = 0; f < e; f++) {
        if (crosses(a.x, a.y, p, q, a.from[f], a.to[f])) faults.push(`${e} crosses ${f}`);
      }
      for (let v = 0; v < a.x.length; v++) {
        if (v !== p && v !== q && liesOn(a.x, a.y, v, p, q)) faults.push(`${v} lies on ${e}`);
      }
    }
    expect(faults, `seed ${seed}`).toEqual([]);
  }
});

test('areas of wild rings equal a sum over upright slabs', () => {
  for (let seed = 1000; seed < 1500; seed++) {
    const [first, second] = wild(seed, 15, 2);
    const layers: Layer[] = [
      { rings: [first], rule: 'even-odd' },
      { rings: [second], rule: 'positive' },
    ];
    const sorts = [
      ([a, b]: readonly boolean[]) => a && b,
      ([a, b]: readonly boolean[]) => a || b,
      ([a, b]: readonly boolean[]) => a && !b,
      ([a, b]: readonly boolean[]) => a !== b,
    ];
    for (const keep of sorts) {
      const area = overlay(layers, keep).reduce((sum, part) => sum + planeArea(part), 0);
      expect(Math.abs(area - slabArea(layers, keep)), `seed ${seed}`).toBeLessThan(1e-6);
    }
    const { areas, left } = shareOut(layers);
    expect(Math.abs(areas[0] - slabArea(layers, sorts[2]))).toBeLessThan(1e-6);
    expect(Math.abs(areas[1] - slabArea(layers, sorts[0]))).toBeLessThan(1e-6);
    const leftArea = left.reduce((sum, part) => sum + planeArea(part), 0);
    expect(Math.abs(leftArea - areas[0])).toBeLessThan(1e-6);
  }
});

test('results are simple: no ring comes to a corner twice, holes lie inside', () => {
  for (let seed = 2000; seed < 2300; seed++) {
    const [first, second] = wild(seed, 10, 2);
    const layers: Layer[] = [first, second].map((ring) => ({ rings: [ring], rule: 'even-odd' }));
    for (const part of overlay(layers, ([a, b]) => a || b)) {
      for (const [i, ring] of part.entries()) {
        expect(new Set(ring.map(String)).size).toBe(ring.length);
        // Counter-clockwise outside, clockwise holes.
        expect(Math.sign(signed(ring))).toBe(i === 0 ? 1 : -1);
      }
      expect(planeArea(part)).toBeGreaterThan(0);
    }
  }
});

test('signs of turns are exact where doubles are not', () => {
  // The middle corner of three on one line, moved by 1 in 2^50: products differ by 1 in 2^100.
  const far = 2 ** 50;
  expect(Math.sign(turn(0, 0, far, far - 1, 2, 2))).toBe(1);
  expect(Math.sign(turn(0, 0, far, far - 1, far - 1, far - 2))).toBe(-1);
  expect(turn(0, 0, far, far - 2, far / 2, far / 2 - 1)).toBe(0);
  // Through the south-west corner of a unit square, which is its own, a hair beside it, and through
  // the north-west corner, which is its neighbour's.
  expect(passesSquare(0, far, far, 0, far / 2, far / 2 + 1)).toBe(true);
  expect(passesSquare(0, far - 1, far, 0, far / 2, far / 2 + 1)).toBe(false);
  expect(passesSquare(0, 0, far, far, 3, 2)).toBe(false);
  expect(passesSquare(0, 0, far, far - 1, 3, 2)).toBe(true);
});

function crosses(
  x: Float64Array,
  y: Float64Array,
  p: number,
  q: number,
  r: number,
  s: number,
): boolean {
  const side = (a: number, b: number, c: number) =>
    Math.sign((x[b] - x[a]) * (y[c] - y[a]) - (y[b] - y[a]) * (x[c] - x[a]));
  return side(p, q, r) * side(p, q, s) < 0 && side(r, s, p) * side(r, s, q) < 0;
}

function liesOn(x: Float64Array, y: Float64Array, v: number, p: number, q: number): boolean {
  const det = (x[q] - x[p]) * (y[v] - y[p]) - (y[q] - y[p]) * (x[v] - x[p]);
  if (det !== 0) return false;
  const along = (x[q] - x[p]) * (x[v] - x[p]) + (y[q] - y[p]) * (y[v] - y[p]);
  const length = (x[q] - x[p]) ** 2 + (y[q] - y[p]) ** 2;
  return along > 0 && along < length;
}

/** Area by slabs between all corners and crossings: in each, lines run without meeting. */
function slabArea(layers: readonly Layer[], keep: (inside: readonly boolean[]) => boolean): number {
  const edges = layers.flatMap(({ rings }, layer) =>
    rings.flatMap((ring) => ring.map((a, i) => ({ a, b: ring[(i + 1) % ring.length], layer }))),
  );
  const xs = edges.flatMap(({ a }) => a[0]);
  for (const [i, e] of edges.entries()) {
    for (const f of edges.slice(0, i)) {
      const [ux, uy] = [e.b[0] - e.a[0], e.b[1] - e.a[1]];
      const [vx, vy] = [f.b[0] - f.a[0], f.b[1] - f.a[1]];
      const det = ux * vy - uy * vx;
      if (det === 0) continue;
      const t = ((f.a[0] - e.a[0]) * vy - (f.a[1] - e.a[1]) * vx) / det;
      if (t > 0 && t < 1) xs.push(e.a[0] + t * ux);
    }
  }
  xs.sort((p, q) => p - q);
  let area = 0;
  for (let k = 1; k < xs.length; k++) {
    const width = xs[k] - xs[k - 1];
    if (width < 1e-12) continue;
    const x = (xs[k] + xs[k - 1]) / 2;
    const crossed = edges
      .filter(({ a, b }) => a[0] < x !== b[0] < x)
      .map(({ a, b, layer }) => ({
        y: a[1] + ((x - a[0]) / (b[0] - a[0])) * (b[1] - a[1]),
        layer,
        gain: a[0] < b[0] ? 1 : -1,
      }))
      .sort((p, q) => p.y - q.y);
    const winding = layers.map(() => 0);
    crossed.forEach(({ y, layer, gain }, i) => {
      winding[layer] += gain;
      const inside = layers.map(({ rule }, l) =>
        rule === 'positive' ? winding[l] > 0 : winding[l] % 2 !== 0,
      );
      if (i + 1 < crossed.length && keep(inside)) area += width * (crossed[i + 1].y - y);
    });
  }
  return area;
}

function signed(ring: readonly XY[]): number {
  return ring.reduce((sum, [x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length];
    return sum + x * ny - nx * y;
  }, 0);
}
