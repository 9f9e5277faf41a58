import { expect, test } from 'vitest';
import { curveTicks } from '../../app/words/curve-ticks.ts';
import { stageStorage } from '../../geo/water/stage-storage.ts';
import { damFeatures } from '../../layers/plan/dam-layers.ts';
import { flowFeatures, flowWidth } from '../../layers/plan/flow-layers.ts';
import { offsetFrom } from '../answers-rig.ts';
import { demoAnswers } from '../demo-answers.ts';

test('a cone fills as πr²h/3 with the cube of its depth (closed form)', () => {
  const radius = 60;
  const heights: number[] = [];
  for (let x = -radius; x <= radius; x++) {
    for (let y = -radius; y <= radius; y++) {
      const away = Math.hypot(x, y);
      if (away < radius) heights.push(100 + (2 * away) / radius);
    }
  }
  const stages = stageStorage(heights, 102, 1);
  expect(stages).toHaveLength(11);
  const whole = (Math.PI * radius ** 2 * 2) / 3;
  for (const [k, { depthMeters, volumeCubicMeters, areaSquareMeters }] of stages.entries()) {
    expect(depthMeters).toBeCloseTo(0.2 * k, 9);
    expect(Math.abs(volumeCubicMeters - whole * (k / 10) ** 3)).toBeLessThan(0.002 * whole);
    expect(Math.abs(areaSquareMeters - Math.PI * (0.1 * k * radius) ** 2)).toBeLessThan(0.01 * Math.PI * radius ** 2); // prettier-ignore
  }
  expect(() => stageStorage([], 1, 1)).toThrow(RangeError);
});

test('a line is cut where its width changes, and no piece is lost', () => {
  const line = [[0, 0], [0, 1], [0, 2], [0, 3]] as const; // prettier-ignore
  const shapes = { lines: [{ line, catchmentSquareMeters: [2500, 2600, 30_000, 90_000] }] };
  const { features } = flowFeatures({ ...shapes, catchment: [], ringAt: [1, 1] });
  const pieces = features.flatMap(({ geometry }) =>
    geometry.type === 'LineString' ? [geometry.coordinates] : [],
  );
  expect(pieces).toEqual([[[0, 0], [0, 1], [0, 2]], [[0, 2], [0, 3]]]); // prettier-ignore
  expect(features.at(-1)!.geometry).toEqual({ type: 'Point', coordinates: [1, 1] });
  expect(flowWidth(90_000)).toBeGreaterThan(flowWidth(2500));
});

/** From a place to a line, metres. */
function awayMeters(
  line: readonly (readonly [number, number])[],
  at: readonly [number, number],
): number {
  const near = line.map((place) => offsetFrom([...at], place));
  return near.slice(1).reduce((least, [bx, by], i) => {
    const [ax, ay] = near[i]!;
    const [dx, dy] = [bx - ax, by - ay];
    const share = Math.min(1, Math.max(0, -(ax * dx + ay * dy) / (dx * dx + dy * dy)));
    return Math.min(least, Math.hypot(ax + share * dx, ay + share * dy));
  }, Infinity);
}

test('the demo’s low spots by themselves agree with the list; its flow lines run downhill', async () => {
  const { site } = await demoAnswers();
  const { lines, thresholdSquareMeters } = site.flowLines!.value;
  expect(lines.length).toBeGreaterThan(10);
  for (const { line, catchmentSquareMeters, into } of lines) {
    expect(line.length).toBe(catchmentSquareMeters.length);
    expect(catchmentSquareMeters[0]).toBeGreaterThanOrEqual(thresholdSquareMeters);
    // A line ends in none, or in one that drains no less.
    if (into !== null) {
      const most = Math.max(...lines[into]!.catchmentSquareMeters);
      expect(most).toBeGreaterThanOrEqual(catchmentSquareMeters.at(-1)! * 0.999);
    }
  }
  const listed = site.lowSpots!.value.lowSpots;
  for (const spot of site.spotDetails!.value.spots) {
    const same = listed.find(({ id }) => id === spot.id)!;
    const brim = spot.stages.at(-1)!;
    expect(Math.abs(brim.volumeCubicMeters / same.volumeCubicMeters - 1)).toBeLessThan(1e-6);
    expect(Math.abs(brim.areaSquareMeters / same.areaSquareMeters - 1)).toBeLessThan(1e-9);
    expect(brim.depthMeters).toBeCloseTo(same.maxDepthMeters, 6);
    expect(spot.catchmentSquareMeters).toBeGreaterThan(brim.areaSquareMeters);
    expect(spot.catchment.length).toBeGreaterThan(0);
    // A flow line that carries its water leaves over its outlet (thinned lines stray by a cell).
    const drains = lines.filter(({ catchmentSquareMeters }) =>
      catchmentSquareMeters.some((area) => area >= 0.9 * spot.catchmentSquareMeters),
    );
    if (spot.catchmentSquareMeters < 1.2 * thresholdSquareMeters) continue;
    const strays = drains.map(({ line }) => awayMeters(line, spot.spillsAt));
    expect(Math.min(...strays)).toBeLessThan(1.5);
  }
  // Trade notes §6.6: P1's catchment is 17.3 ac.
  const p1 = site.spotDetails!.value.spots[0]!.catchmentSquareMeters / 4046.8564;
  expect(Math.abs(p1 / 17.3 - 1)).toBeLessThan(0.2);
});

test('ponds with their words, turned water and gaps each stand on the map once', () => {
  const ring = [[0, 0], [0, 1], [1, 1], [0, 0]] as const; // prettier-ignore
  const { features } = damFeatures({
    ponds: [{ polygons: [[ring]], labelAt: [0.2, 0.4], label: 'dams 0.66 ac, about 14 in' }],
    turned: [[[0, 0], [1, 0]], [[0, 0]]], // prettier-ignore
    gaps: [{ at: [1, 0], label: 'gap at 2+06' }],
  });
  expect(features.map(({ properties, geometry }) => [properties!['is'], geometry.type])).toEqual([
    ['pond', 'MultiPolygon'],
    ['pond-label', 'Point'],
    // A way of one place is none.
    ['turned', 'LineString'],
    ['gap', 'Point'],
  ]);
});

test('an axis carries round figures within its end, five steps at the most', () => {
  expect(curveTicks(19.1)).toEqual([0, 5, 10, 15].map((n) => ({ at: n / 19.1, text: String(n) })));
  expect(curveTicks(682).map(({ text }) => text)).toEqual(['0', '200', '400', '600']);
  expect(curveTicks(2).map(({ text }) => text)).toEqual(['0.0', '0.5', '1.0', '1.5', '2.0']);
  expect(curveTicks(1234).map(({ text }) => text)).toEqual(['0', '500', '1,000']);
  expect(curveTicks(0)).toEqual([]);
});
