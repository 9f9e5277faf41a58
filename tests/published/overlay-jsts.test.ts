import Coordinate from 'jsts/org/locationtech/jts/geom/Coordinate.js';
import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js';
import OverlayOp from 'jsts/org/locationtech/jts/operation/overlay/OverlayOp.js';
import SnapIfNeededOverlayOp from 'jsts/org/locationtech/jts/operation/overlay/snap/SnapIfNeededOverlayOp.js';
import IsValidOp from 'jsts/org/locationtech/jts/operation/valid/IsValidOp.js';
import { expect, test } from 'vitest';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { overlay, shareOut } from '../../geo/plan/overlay/overlay.ts';
import { planeArea } from '../../geo/plan/construct/plan-plane.ts';
import { seeded } from '../seeded.ts';
import { starPolygon } from '../seeded-polygons.ts';

/**
 * Boolean operations on 1,000 seeded pairs of polygons against jsts 2.12.1, which the product does
 * not call. jsts works in plain doubles, so it is given the same polygons near 0, 0, where doubles
 * hold 1e-14 m; ours stand where a site's frame puts them.
 */

const factory = new GeometryFactory();
const origin: XY = [500_000, 4_000_000];

function toJsts(rings: readonly (readonly XY[])[]): JstsGeometry {
  const [outer, ...holes] = rings.map((ring) =>
    factory.createLinearRing(
      [...ring, ring[0]].map(([x, y]) => new Coordinate(x - origin[0], y - origin[1])),
    ),
  );
  return factory.createPolygon(outer, holes);
}

const operations = [
  ['union', OverlayOp.UNION, (a: boolean, b: boolean) => a || b],
  ['intersection', OverlayOp.INTERSECTION, (a: boolean, b: boolean) => a && b],
  ['difference', OverlayOp.DIFFERENCE, (a: boolean, b: boolean) => a && !b],
  ['either but not both', OverlayOp.SYMDIFFERENCE, (a: boolean, b: boolean) => a !== b],
] as const;

const pairs = (() => {
  const random = seeded(20_260_730);
  return Array.from({ length: 1000 }, () => {
    const size = 5 + random() * 150;
    const apart = (1.2 * random() * size) as number;
    const other = size * (0.5 + random());
    return [
      starPolygon(random, origin, size),
      starPolygon(random, [origin[0] + apart, origin[1] + apart / 2], other),
    ] as const;
  });
})();

test('the seeded polygons are sound', () => {
  for (const rings of pairs.flat()) expect(new IsValidOp(toJsts(rings)).isValid()).toBe(true);
});

test.each(operations)('%s of 1,000 pairs: area to 1e-9', (_name, operation, keep) => {
  let worst = 0;
  let compared = 0;
  for (const [a, b] of pairs) {
    const layers = [a, b].map((rings) => ({ rings, rule: 'even-odd' as const }));
    const parts = overlay(layers, ([inA, inB]) => keep(inA, inB));
    const area = parts.reduce((sum, part) => sum + planeArea(part), 0);
    const reference = SnapIfNeededOverlayOp.overlayOp(toJsts(a), toJsts(b), operation).getArea();
    if (reference < 1) {
      // Corners of doubles at 4,000 km stand on a lattice of 2^-31 m: half of it along 1 km of
      // edges is 1e-7 m², which is the most that a sliver may differ by.
      expect(Math.abs(area - reference)).toBeLessThan(1e-7);
    } else {
      worst = Math.max(worst, Math.abs(area / reference - 1));
      compared++;
    }
  }
  expect(worst).toBeLessThan(1e-9);
  expect(compared).toBeGreaterThan(700);
});

test('results are valid polygons by jsts too', () => {
  for (const [a, b] of pairs.slice(0, 300)) {
    const layers = [a, b].map((rings) => ({ rings, rule: 'even-odd' as const }));
    for (const [name, , keep] of operations) {
      for (const part of overlay(layers, ([inA, inB]) => keep(inA, inB))) {
        // On the lattice of 2^-30 m a reference in doubles near 0, 0 sees what we see.
        expect(new IsValidOp(toJsts(part)).isValid(), name).toBe(true);
      }
    }
  }
});

test('shares of ground taken in order add up to the whole and match jsts', () => {
  for (const [a, b] of pairs.slice(0, 300)) {
    const [rest, taken] = shareOut([
      { rings: a, rule: 'even-odd' },
      { rings: b, rule: 'even-odd' },
    ]).areas;
    const whole = planeArea(a);
    expect(Math.abs((rest + taken) / whole - 1)).toBeLessThan(1e-10);
    const left = SnapIfNeededOverlayOp.overlayOp(
      toJsts(a),
      toJsts(b),
      OverlayOp.DIFFERENCE,
    ).getArea();
    expect(Math.abs(rest - left) / whole).toBeLessThan(1e-10);
  }
});
