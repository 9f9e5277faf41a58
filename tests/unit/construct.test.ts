import { describe, expect, test } from 'vitest';
import { distanceAndBearing, lineLengthMeters, measurePolygon } from '../../geo/frame/geodesic.ts';
import { bufferGeometry } from '../../geo/plan/construct/buffer.ts';
import { cutHole } from '../../geo/plan/construct/cut-hole.ts';
import { duplicateFeature } from '../../geo/plan/construct/duplicate.ts';
import { mergePolygons } from '../../geo/plan/construct/merge-polygons.ts';
import { moveByBearing, moveByMeters } from '../../geo/plan/construct/move.ts';
import { offsetLine } from '../../geo/plan/construct/offset-line.ts';
import { planeArea, type PolygonGeometry } from '../../geo/plan/construct/plan-plane.ts';
import { rotateGeometry } from '../../geo/plan/construct/rotate.ts';
import { simplifyGeometry } from '../../geo/plan/construct/simplify.ts';
import { splitPolygon } from '../../geo/plan/construct/split-polygon.ts';
import { roundDegrees, type PlanFeature } from '../../geo/plan/feature.ts';
import { findOutlineFault } from '../../geo/plan/outline-faults.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import type { Result } from '../../geo/result.ts';
import {
  at,
  distanceToLine,
  frame,
  line,
  plane,
  planeOf,
  polygon,
  rectangle,
  scale,
} from '../construct-rig.ts';
import { seeded } from '../seeded.ts';
import { starPolygon } from '../seeded-polygons.ts';

/** Shapes whose answers are plain geometry, worked by hand; metres of the frame from its corner. */

function value<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}
const code = (result: Result<unknown>) => (result.ok ? 'ok' : result.problem.code);
const area = (geometry: PolygonGeometry) => planeArea(planeOf(geometry));
const areas = (geometries: readonly PolygonGeometry[]) => geometries.map(area);
/** Positions are kept to 1e-9 degree, 0.1 mm. */
const grain = 2e-4;

function expectSound(geometries: readonly PolygonGeometry[]): void {
  for (const { coordinates } of geometries) {
    expect(findOutlineFault(coordinates)).toBeNull();
    for (const p of coordinates.flat()) expect(p).toEqual(p.map(roundDegrees));
  }
}

describe('split', () => {
  const plot = polygon(rectangle(0, 0, 100, 60));

  test('across the middle: two halves with the same new corners', () => {
    const parts = value(splitPolygon(plot, line([30, -10], [70, 70]), frame));
    expect(parts.length).toBe(2);
    expectSound(parts);
    // The line meets the sides at x 35 and 65: trapezoids of 3,000 m² each.
    for (const a of areas(parts)) expect(Math.abs(a - 3000)).toBeLessThan(0.02);
    const corners = parts.map((p) => new Set(p.coordinates[0].map(String)));
    const shared = [...corners[0]].filter((c) => corners[1].has(c));
    expect(shared.length).toBe(2);
  });

  test('a line in and out again cuts off a bite; ends hanging inside cut nothing', () => {
    const parts = value(splitPolygon(plot, line([20, -5], [20, 20], [50, 20], [50, -5]), frame));
    expect(areas(parts).map(Math.round)).toEqual([5400, 600]);
    expect(code(splitPolygon(plot, line([20, -5], [20, 20]), frame))).toBe('split-misses');
    expect(code(splitPolygon(plot, line([20, 5], [20, 20], [50, 20]), frame))).toBe('split-misses');
    expect(code(splitPolygon(plot, line([200, 5], [220, 20]), frame))).toBe('split-misses');
    // Along an edge, and from corner to corner.
    expect(code(splitPolygon(plot, line([-5, 0], [120, 0]), frame))).toBe('split-misses');
    const corners = value(splitPolygon(plot, line([0, 0], [100, 60]), frame));
    expect(areas(corners).map(Math.round)).toEqual([3000, 3000]);
  });

  test('through a hole, and round in a ring', () => {
    const holed = polygon(rectangle(0, 0, 100, 60), rectangle(40, 20, 20, 20));
    const parts = value(splitPolygon(holed, line([-5, 30], [105, 30]), frame));
    expect(areas(parts).map(Math.round)).toEqual([2800, 2800]);
    expect(parts.every((p) => p.coordinates.length === 1)).toBe(true);
    const ring = line([10, 10], [30, 10], [30, 30], [10, 30], [10, 10]);
    const rounds = value(splitPolygon(plot, ring, frame));
    expect(areas(rounds).map(Math.round)).toEqual([5600, 400]);
    expect(rounds[0].coordinates.length).toBe(2);
    expectSound(rounds);
  });

  test('a zigzag gives every piece, and all of the ground', () => {
    const zigzag = line([-5, 10], [50, 70], [60, -10], [80, 70], [105, 20]);
    const parts = value(splitPolygon(plot, zigzag, frame));
    expect(parts.length).toBe(5);
    expect(Math.abs(areas(parts).reduce((a, b) => a + b) - 6000)).toBeLessThan(0.05);
    expectSound(parts);
  });

  test('split and merged again is the outline it was', () => {
    const random = seeded(3);
    for (let n = 0; n < 60; n++) {
      const rings = starPolygon(random, [0, 0], 60, 20).slice(0, 1);
      const star = polygon(...rings);
      const cut = line([-100, 20 * (random() - 0.5)], [100, 20 * (random() - 0.5)]);
      const parts = value(splitPolygon(star, cut, frame));
      expectSound(parts);
      let whole = parts[0];
      // Pieces touch the whole one by one; the order is by size, so some have to wait.
      for (const rest = parts.slice(1); rest.length > 0;) {
        const next = rest.findIndex((p) => mergePolygons([whole, p], frame).ok);
        whole = value(mergePolygons([whole, ...rest.splice(next, 1)], frame));
      }
      expect(new Set(whole.coordinates[0].map(String))).toEqual(
        new Set(star.coordinates[0].map(String)),
      );
    }
  });
});

