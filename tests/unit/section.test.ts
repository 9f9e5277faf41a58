import { describe, expect, test } from 'vitest';
import { firstProperties } from '../../app/words/draw-tools.ts';
import type { SectionLine, ShapeMeasure } from '../../geo/answers/answers.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { lineLengthMeters, measurePolygon } from '../../geo/frame/geodesic.ts';
import { standingRuns } from '../../geo/ground/standing-runs.ts';
import { stretchesOf } from '../../geo/ground/stretches.ts';
import { parseFeature, type PlanFeature, type PlanGeometry } from '../../geo/plan/feature.ts';
import { kindNames, kinds, type Kind } from '../../geo/plan/kinds.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { answersOf, groundOf } from '../answers-rig.ts';
import { at, frame, line, polygon, rectangle, scale } from '../construct-rig.ts';

/** Sections of surfaces whose profile is a formula; measures of plain shapes. */

/** 1 m cells over x -50 to 150, y -50 to 110. */
function groundWith(z: (x: number, y: number) => number): GroundInUse {
  const [width, height] = [200, 160];
  const data = Float32Array.from({ length: width * height }, (_, i) =>
    z((i % width) + 0.5 - 50, 110 - (Math.floor(i / width) + 0.5)),
  );
  const place = { width, height, west: 499_950, north: 4_000_110, cellWidth: 1, cellHeight: 1 };
  return groundOf(makeGrid(place, data, frame), frame);
}

function drawn(kind: Kind, geometry: PlanGeometry): PlanFeature {
  const properties = {} as PlanFeature['properties'];
  return { id: 'it', kind, name: 'it', geometry, properties, locked: false, hidden: false };
}

function sectionOf(ground: GroundInUse | null, ...points: XY[]) {
  const { sectionLine } = answersOf([drawn('section-line', line(...points))], ground).features[
    'it'
  ];
  return { ...sectionLine!, surface: (sectionLine!.value as SectionLine).surface };
}

describe('a plane', () => {
  const plane = groundWith((x, y) => 220 + 0.04 * x - 0.03 * y);

  test('is a straight line over its stations, one stretch, whatever way it runs', () => {
    for (const [a, b] of [
      [
        [0, 0],
        [100, 0],
      ],
      [
        [-20.3, 90.1],
        [120.7, -10.4],
      ],
    ] as [XY, XY][]) {
      const { surface, value, findings } = sectionOf(plane, a, b);
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]) / scale;
      expect(Math.abs(value.lengthMeters - length)).toBeLessThan(2e-3);
      const rise = 0.04 * (b[0] - a[0]) - 0.03 * (b[1] - a[1]);
      const start = 220 + 0.04 * a[0] - 0.03 * a[1];
      surface!.stationsMeters.forEach((s, i) => {
        // Heights are float32: 8e-6 m at 220 m; positions 0.1 mm.
        const straight = start + (rise * s) / value.lengthMeters;
        expect(Math.abs(surface!.elevationsMeters[i]! - straight)).toBeLessThan(3e-5);
      });
      expect(surface!.stretches.length).toBe(1);
      expect(surface!.steepest!.slope).toBeCloseTo(rise / value.lengthMeters, 6);
      expect(surface!.climbMeters).toBeCloseTo(Math.max(0, rise), 3);
      expect(surface!.fallMeters).toBeCloseTo(Math.max(0, -rise), 3);
      const steps = surface!.stationsMeters.slice(1).map((s, i) => s - surface!.stationsMeters[i]);
      expect(Math.max(...steps)).toBeLessThanOrEqual(1);
      expect(findings).toEqual([]);
      expect(surface!.name).toBe('test ground');
    }
  });

  test('every corner has a station, at its length along the line', () => {
    const { surface } = sectionOf(plane, [0, 0], [30, 0], [30, 40], [0, 0]);
    const lengths = [0, 30, 70, 120].map((m) => m / scale);
    surface!.cornerStationsMeters.forEach((s, i) => {
      expect(Math.abs(s - lengths[i])).toBeLessThan(2e-3);
      expect(surface!.stationsMeters).toContain(s);
    });
  });
});

// The ridge stands on cell centres and under a corner, so nothing of it is cut off.
test('a roof: up one side, down the other, the steeper one named', () => {
  const roof = groundWith((x) => (x < 40.5 ? 200 + 0.1 * x : 204.05 - 0.2 * (x - 40.5)));
  const { surface } = sectionOf(roof, [0, 10], [40.5, 10], [100, 10]);
  const slopes = surface!.stretches.map((s) => s.slope);
  expect(slopes.length).toBe(2);
  expect(slopes[0]).toBeCloseTo(0.1 * scale, 2);
  expect(slopes[1]).toBeCloseTo(-0.2 * scale, 2);
  expect(surface!.steepest).toEqual(surface!.stretches[1]);
  expect(surface!.climbMeters).toBeCloseTo(4.05, 2);
  expect(surface!.fallMeters).toBeCloseTo(11.9, 2);
});

