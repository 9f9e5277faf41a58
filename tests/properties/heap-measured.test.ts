import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { heapReestimate, tapedVolume } from '../../geo/debris/heap-reestimate.ts';
import {
  pileHeightAt,
  pileOutline,
  pileVolume,
  type PileShape,
} from '../../geo/debris/pile-shapes.ts';
import { surveyedHeap } from '../../geo/debris/surveyed-heap.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { frame } from '../construct-rig.ts';
import { problemOf, valueOf } from '../result-value.ts';

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** A grid round (0, 0) of the demo's frame, heights by place. */
function gridOf(cell: number, half: number, at: (x: number, y: number) => number): Grid {
  const width = Math.round((2 * half) / cell);
  const place = { width, height: width, west: 500_000 - half, north: 4_000_000 + half, cellWidth: cell, cellHeight: cell }; // prettier-ignore
  const data = Float32Array.from({ length: width * width }, (_, i) =>
    at(-half + ((i % width) + 0.5) * cell, half - (Math.floor(i / width) + 0.5) * cell),
  );
  return makeGrid(place, data, frame);
}

const outlineOf = (shape: PileShape, grow = 1.05) => [
  pileOutline(shape).map(([x, y]) => [500_000 + x * grow, 4_000_000 + y * grow] as const),
];
/** UTM on its middle meridian: frame metres are 0.9996 of the ground's. */
const ground2 = 0.9996 ** -2;

describe('a surveyed heap', () => {
  test('is as large as it was made, on any slope, cell or shape, to 1 %', () => {
    const shape = fc.oneof(
      fc.record({ kind: fc.constant('paraboloid' as const), width: number(8, 24), height: number(1, 5) }), // prettier-ignore
      fc.record({ kind: fc.constant('half-ellipsoid' as const), length: number(8, 24), width: number(8, 20), height: number(1, 5) }), // prettier-ignore
    );
    fc.assert(
      fc.property(
        shape,
        number(-0.2, 0.2),
        number(-0.2, 0.2),
        number(0.2, 0.4),
        (pile, a, b, cell) => {
          const plane = (x: number, y: number) => 230 + a * x + b * y;
          const surface = gridOf(cell, 16, (x, y) => plane(x, y) + pileHeightAt(pile, x, y));
          // The ground on cells of its own.
          const before = gridOf(1, 16, plane);
          const value = valueOf(surveyedHeap({ grid: surface, errorMeters: 0 }, { grid: before, errorMeters: 0 }, outlineOf(pile))); // prettier-ignore
          expect(
            Math.abs(value.cubicMeters.likely / (pileVolume(pile) * ground2) - 1),
          ).toBeLessThan(0.01);
          expect(value.cubicMeters.high - value.cubicMeters.low).toBeLessThan(1e-9);
          expect(value.missingShare).toBe(0);
          expect(Math.abs(value.greatestHeightMeters / pile.height - 1)).toBeLessThan(0.06);
        },
      ),
      { seed: 20_261_131, numRuns: 60 },
    );
  });

  const pile: PileShape = { kind: 'paraboloid', width: 20, height: 4 };
  const survey = (at: (x: number, y: number) => number, errorMeters = 0) => {
    return { grid: gridOf(0.5, 16, at), errorMeters };
  };
  const heap = survey((x, y) => 200 + pileHeightAt(pile, x, y), 0.06);
  const flat = survey(() => 200, 0.08);

  test('errors of 6 and 8 cm over its whole ground: ± 1.96 × 0.1 m × its area', () => {
    const value = valueOf(surveyedHeap(heap, flat, outlineOf(pile, 1)));
    const { low, likely, high } = value.cubicMeters;
    expect(likely - low).toBeCloseTo(0.196 * value.areaSquareMeters, 6);
    expect(high - likely).toBeCloseTo(0.196 * value.areaSquareMeters, 6);
    // 64 corners on a circle.
    expect(Math.abs(value.areaSquareMeters / (Math.PI * 100 * ground2) - 1)).toBeLessThan(0.002);
  });

  test('a hole is filled with the mean, widens the range, and too large a one is refused', () => {
    const holed = (share: number) =>
      survey((x, y) => (x < -10 + 20 * share ? NaN : 200 + pileHeightAt(pile, x, y)));
    const whole = valueOf(surveyedHeap(survey((x, y) => 200 + pileHeightAt(pile, x, y)), survey(() => 200), outlineOf(pile, 1))); // prettier-ignore
    const part = valueOf(
      surveyedHeap(
        holed(0.2),
        survey(() => 200),
        outlineOf(pile, 1),
      ),
    );
    expect(part.missingShare).toBeGreaterThan(0.1);
    expect(part.cubicMeters.low).toBeLessThan(whole.cubicMeters.likely);
    expect(part.cubicMeters.high).toBeGreaterThan(whole.cubicMeters.likely);
    expect(part.cubicMeters.high - part.cubicMeters.low).toBeGreaterThan(0.2 * whole.cubicMeters.likely); // prettier-ignore
    expect(problemOf(surveyedHeap(holed(0.7), flat, outlineOf(pile)))).toBe('heap-not-surveyed');
    expect(problemOf(surveyedHeap(heap, survey(() => NaN), outlineOf(pile)))).toBe('heap-not-surveyed'); // prettier-ignore
    // A pit counts against the heap, and is said.
    const pit = valueOf(surveyedHeap(survey((x) => (x < 0 ? 199 : 201)), survey(() => 200), outlineOf(pile, 1))); // prettier-ignore
    expect(Math.abs(pit.cubicMeters.likely)).toBeLessThan(1e-6);
    expect(pit.belowShare).toBeCloseTo(0.5, 6);
  });

  test('no outline, an outline elsewhere, an error that is none', () => {
    expect(problemOf(surveyedHeap(heap, flat, []))).toBe('heap-without-outline');
    expect(problemOf(surveyedHeap(heap, flat, [[[0, 0], [1, 0], [1, 1]]]))).toBe('heap-not-surveyed'); // prettier-ignore
    for (const errorMeters of [-1, NaN, Infinity]) {
      expect(problemOf(surveyedHeap({ ...heap, errorMeters }, flat, outlineOf(pile)))).toBe('number-out-of-range'); // prettier-ignore
    }
  });
});

