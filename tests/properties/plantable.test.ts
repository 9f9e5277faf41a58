import Coordinate from 'jsts/org/locationtech/jts/geom/Coordinate.js';
import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js';
import OverlayOp from 'jsts/org/locationtech/jts/operation/overlay/OverlayOp.js';
import SnapIfNeededOverlayOp from 'jsts/org/locationtech/jts/operation/overlay/snap/SnapIfNeededOverlayOp.js';
import { expect, test } from 'vitest';
import type { Plantable } from '../../geo/answers/answers.ts';
import type { PlanFeature, PlanGeometry } from '../../geo/plan/feature.ts';
import { blankProperties, type Kind } from '../../geo/plan/kinds.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { plantable } from '../../geo/answers/plantable.ts';
import { answersOf, groundOf } from '../answers-rig.ts';
import { frame, line, planeOf, polygon } from '../construct-rig.ts';
import { seeded } from '../seeded.ts';
import { starPolygon } from '../seeded-polygons.ts';

/** Plantable ground on seeded layouts: plots under a heap of things that lie over each other. */

function drawn(id: string, kind: Kind, geometry: PlanGeometry, properties: object): PlanFeature {
  const shell = { id, kind, name: id, geometry, locked: false, hidden: false };
  return { ...shell, properties: properties as PlanFeature['properties'] };
}

const hilly = (() => {
  const random = seeded(41);
  const [width, height] = [160, 160];
  const waves = Array.from({ length: 6 }, () => [random() * 0.3, random() * 0.3, random() * 6]);
  const data = Float32Array.from({ length: width * height }, (_, i) =>
    waves.reduce(
      (z, [u, v, phase]) => z + Math.sin(u * (i % width) + v * Math.floor(i / width) + phase),
      200,
    ),
  );
  const place = { width, height, west: 499_920, north: 4_000_080, cellWidth: 1, cellHeight: 1 };
  return groundOf(makeGrid(place, data, frame), frame);
})();

interface Layout {
  readonly plot: PlanFeature;
  readonly takings: readonly PlanFeature[];
}

function layout(seed: number, only?: 'areas'): Layout {
  const random = seeded(seed);
  const spot = (): XY => [(random() - 0.5) * 90, (random() - 0.5) * 90];
  const star = (size: number) =>
    polygon(...starPolygon(random, spot(), size * (0.3 + random()), 20));
  const takings = Array.from({ length: 1 + Math.floor(random() * 7) }, (_, i): PlanFeature => {
    const sort = only ? random() / 2 : random();
    if (sort < 0.25) return drawn(`n${i}`, 'no-go', star(25), { reason: 'wetland', detail: '' });
    if (sort < 0.5) {
      return drawn(`s${i}`, 'structure', star(15), { use: 'barn', ownedBy: 'owner' });
    }
    if (sort < 0.8) {
      const gaps = Array.from({ length: 3 }, () => ({
        stationMeters: random() * 100,
        widthMeters: random() * 10,
      }));
      return drawn(`b${i}`, 'berm', line(spot(), spot(), spot()), {
        section: 'parabola',
        baseWidthMeters: 2 + random() * 10,
        heightMeters: 2,
        gaps,
        toBurn: random() < 0.3,
      });
    }
    return drawn(`h${i}`, 'heap', star(12), {
      ...blankProperties('heap'),
      heightMeters: 2,
      toBurn: random() < 0.3,
    });
  });
  const outline = starPolygon(random, [0, 0], 60, 30);
  return { plot: drawn('plot', 'plot', polygon(...outline), { weapon: null }), takings };
}

function answer(features: readonly PlanFeature[], onGround = true): Plantable {
  // Alone: it reads no other answer, and hundreds of plans are tried.
  return answersOf(features, onGround ? hilly : null, {}, [plantable]).features['plot'].plantable!
    .value;
}

test('never more than the plot, never below nothing, and the list adds up', () => {
  let steep = 0;
  for (let seed = 0; seed < 150; seed++) {
    const { plot, takings } = layout(seed);
    const value = answer([plot, ...takings]);
    expect(value.plantableSquareMeters).toBeGreaterThanOrEqual(0);
    expect(value.plantableSquareMeters).toBeLessThanOrEqual(value.areaSquareMeters);
    for (const t of value.taken) expect(t.areaSquareMeters).toBeGreaterThan(0);
    const off = value.taken.reduce((sum, t) => sum + t.areaSquareMeters, 0);
    expect(Math.abs(value.plantableSquareMeters + off - value.areaSquareMeters)).toBeLessThan(1e-6);
    const next = value.nextFallTaken.reduce((sum, t) => sum + t.areaSquareMeters, 0);
    expect(Math.abs(value.nextFallSquareMeters + next - value.areaSquareMeters)).toBeLessThan(1e-6);
    if (value.taken.some((t) => t.reason === 'too-steep')) steep++;
  }
  expect(steep).toBeGreaterThan(100);
});

test('the order in which things were drawn, and their names, change nothing in the total', () => {
  for (let seed = 200; seed < 260; seed++) {
    const { plot, takings } = layout(seed);
    const there = answer([plot, ...takings]);
    const renamed = takings.map((f, i) => ({ ...f, id: `z${takings.length - i}` }));
    const back = answer([...renamed.toReversed(), plot]);
    // Sums of the same pieces in another order: rounding of the last digits only.
    expect(Math.abs(there.plantableSquareMeters - back.plantableSquareMeters)).toBeLessThan(1e-5);
  }
});

test('the same thing twice takes no more than once; one more thing never gives ground back', () => {
  for (let seed = 300; seed < 360; seed++) {
    const { plot, takings } = layout(seed);
    const once = answer([plot, ...takings]);
    const twice = answer([
      plot,
      ...takings,
      ...takings.map((f) => ({ ...f, id: `again-${f.id}` })),
    ]);
    expect(Math.abs(once.plantableSquareMeters - twice.plantableSquareMeters)).toBeLessThan(1e-5);
    const fewer = answer([plot, ...takings.slice(1)]);
    expect(fewer.plantableSquareMeters).toBeGreaterThan(once.plantableSquareMeters - 1e-5);
  }
});

test('areas: the share left is what jsts leaves of the same outlines', () => {
  const factory = new GeometryFactory();
  const toJsts = (feature: PlanFeature) => {
    const [outer, ...holes] = planeOf(feature.geometry).map((ring) =>
      factory.createLinearRing([...ring, ring[0]].map(([x, y]) => new Coordinate(x, y))),
    );
    return factory.createPolygon(outer, holes);
  };
  for (let seed = 400; seed < 500; seed++) {
    const { plot, takings } = layout(seed, 'areas');
    const value = answer([plot, ...takings], false);
    const whole = toJsts(plot).getArea();
    const left = takings.reduce(
      (rest, f) => SnapIfNeededOverlayOp.overlayOp(rest, toJsts(f), OverlayOp.DIFFERENCE),
      toJsts(plot),
    );
    const share = value.plantableSquareMeters / value.areaSquareMeters;
    // Without a ground the answer stands in WGS 84's own zone, whose plane differs by under 1e-7;
    // touches under 1 dm² are not taken.
    expect(Math.abs(share - left.getArea() / whole)).toBeLessThan(1e-6 + 0.02 / whole);
  }
});