test('off the ground: no heights there, and said so', () => {
  const level = groundWith(() => 200);
  const half = sectionOf(level, [100, 0], [200, 0]);
  expect(half.findings[0]).toMatchObject({ level: 'caution', code: 'partly-off-ground' });
  expect(half.surface!.coveredShare).toBeCloseTo(0.5, 1);
  half.surface!.stationsMeters.forEach((s, i) => {
    expect(half.surface!.elevationsMeters[i]).toBe(s * scale <= 50.001 ? 200 : null);
  });
  const off = sectionOf(level, [300, 0], [400, 0]);
  expect([off.surface, off.findings[0].code]).toEqual([null, 'off-ground']);
  const none = sectionOf(null, [0, 0], [30, 40]);
  expect([none.surface, none.findings[0].code]).toEqual([null, 'no-ground']);
  expect(none.value.lengthMeters).toBeCloseTo(50 / scale, 2);
});

test('a very long line is read at no more than 8,193 places and a corner each', () => {
  const far = sectionOf(
    groundWith(() => 200),
    [0, 0],
    [90_000, 0],
    [90_000, 500],
  );
  expect(far.surface!.stationsMeters.length).toBeLessThanOrEqual(8195);
});

describe('stretches', () => {
  test('the header’s example', () => {
    expect(stretchesOf([0, 10, 20, 30], [0, 1, 2, 1], 0.1)).toEqual([
      { fromStationMeters: 0, toStationMeters: 20, slope: 0.1 },
      { fromStationMeters: 20, toStationMeters: 30, slope: -0.1 },
    ]);
  });

  test('break at gaps, and leave single heights out', () => {
    const stretches = stretchesOf([0, 1, 2, 3, 4, 5], [0, 1, NaN, 5, NaN, 7], 0.1);
    expect(stretches).toEqual([{ fromStationMeters: 0, toStationMeters: 1, slope: 1 }]);
    expect(stretchesOf([], [], 1)).toEqual([]);
  });

  test('no height strays past the tolerance, and stretches join end to end', () => {
    const stations = Array.from({ length: 500 }, (_, i) => i * 0.7);
    const heights = stations.map((s) => 5 * Math.sin(s / 20) + Math.cos(s / 3) * 0.3);
    const stretches = stretchesOf(stations, heights, 0.2);
    expect(stretches.length).toBeGreaterThan(5);
    expect(stretches.length).toBeLessThan(150);
    stretches.slice(1).forEach((s, i) => {
      expect(s.fromStationMeters).toBe(stretches[i].toStationMeters);
    });
    stations.forEach((s, i) => {
      const on = stretches.find((t) => s >= t.fromStationMeters && s <= t.toStationMeters)!;
      const start = heights[stations.indexOf(on.fromStationMeters)];
      expect(Math.abs(start + on.slope * (s - on.fromStationMeters) - heights[i])).toBeLessThan(
        0.2 + 1e-9,
      );
    });
  });
});

