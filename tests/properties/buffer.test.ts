import { expect, test } from 'vitest';
import { bufferLine, bufferPolygon } from '../../geo/plan/construct/buffer.ts';
import { offsetInPlane } from '../../geo/plan/construct/offset-line.ts';
import { planeArea } from '../../geo/plan/construct/plan-plane.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { distanceToLine, isInside, linesCross } from '../construct-rig.ts';
import { seeded } from '../seeded.ts';
import { starPolygon, starRing } from '../seeded-polygons.ts';

/**
 * Buffers against what they mean. Convex polygons: Steiner's formula A + P r + π r² (Steiner 1840;
 * any text on convex bodies), less at most what the chords of a whole circle cut off. All others:
 * whether places lie within the distance, measured to every edge.
 */

const error = 0.01;

/** What chords that stray by `error` leave out of a whole circle at most. */
function chordLoss(r: number): number {
  const angle = 2 * Math.acos(1 - Math.min(1, error / r));
  return Math.PI * r * r * (1 - Math.sin(angle) / angle);
}

function convexHull(points: readonly XY[]): XY[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly XY[]) => {
    const hull: XY[] = [];
    for (const p of list) {
      for (; hull.length > 1; hull.pop()) {
        const [[ax, ay], [bx, by]] = hull.slice(-2);
        if ((bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax) > 0) break;
      }
      hull.push(p);
    }
    return hull.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.toReversed())];
}

const perimeter = (ring: readonly XY[]) =>
  ring.reduce((sum, [x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length];
    return sum + Math.hypot(nx - x, ny - y);
  }, 0);
const total = (parts: readonly XY[][][]) => parts.reduce((sum, part) => sum + planeArea(part), 0);

test('convex polygons: A + P r + π r², within the chord bound', () => {
  const random = seeded(7);
  for (let n = 0; n < 500; n++) {
    const size = 5 + random() * 100;
    const count = 3 + Math.floor(random() * 30);
    const hull = convexHull(
      starRing(random, { centre: [0, 0], corners: count, nearest: size / 4, farthest: size }),
    );
    const r = 0.5 + random() * 60;
    const parts = bufferPolygon([random() < 0.5 ? hull : hull.toReversed()], r, error);
    expect(parts.length).toBe(1);
    expect(parts[0].length).toBe(1);
    const exact = planeArea([hull]) + perimeter(hull) * r + Math.PI * r * r;
    const missing = exact - total(parts);
    expect(missing).toBeGreaterThan(-1e-6);
    expect(missing).toBeLessThanOrEqual(chordLoss(r) + 1e-6);
  }
});

test('a point gives a circle and a straight line a pill', () => {
  for (const r of [0.3, 3, 30, 300]) {
    const circle = total(bufferLine([[10, 20]], r, error));
    expect(Math.PI * r * r - circle).toBeGreaterThan(0);
    expect(Math.PI * r * r - circle).toBeLessThanOrEqual(chordLoss(r) + 1e-6);
    const pill = total(
      bufferLine(
        [
          [0, 0],
          [30, 40],
        ],
        r,
        error,
      ),
    );
    expect(50 * 2 * r + Math.PI * r * r - pill).toBeGreaterThan(0);
    expect(50 * 2 * r + Math.PI * r * r - pill).toBeLessThanOrEqual(chordLoss(r) + 1e-6);
  }
});

function expectWithin(parts: readonly XY[][][], p: XY, away: number, r: number, what: string) {
  const inside = parts.some((rings) => isInside(p, rings));
  if (away < r - error - 1e-6) expect(inside, what).toBe(true);
  if (away > r + 1e-6) expect(inside, what).toBe(false);
}

test('grown and shrunk stars with holes hold just the places they should', () => {
  const random = seeded(11);
  for (let n = 0; n < 150; n++) {
    const rings = starPolygon(random, [0, 0], 40, 30);
    const r = 0.5 + random() * 15;
    const grown = bufferPolygon(rings, r, error);
    const shrunk = bufferPolygon(rings, -r, error);
    for (let k = 0; k < 100; k++) {
      const p: XY = [(random() - 0.5) * 140, (random() - 0.5) * 140];
      const toEdge = Math.min(...rings.map((ring) => distanceToLine(p, [...ring, ring[0]])));
      const away = isInside(p, rings) ? -toEdge : toEdge;
      expectWithin(grown, p, away, r, `${n}, grown by ${r}`);
      const inside = shrunk.some((part) => isInside(p, part));
      if (away < -r - 1e-6) expect(inside, `${n}, shrunk by ${r}`).toBe(true);
      if (away > -r + error + 1e-6) expect(inside, `${n}, shrunk by ${r}`).toBe(false);
    }
  }
});

function wander(random: () => number, corners: number, stride: number): XY[] {
  const walk: XY[] = [[0, 0]];
  let heading = random() * 2 * Math.PI;
  for (let i = 1; i < corners; i++) {
    heading += (random() - 0.5) * 4;
    const [x, y] = walk[i - 1];
    const step = stride * (0.1 + random());
    walk.push([x + step * Math.cos(heading), y + step * Math.sin(heading)]);
  }
  return walk;
}

test('strips round wandering lines, that cross themselves too', () => {
  const random = seeded(13);
  for (let n = 0; n < 150; n++) {
    const walk = wander(random, 2 + Math.floor(random() * 30), 10);
    const r = 0.5 + random() * 12;
    const parts = bufferLine(walk, r, error);
    expect(parts.length).toBe(1);
    for (let k = 0; k < 100; k++) {
      const [x, y] = walk[Math.floor(random() * walk.length)];
      const p: XY = [x + (random() - 0.5) * 4 * r, y + (random() - 0.5) * 4 * r];
      expectWithin(parts, p, distanceToLine(p, walk), r, `${n}, ${r} round`);
    }
  }
});

test('offset lines keep their distance and never cross themselves', () => {
  const random = seeded(17);
  let parts = 0;
  for (let n = 0; n < 300; n++) {
    const walk = wander(random, 2 + Math.floor(random() * 25), 10);
    const distance = 0.5 + random() * 8;
    for (const side of ['left', 'right'] as const) {
      const lines = offsetInPlane(walk, distance, side);
      parts += lines.length;
      const pieces = lines.flatMap((l) => l.slice(1).map((b, i): [XY, XY] => [l[i], b]));
      pieces.forEach(([a, b], i) => {
        for (const t of [0, 0.25, 0.5, 0.75, 1]) {
          const p: XY = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
          const away = distanceToLine(p, walk);
          // The round caps and far sides are chords, which may lie 1 cm nearer.
          expect(away, `${n} ${side}`).toBeGreaterThan(distance - error - 1e-6);
          // A mitre is cut at 2.5 distances; its square end's corners stand a little farther.
          expect(away, `${n} ${side}`).toBeLessThan(2.5 * distance * 1.2);
        }
        for (const [c, d] of pieces.slice(0, i)) {
          expect(linesCross(a, b, c, d), `${n} ${side}`).toBe(false);
        }
      });
    }
  }
  expect(parts).toBeGreaterThan(600);
});