describe('the whole job by the first heap', () => {
  const estimate = { low: 700, likely: 1000, high: 1500 };
  const measured = (likely: number, error = 0) => {
    return { low: likely * (1 - error), likely, high: likely * (1 + error) };
  };

  test('300 m³ from a quarter of it: 1,200, and the rest’s doubt to the power of √0.75', () => {
    const value = valueOf(heapReestimate(measured(300), 0.25, estimate));
    expect(value.ratio).toBeCloseTo(1.2, 12);
    expect(value.cubicMeters.likely).toBeCloseTo(1200, 9);
    expect(value.cubicMeters.low).toBeCloseTo(300 + 900 * 0.7 ** Math.sqrt(0.75), 9);
    expect(value.cubicMeters.high).toBeCloseTo(300 + 900 * 1.5 ** Math.sqrt(0.75), 9);
    expect(value.doubts).toEqual([]);
    expect(valueOf(heapReestimate(measured(300), 0.05, estimate)).doubts).toEqual(['little-cleared', 'far-from-estimate']); // prettier-ignore
    const done = valueOf(heapReestimate(measured(900, 0.1), 1, estimate)).cubicMeters;
    expect(done).toEqual(measured(900, 0.1));
  });

  test('the more is cleared, the narrower; never out of order', () => {
    fc.assert(
      fc.property(
        number(1, 5000),
        number(0.01, 0.99),
        number(0.01, 0.99),
        number(0, 0.1),
        (volume, s, t, tape) => {
          fc.pre(Math.abs(s - t) > 1e-6);
          const at = (share: number) => {
            const { cubicMeters } = valueOf(
              heapReestimate(measured(volume, tape), share, estimate),
            );
            expect(cubicMeters.low).toBeLessThanOrEqual(cubicMeters.likely);
            expect(cubicMeters.likely).toBeLessThanOrEqual(cubicMeters.high);
            return (cubicMeters.high - cubicMeters.low) / cubicMeters.likely;
          };
          expect(at(Math.max(s, t))).toBeLessThan(at(Math.min(s, t)));
        },
      ),
      { seed: 20_261_132, numRuns: 300 },
    );
  });

  test('taped: the handbook’s half ellipsoid and paraboloid, a windrow (§2)', () => {
    const pile = (shape: PileShape) => valueOf(tapedVolume({ kind: 'pile', shape }, 0)).likely;
    expect(pile({ kind: 'half-ellipsoid', length: 30, width: 20, height: 10 })).toBeCloseTo(
      3141.59,
      2,
    );
    expect(pile({ kind: 'paraboloid', width: 20, height: 8 })).toBeCloseTo(1256.64, 2);
    const section = { shape: 'parabola', baseWidthMeters: 20, heightMeters: 6 } as const;
    // 80 ft² on all but its ends, which are a paraboloid.
    const windrow = valueOf(tapedVolume({ kind: 'windrow', section, lengthMeters: 100 }));
    expect(windrow.likely).toBeCloseTo(80 * 80 + (Math.PI * 6 * 400) / 8, 6);
    expect(windrow.low).toBeCloseTo(0.9 * windrow.likely, 9);
  });

  test('what cannot be is refused in words', () => {
    for (const value of [NaN, -1, Infinity, 0]) {
      expect(problemOf(heapReestimate(measured(value), 0.5, estimate))).toBe('number-out-of-range');
      expect(problemOf(heapReestimate(measured(5), value, estimate))).toBe('number-out-of-range');
      expect(problemOf(heapReestimate(measured(5), 0.5, measured(value)))).toBe('number-out-of-range'); // prettier-ignore
      expect(problemOf(tapedVolume({ kind: 'pile', shape: { kind: 'half-sphere', height: value } }))).toBe('number-out-of-range'); // prettier-ignore
      const section = { shape: 'triangle', baseWidthMeters: 5, heightMeters: value } as const;
      expect(problemOf(tapedVolume({ kind: 'windrow', section, lengthMeters: 9 }))).toBe('number-out-of-range'); // prettier-ignore
    }
    expect(problemOf(heapReestimate(measured(5), 1.2, estimate))).toBe('number-out-of-range');
    expect(problemOf(tapedVolume({ kind: 'pile', shape: { kind: 'half-sphere', height: 2 } }, 1))).toBe('number-out-of-range'); // prettier-ignore
    expect(problemOf(heapReestimate({ low: 5, likely: 4, high: 6 }, 0.5, estimate))).toBe('low-above-high'); // prettier-ignore
  });
});