describe('plain measures', () => {
  const ground = groundWith((x) => 200 + x / 10);
  const shapes: Record<PlanGeometry['type'], PlanGeometry> = {
    Point: { type: 'Point', coordinates: at(20, 30) },
    LineString: line([0, 0], [30, 40], [90, 40]),
    Polygon: polygon(rectangle(0, 0, 40, 20), rectangle(10, 5, 10, 10)),
  };

  test('every kind has some answer about itself, drawn any way it may be', () => {
    for (const kind of kindNames) {
      for (const type of kinds[kind].geometry) {
        const shape = drawn(kind, shapes[type]);
        // As the plan would hold it, what is not said filled in.
        const parsed = parseFeature({ ...shape, properties: { ...firstProperties[kind] } });
        if (!parsed.ok) throw new Error(`${kind}: ${parsed.problem.what}`);
        const feature = parsed.value;
        const answers = answersOf([feature], ground).features['it'];
        const own = Object.values(answers ?? {}).filter((a) => a !== null);
        expect(own.length, `${kind} as ${type}`).toBeGreaterThan(0);
      }
    }
  });

  const measureOf = (kind: Kind, geometry: PlanGeometry, on: GroundInUse | null = ground) =>
    answersOf([drawn(kind, geometry)], on).features['it'].shapeMeasure?.value as ShapeMeasure;

  test('a point’s height, a line’s length and ends, an area less its hole', () => {
    expect(measureOf('note', shapes.Point)).toEqual({
      shape: 'point',
      elevationMeters: expect.closeTo(202, 3),
    });
    const lane = measureOf('lane', shapes.LineString);
    expect(lane).toEqual({
      shape: 'line',
      lengthMeters: lineLengthMeters(
        (shapes.LineString as Extract<PlanGeometry, { type: 'LineString' }>).coordinates,
      ),
      startElevationMeters: expect.closeTo(200, 3),
      endElevationMeters: expect.closeTo(209, 3),
    });
    expect((lane as { lengthMeters: number }).lengthMeters).toBeCloseTo(110 / scale, 2);
    const area = measureOf('clearing', shapes.Polygon) as Extract<ShapeMeasure, { shape: 'area' }>;
    expect(area.areaSquareMeters).toBeCloseTo(700 / scale ** 2, 1);
    expect(area.perimeterMeters).toBeCloseTo(160 / scale, 2);
    const { coordinates } = shapes.Polygon as Extract<PlanGeometry, { type: 'Polygon' }>;
    expect(area.areaSquareMeters).toBe(measurePolygon(coordinates).areaSquareMeters);
  });

  test('no height off the ground or without one; no area for a crossed outline', () => {
    expect(measureOf('note', { type: 'Point', coordinates: at(900, 0) })).toEqual({
      shape: 'point',
      elevationMeters: null,
    });
    expect(measureOf('outlet', shapes.Point, null)).toEqual({
      shape: 'point',
      elevationMeters: null,
    });
    const crossed: XY[] = [
      [0, 0],
      [40, 40],
      [40, 0],
      [0, 40],
    ];
    expect(measureOf('clearing', polygon(crossed))).toBeUndefined();
  });
});

describe('standing water along a line', () => {
  const runs = (stations: number[], heights: number[], levels: number[]) =>
    standingRuns(
      Float64Array.from(stations),
      Float64Array.from(heights),
      Float64Array.from(levels),
    );

  test('its edges are where straight ground comes up to it', () => {
    // A V of 1 in 5: water 1 over its foot reaches 5 to each side.
    expect(runs([0, 10, 20], [2, 0, 2], [1, 1, 1])).toEqual([
      {
        fromStationMeters: 5,
        toStationMeters: 15,
        levelMeters: 1,
        maxDepthMeters: 1,
        deepestStationMeters: 10,
      },
    ]);
    expect(runs([0, 10, 20], [2, 0, 2], [-Infinity, -Infinity, -Infinity])).toEqual([]);
  });

  test('two waters, the end of the line and ground without heights part them', () => {
    const found = runs(
      [0, 1, 2, 3, 4, 5, 6],
      [0, 0, 1, 4, 1, 1, Number.NaN],
      [2, 2, 2, 3, 3, 3, 3],
    );
    expect(
      found.map((run) => [run.fromStationMeters, run.toStationMeters, run.levelMeters]),
    ).toEqual(
      [
        [0, 2 + 1 / 3, 2],
        [4 - 1 / 3 - 1 / 3, 5, 3],
      ].map(([from, to, level]) => [expect.closeTo(from!, 12), expect.closeTo(to!, 12), level]),
    );
    // At a wall that holds one water off the other, halfway between the two stations.
    expect(runs([0, 1], [0, 0], [2, -Infinity])[0]!.toStationMeters).toBe(0.5);
    expect(() => runs([0, 1], [0], [1, 1])).toThrow(RangeError);
  });

  test('in a cone the section’s water is as wide and deep as the storm’s', () => {
    // A cone of 1 in 20 that drains nowhere, its foot in the middle of a cell.
    const cone = groundWith((x, y) => 200 + Math.min(2, 0.05 * Math.hypot(x - 50.5, y - 30.5)));
    const across = [
      [0, 30.5],
      [101, 30.5],
    ] as XY[];
    const { site, features } = answersOf([drawn('section-line', line(...across))], cone);
    const { runs: found } = features['it']!.sectionWater!.value;
    expect(found).toHaveLength(1);
    const { fromStationMeters, toStationMeters, maxDepthMeters, levelMeters } = found[0]!;
    const pool = site.storm!.value.pools[0]!;
    expect(maxDepthMeters).toBeCloseTo(pool.maxDepthMeters, 4);
    expect(levelMeters - 200).toBeCloseTo(maxDepthMeters, 3);
    // A water as deep as that on 1 in 20 reaches twenty times as far to both sides.
    const middle = 50.5 / scale;
    expect(Math.abs(middle - fromStationMeters - (20 * maxDepthMeters) / scale)).toBeLessThan(0.02);
    expect(Math.abs(toStationMeters - middle - (20 * maxDepthMeters) / scale)).toBeLessThan(0.02);
  });
});