describe('merge', () => {
  test('over each other, along an edge, apart, in one corner', () => {
    const a = polygon(rectangle(0, 0, 40, 40));
    const over = value(mergePolygons([a, polygon(rectangle(20, 20, 40, 40))], frame));
    expect(area(over)).toBeCloseTo(1600 * 2 - 400, 1);
    const beside = value(mergePolygons([a, polygon(rectangle(40, 0, 30, 40))], frame));
    expect(beside.coordinates[0].length).toBe(5);
    expect(area(beside)).toBeCloseTo(2800, 1);
    expect(code(mergePolygons([a, polygon(rectangle(41, 0, 30, 40))], frame))).toBe('merge-apart');
    expect(code(mergePolygons([a, polygon(rectangle(40, 40, 9, 9))], frame))).toBe('merge-apart');
  });

  test('a ring of four closes round a hole', () => {
    const parts = [
      rectangle(0, 0, 60, 20),
      rectangle(40, 0, 20, 60),
      rectangle(0, 40, 60, 20),
      rectangle(0, 0, 20, 60),
    ].map((r) => polygon(r));
    const ring = value(mergePolygons(parts, frame));
    expect(ring.coordinates.length).toBe(2);
    expect(area(ring)).toBeCloseTo(3600 - 400, 1);
    expectSound([ring]);
  });
});

describe('hole', () => {
  const plot = polygon(rectangle(0, 0, 100, 60));

  test('inside, over the edge, across, outside, over all', () => {
    const hole = value(cutHole(plot, polygon(rectangle(10, 10, 20, 20)), frame));
    expect(hole[0].coordinates.length).toBe(2);
    expect(areas(hole)[0]).toBeCloseTo(5600, 1);
    const bite = value(cutHole(plot, polygon(rectangle(90, 10, 20, 20)), frame));
    expect(bite[0].coordinates.length).toBe(1);
    expect(areas(bite)[0]).toBeCloseTo(5800, 1);
    const across = value(cutHole(plot, polygon(rectangle(40, -10, 10, 80)), frame));
    expect(areas(across).map(Math.round)).toEqual([3000, 2400]);
    expectSound([...hole, ...bite, ...across]);
    expect(code(cutHole(plot, polygon(rectangle(200, 0, 9, 9)), frame))).toBe('hole-misses');
    expect(code(cutHole(plot, polygon(rectangle(-9, -9, 200, 200)), frame))).toBe('hole-takes-all');
  });

  test('a hole that touches the outline in one corner stays a sound hole', () => {
    const diamond: XY[] = [
      [0, 30],
      [20, 20],
      [40, 30],
      [20, 40],
    ];
    const cut = value(cutHole(polygon(rectangle(0, 0, 100, 60)), polygon(diamond), frame));
    expectSound(cut);
    expect(areas(cut)[0]).toBeCloseTo(5600, 0);
  });
});

