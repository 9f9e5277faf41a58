import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { outlineHeightAt } from '../../geo/debris/heap-height.ts';
import { blankProperties } from '../../geo/plan/kinds.ts';
import { heapHeight } from '../../geo/debris/point-heap.ts';
import { dammedWater } from '../../geo/water/dammed-water.ts';
import { flowCatchments } from '../../geo/water/flow-lines.ts';
import { lineCrossings } from '../../geo/water/line-crossings.ts';
import { waterWays } from '../../geo/water/water-way.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { finish } from '../../geo/work.ts';
import { fillDepressions } from '../../geo/water/fill-depressions.ts';
import { seeded } from '../seeded.ts';

const seed = 20_261_125;
const frame = { proj: '+proj=utm +zone=18 +ellps=GRS80', name: 'test' } as unknown as Grid['frame'];

function gridOf(width: number, height: number, at: (column: number, row: number) => number): Grid {
  const data = Float32Array.from({ length: width * height }, (_, i) =>
    at(i % width, Math.floor(i / width)),
  );
  const place = { west: 0, north: height, cellWidth: 1, cellHeight: 1 };
  return { ...place, width, height, data, frame, cellGroundAreaSquareMeters: 1, convergenceDegrees: 0 }; // prettier-ignore
}

/** A trough that falls south 1 in 100 between upright walls, and a dam across it. */
function trough(damHeight: number) {
  const before = gridOf(11, 220, (c, r) => (c < 2 || c > 8 ? 50 : 12 - r / 100));
  const after = before.data.slice();
  for (let c = 2; c < 9; c++) after[150 * 11 + c] = before.data[150 * 11 + c]! + damHeight;
  return { before, after };
}

describe('what a dam holds back', () => {
  test('across a trough falling 1 % a wall of 1 m dams a wedge 100 m long (by hand)', () => {
    const { before, after } = trough(1);
    const { ponds } = finish(dammedWater(before, after));
    expect(ponds).toHaveLength(1);
    // Rows 51 to 149 lie under the water, seven cells wide; the wedge is 7 × Σ k/100.
    expect(ponds[0]!.areaSquareMeters / 7).toBeGreaterThanOrEqual(98);
    expect(ponds[0]!.areaSquareMeters / 7).toBeLessThanOrEqual(100);
    expect(ponds[0]!.maxDepthMeters).toBeCloseTo(0.99, 3);
    expect(ponds[0]!.volumeCubicMeters).toBeCloseTo((7 * 99 * 100) / 2 / 100, 1);
    expect(ponds[0]!.touchesRim).toBe(false);
  });

  test('is the difference of two plain floods; a gap never dams more; turned round, the same', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e9 }), (chance) => {
        const random = seeded(chance);
        const before = gridOf(24, 20, (c, r) => Math.round(4 * (0.2 * r + 0.1 * c + random())) / 4);
        const wall = 8 + Math.floor(random() * 4);
        const laid = (gap: number) => {
          const after = before.data.slice();
          for (let c = 3; c < 21; c++) if (c !== gap) after[wall * 24 + c]! += 2;
          return after;
        };
        const after = laid(-1);
        const dammed = finish(dammedWater(before, after));
        const plain = finish(fillDepressions({ ...before, data: after }));
        const bare = finish(fillDepressions(before));
        let volume = 0;
        for (let i = 0; i < after.length; i++) {
          if (after[i] === before.data[i]) volume += Math.max(0, plain[i]! - bare[i]!);
        }
        const sum = dammed.ponds.reduce((all, pond) => all + pond.volumeCubicMeters, 0);
        expect(sum).toBeCloseTo(volume, 6);
        const open = finish(dammedWater(before, laid(3 + Math.floor(random() * 18))));
        const left = open.ponds.reduce((all, pond) => all + pond.volumeCubicMeters, 0);
        expect(left).toBeLessThanOrEqual(sum + 1e-9);
        const turned = finish(
          dammedWater({ ...before, data: before.data.toReversed() }, after.toReversed()),
        );
        expect(turned.ponds.reduce((all, pond) => all + pond.volumeCubicMeters, 0)).toBeCloseTo(sum, 6); // prettier-ignore
        expect(finish(dammedWater(before, before.data)).ponds).toEqual([]);
      }),
      { seed, numRuns: 60 },
    );
  });
});

describe('where water crosses a line', () => {
  test('a straight draw is crossed once, where it is, by all that drains into it', () => {
    const ground = gridOf(61, 80, (c, r) => 40 - 0.1 * r + 0.2 * Math.abs(c - 24));
    const { areaSquareMeters } = finish(flowCatchments(ground, ground.data));
    const line = [[1, 40.5], [60, 40.5]] as const; // prettier-ignore
    const found = lineCrossings(ground, areaSquareMeters, line, {
      minSquareMeters: 300,
      apartMeters: 6,
    });
    expect(found).toHaveLength(1);
    // A line is taken to meet a flow line in the cell beside it.
    expect(Math.abs(found[0]!.stationMeters - (24.5 - 1))).toBeLessThanOrEqual(1.5);
    // On a valley side that falls 2 across for 1 along, rows up to 40 send all but a wedge there.
    expect(found[0]!.catchmentSquareMeters).toBeGreaterThan(40 * 20);
    expect(found[0]!.catchmentSquareMeters).toBeLessThan(61 * 41);
  });

  test('on a plane nothing crosses more than elsewhere, and water goes straight down', () => {
    const ground = gridOf(40, 40, (_c, r) => 40 - r);
    const { areaSquareMeters } = finish(flowCatchments(ground, ground.data));
    const line = [[2, 20.5], [38, 20.5]] as const; // prettier-ignore
    const limits = { minSquareMeters: 1, apartMeters: 5 };
    const inside = lineCrossings(ground, areaSquareMeters, line, limits).filter(
      ({ stationMeters }) => stationMeters > 10 && stationMeters < 26,
    );
    expect(inside).toEqual([]);
    const [way] = finish(waterWays(ground, [5 * 40 + 17]));
    expect(way).toEqual(Array.from({ length: 35 }, (_, i) => (5 + i) * 40 + 17));
  });
});

test('a heap said by its sizes holds πhwl/8 (Hardy 1996, the paraboloid: 1256.64 at h 8, w 20)', () => {
  const said = { ...blankProperties('heap'), lengthMeters: 20, widthMeters: 20, heightMeters: 8 };
  let volume = 0;
  const step = 0.05;
  for (let x = -10; x < 10; x += step) for (let y = -10; y < 10; y += step) volume += heapHeight(said, x + step / 2, y + step / 2) * step * step; // prettier-ignore
  expect(Math.abs(volume / 1256.64 - 1)).toBeLessThan(0.001);
  const square = [[0, 0], [20, 0], [20, 20], [0, 20], [0, 0]] as [number, number][]; // prettier-ignore
  const drawn = outlineHeightAt([square], 3);
  expect(drawn(1, 10)).toBe(1);
  expect(drawn(10, 10)).toBe(3);
});
