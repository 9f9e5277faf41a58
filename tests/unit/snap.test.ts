import { describe, expect, test } from 'vitest';
import { snapPoint } from '../../geo/plan/construct/snap.ts';
import { buildSnapIndex } from '../../geo/plan/construct/snap-index.ts';
import type { PlanFeature, PlanGeometry } from '../../geo/plan/feature.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { at, distanceToSegment, frame, line, plane, polygon, rectangle } from '../construct-rig.ts';
import { seeded } from '../seeded.ts';

/** Small layouts worked by hand; many features against a look at every edge. */

function drawn(id: string, geometry: PlanGeometry, hidden = false): PlanFeature {
  const kind = geometry.type === 'Polygon' ? 'no-go' : 'lane';
  const properties = {} as PlanFeature['properties'];
  return { id, kind, name: id, geometry, properties, locked: false, hidden };
}

describe('one plot and a line', () => {
  const index = buildSnapIndex([
    drawn('plot', polygon(rectangle(0, 0, 100, 60))),
    drawn('lane', line([100, 20], [150, 20])),
    drawn('unseen', line([-1, -1], [-9, -9]), true),
  ]);
  const sorts = (x: number, y: number, tolerance = 2, options = {}) =>
    snapPoint(at(x, y), index, tolerance, frame, options).map((c) => `${c.catches} ${c.featureId}`);

  test('a corner comes before its edges, at its exact position', () => {
    const found = snapPoint(at(0.5, 0.7), index, 2, frame);
    expect(found[0]).toMatchObject({ catches: 'vertex', featureId: 'plot', at: at(0, 0) });
    expect(found[0].awayMeters).toBeCloseTo(Math.hypot(0.5, 0.7), 3);
    expect(found.slice(1).map((c) => c.catches)).toEqual(['edge', 'edge']);
  });

  test('the nearest place on an edge', () => {
    const [edge, ...rest] = snapPoint(at(30, -1.5), index, 2, frame);
    expect(edge.catches).toBe('edge');
    const [x, y] = plane(edge.at);
    expect(Math.hypot(x - 30, y)).toBeLessThan(2e-4);
    expect(rest).toEqual([]);
  });

  test('nothing beyond the tolerance, nothing hidden, nothing left out', () => {
    expect(sorts(50, 30)).toEqual([]);
    expect(sorts(-5, -5)).toEqual([]);
    expect(sorts(30, -1, 2, { except: new Set(['plot']) })).toEqual([]);
  });

  test('an edge runs on past its end, as far as the reach', () => {
    expect(sorts(110, 60.5)).toEqual(['extension plot']);
    const [run] = snapPoint(at(110, 60.5), index, 2, frame);
    const [x, y] = plane(run.at);
    expect(Math.hypot(x - 110, y - 60)).toBeLessThan(2e-4);
    expect(sorts(135, 60.5)).toEqual([]);
    expect(sorts(135, 60.5, 2, { reachMeters: 40 })).toEqual(['extension plot']);
  });

  test('the square from the last corner onto an edge comes before the edge', () => {
    const found = snapPoint(at(40.5, 59.2), index, 2, frame, { from: at(40, 20) });
    expect(found.map((c) => c.catches)).toEqual(['perpendicular', 'edge']);
    const [x, y] = plane(found[0].at);
    expect(Math.hypot(x - 40, y - 60)).toBeLessThan(2e-4);
  });

  test('where edges meet both offer themselves', () => {
    expect(sorts(100.2, 20.1)).toEqual(['vertex lane', 'edge lane', 'edge plot']);
  });
});

test('an empty plan catches nothing', () => {
  expect(snapPoint(at(0, 0), buildSnapIndex([]), 5, frame)).toEqual([]);
});

test('500 features, 50,000 corners: the same corners and edges as a look at every edge', () => {
  const random = seeded(23);
  const features = Array.from({ length: 500 }, (_, k) => {
    const [cx, cy] = [random() * 2000, random() * 2000];
    const ring = Array.from({ length: 100 }, (__, i): XY => {
      const angle = (i / 100) * 2 * Math.PI;
      const reach = 20 + random() * 30;
      return [cx + reach * Math.cos(angle), cy + reach * Math.sin(angle)];
    });
    return drawn(`f${k}`, polygon(ring));
  });
  const index = buildSnapIndex(features);
  const rings = features.map((f) =>
    (f.geometry as Extract<PlanGeometry, { type: 'Polygon' }>).coordinates[0].map(plane),
  );
  for (let n = 0; n < 200; n++) {
    const pointer: XY = [random() * 2000, random() * 2000];
    const placed = plane(at(...pointer));
    const found = snapPoint(at(...pointer), index, 3, frame);
    let corners = 0;
    let edges = 0;
    for (const ring of rings) {
      for (let i = 1; i < ring.length; i++) {
        if (Math.hypot(ring[i][0] - placed[0], ring[i][1] - placed[1]) <= 3) corners++;
        const along =
          (placed[0] - ring[i - 1][0]) * (ring[i][0] - ring[i - 1][0]) +
          (placed[1] - ring[i - 1][1]) * (ring[i][1] - ring[i - 1][1]);
        const length = (ring[i][0] - ring[i - 1][0]) ** 2 + (ring[i][1] - ring[i - 1][1]) ** 2;
        const beside = along > 0 && along < length;
        if (beside && distanceToSegment(placed, ring[i - 1], ring[i]) <= 3) edges++;
      }
    }
    expect(found.filter((c) => c.catches === 'vertex').length).toBe(corners);
    expect(found.filter((c) => c.catches === 'edge').length).toBe(edges);
  }
});