describe('buffer and offset on the ground', () => {
  test('a strip is as wide on the ground as it was asked to be', () => {
    const [strip] = value(bufferGeometry(line([0, 0], [200, 0]), 15.24, frame));
    expectSound([strip]);
    const ys = planeOf(strip)[0].map((p) => p[1]);
    // UTM on its middle meridian draws 15.24 m as 15.24 × 0.9996.
    expect(Math.max(...ys)).toBeCloseTo(15.24 * scale, 3);
    expect(Math.min(...ys)).toBeCloseTo(-15.24 * scale, 3);
    const measured = measurePolygon(strip.coordinates).areaSquareMeters;
    const exact = (200 / scale) * 2 * 15.24 + Math.PI * 15.24 ** 2;
    expect(Math.abs(measured / exact - 1)).toBeLessThan(1e-3);
    expect(measured).toBeLessThan(exact);
  });

  test('shrinking parts a dumbbell, and what is too thin goes', () => {
    const outline: XY[] = [
      [0, 0],
      [20, 0],
      [20, 8],
      [40, 8],
      [40, 0],
      [60, 0],
      [60, 20],
      [40, 20],
      [40, 12],
      [20, 12],
      [20, 20],
      [0, 20],
    ];
    const parts = value(bufferGeometry(polygon(outline), -3, frame));
    expect(parts.length).toBe(2);
    // A square, and the bulge toward the neck between the circles round its two corners:
    // 2 ∫ (3 - √(9 - u²)) du from 0 to 2 = 2 (6 - √5 - 4.5 asin(2/3)) = 0.960 m².
    for (const a of areas(parts)) {
      expect(Math.abs(a - (20 - 6 * scale) ** 2 - 0.96)).toBeLessThan(0.04);
    }
    expect(code(bufferGeometry(polygon(rectangle(0, 0, 5, 50)), -3, frame))).toBe(
      'buffer-nothing-left',
    );
    expect(code(bufferGeometry(line([0, 0], [5, 5]), -3, frame))).toBe('buffer-without-width');
  });

  test('an L runs mitred on both sides', () => {
    const bend = line([0, 20], [0, 0], [20, 0]);
    const d = 5 / scale;
    const [inner] = value(offsetLine(bend, d, 'left', frame));
    const [outer] = value(offsetLine(bend, d, 'right', frame));
    const close = (g: typeof inner, expected: XY[]) => {
      const points = planeOf(g)[0];
      expect(points.length).toBe(expected.length);
      points.forEach(([x, y], i) => {
        expect(Math.hypot(x - expected[i][0], y - expected[i][1])).toBeLessThan(grain);
      });
    };
    close(inner, [
      [5, 20],
      [5, 5],
      [20, 5],
    ]);
    close(outer, [
      [-5, 20],
      [-5, -5],
      [20, -5],
    ]);
  });

  test('a notch tighter than the distance is bridged without a loop', () => {
    const notch = line([0, 0], [40, 0], [42, 6], [44, 0], [84, 0]);
    const lines = value(offsetLine(notch, 6 / scale, 'right', frame));
    expect(lines.length).toBe(1);
    const points = planeOf(lines[0])[0];
    // On its outside the notch leaves no trace: flat from end to end, but for 1 mm.
    for (const [, y] of points) expect(y).toBeLessThan(-5.7);
    // A pocket whose walls stand nearer than twice the distance has no line in it.
    const pocket = line([0, 0], [0, 30], [8, 30], [8, 0]);
    expect(code(offsetLine(pocket, 6 / scale, 'right', frame))).toBe('offset-gone');
  });
});

describe('simplify', () => {
  test('corners within the tolerance go, all others stay exactly', () => {
    const track = line([0, 0], [10, 0.4], [20, -0.4], [30, 0], [30, 10], [30.3, 20], [30, 30]);
    const simple = simplifyGeometry(track, 0.5, frame);
    expect(simple.coordinates).toEqual([at(0, 0), at(30, 0), at(30, 30)]);
    expect(simplifyGeometry(track, 0, frame)).toEqual(track);
  });

  test('outlines never come to cross, and no corner strays past the tolerance', () => {
    const random = seeded(5);
    let fewer = 0;
    for (let n = 0; n < 120; n++) {
      const rings = starPolygon(random, [0, 0], 40, 60);
      const star = polygon(...rings);
      const tolerance = random() * 25;
      const simple = simplifyGeometry(star, tolerance, frame) as PolygonGeometry;
      expectSound([simple]);
      simple.coordinates.forEach((ring, r) => {
        expect(ring.length).toBeGreaterThan(3);
        const whole = star.coordinates[r].map(String);
        for (const corner of ring) expect(whole).toContain(String(corner));
        const drawn = ring.map(plane);
        for (const corner of star.coordinates[r].map(plane)) {
          expect(distanceToLine(corner, drawn)).toBeLessThan(tolerance * scale + 1e-6);
        }
        fewer += whole.length - ring.length;
      });
    }
    expect(fewer).toBeGreaterThan(1000);
  });
});

describe('move, turn, duplicate', () => {
  const plot = polygon(rectangle(0, 0, 40, 20));

  test('so many metres on the ground along a true bearing', () => {
    for (const [bearing, distance] of [
      [0, 100],
      [37.5, 812.25],
      [270, 3.048],
    ]) {
      const moved = moveByBearing(plot, bearing, distance, frame) as PolygonGeometry;
      const middle = (g: PolygonGeometry) => {
        const c = g.coordinates[0].map(plane);
        return at((c[0][0] + c[2][0]) / 2, (c[0][1] + c[2][1]) / 2);
      };
      const way = distanceAndBearing(middle(plot), middle(moved));
      expect(Math.abs(way.distanceMeters - distance)).toBeLessThan(3e-4);
      const off = ((way.departureDegrees - bearing + 540) % 360) - 180;
      expect((Math.abs(off) * Math.PI * distance) / 180).toBeLessThan(3e-4);
      expect(area(moved)).toBeCloseTo(800, 1);
    }
    const there = moveByMeters(plot, 30, -40, frame);
    const [x, y] = planeOf(there)[0][0];
    expect(Math.hypot(x - 30 * scale, y + 40 * scale)).toBeLessThan(1e-3);
  });

  test('a quarter turn clockwise takes east to south', () => {
    const turned = rotateGeometry(plot, 90, at(0, 0), frame);
    const [, b, c] = planeOf(turned)[0];
    expect(Math.hypot(b[0], b[1] + 40)).toBeLessThan(grain);
    expect(Math.hypot(c[0] - 20, c[1] + 40)).toBeLessThan(grain);
    const back = rotateGeometry(turned, -90, at(0, 0), frame) as PolygonGeometry;
    back.coordinates[0].forEach((p, i) => {
      expect(lineLengthMeters([p, plot.coordinates[0][i]])).toBeLessThan(grain);
    });
  });

  test('a copy has its own name and stands beside the first', () => {
    const feature: PlanFeature<'plot'> = {
      id: 'a',
      kind: 'plot',
      name: 'Bench plot',
      geometry: plot,
      properties: { weapon: 'bow' },
      locked: true,
      hidden: false,
    };
    const copy = duplicateFeature(feature, 'b', new Set(['Bench plot']), 10, 10, frame);
    expect([copy.id, copy.name, copy.locked]).toEqual(['b', 'Bench plot 2', false]);
    expect(copy.properties).toEqual(feature.properties);
    const third = duplicateFeature(
      copy,
      'c',
      new Set(['Bench plot 2', 'Bench plot 3']),
      0,
      0,
      frame,
    );
    expect(third.name).toBe('Bench plot 4');
    expect(third.geometry).toEqual(copy.geometry);
    expect(duplicateFeature({ ...copy, name: '' }, 'd', new Set(), 0, 0, frame).name).toBe('');
  });
});
