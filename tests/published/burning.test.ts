import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  burnClearances,
  usualClearances,
  type ClearanceTarget,
} from '../../geo/debris/burn-clearances.ts';
import { burnEmissions, pileDryKilograms, pileQuality } from '../../geo/debris/burn-emissions.ts';
import { burnLayout } from '../../geo/debris/burn-layout.ts';
import { shapeDistance, type PlaneShape } from '../../geo/plan/shape-distance.ts';
import { problemOf, valueOf } from '../result-value.ts';

const FOOT = 0.3048;
const TON = 907.18474;
const POUND = TON / 2000;
type XY = readonly [number, number];
const area = (...ring: XY[]): PlaneShape => ({ kind: 'area', paths: [ring] });
const box = (x: number, y: number, w: number, h: number) => area([x, y], [x + w, y], [x + w, y + h], [x, y + h]); // prettier-ignore
const line = (...path: XY[]): PlaneShape => ({ kind: 'line', paths: [path] });
const point = (x: number, y: number): PlaneShape => ({ kind: 'point', paths: [[[x, y]]] });

describe('what burning gives off (handbook §2, worked chain, and §12.2)', () => {
  test('half ellipsoid of 20 × 30 × 10 ft: 7.94 tons, 6.75 consumed, 115 lb of PM2.5', () => {
    const kilograms = valueOf(pileDryKilograms(3141.59 * FOOT ** 3, 0.2, 0.1, 450));
    expect(kilograms / TON).toBeCloseTo(7.94, 2);
    const exact = (value: number) => ({ low: value, likely: value, high: value });
    const burnt = valueOf(burnEmissions(exact(kilograms), new Map([['douglas-fir', 1]]), pileQuality(0.1), exact(0.85))); // prettier-ignore
    expect(burnt.consumedKilograms.likely / TON).toBeCloseTo(6.75, 2);
    expect(Math.round(burnt.pm25.likely / POUND)).toBe(115);
    expect(burnt.pm).toBeNull();
    // AP-42: 90 lb of CO to the ton for Douglas-fir, 5.7 of methane.
    expect(burnt.co.likely / POUND).toBeCloseTo(90 * (burnt.consumedKilograms.likely / TON), 6);
    expect(burnt.ch4.likely / POUND).toBeCloseTo(5.7 * (burnt.consumedKilograms.likely / TON), 6);
  });

  test('carbon in is carbon out; dirtier is smokier; clean has all three sizes', () => {
    const mass = { low: 800, likely: 1000, high: 1200 };
    const of = (soil: number) => valueOf(burnEmissions(mass, new Map([['pine', 3], ['mixed-hardwood', 1]]), pileQuality(soil))); // prettier-ignore
    const { consumedKilograms, co, ch4, co2 } = of(0);
    for (const at of ['low', 'likely', 'high'] as const) {
      const carbon = (co[at] * 12) / 28 + (ch4[at] * 12) / 16 + (co2[at] * 12) / 44;
      expect(carbon / consumedKilograms[at]).toBeCloseTo(0.5, 12);
    }
    expect(co.likely / consumedKilograms.likely).toBeCloseTo((0.75 * 195 + 0.25 * 140) / 2000, 12);
    const smoke = [0, 0.05, 0.2].map((soil) => of(soil).pm25.likely);
    expect(smoke).toEqual([...smoke].sort((a, b) => a - b));
    const clean = of(0);
    expect(clean.ash.likely).toBeCloseTo(8.75, 12);
    expect(clean.pm!.likely).toBeGreaterThan(clean.pm10!.likely);
    expect(clean.pm10!.likely).toBeGreaterThan(clean.pm25.likely);
    expect([pileQuality(0), pileQuality(0.1), pileQuality(0.11)]).toEqual(['clean', 'dirty', 'very-dirty']); // prettier-ignore
  });

  test('what is no number is refused', () => {
    const mass = { low: 1, likely: 1, high: 1 };
    for (const value of [NaN, -1, Infinity]) {
      const bad = { low: value, likely: value, high: value };
      expect(problemOf(burnEmissions(bad, new Map(), 'clean'))).toBe('number-out-of-range');
      expect(problemOf(burnEmissions(mass, new Map(), 'clean', bad))).toBe('number-out-of-range');
      expect(problemOf(burnEmissions(mass, new Map([['pine', value]]), 'clean'))).toBe('number-out-of-range'); // prettier-ignore
      expect(problemOf(pileDryKilograms(value, 0.2, 0, 450))).toBe('number-out-of-range');
    }
    expect(problemOf(pileDryKilograms(1, 1.2, 0, 450))).toBe('number-out-of-range');
  });
});

describe('clearances', () => {
  test('the demo’s centre windrow: face 109 ft from the trees, past 82 and 100 ft; an edge berm is short (trade notes §6.6)', () => {
    // The plot is 243 ft wide; its windrow 24 ft, along the middle.
    const plotWidth = 243 * FOOT;
    const windrow = box(0, plotWidth / 2 - 12 * FOOT, 100, 24 * FOOT);
    const trees: ClearanceTarget[] = [
      { id: 'north', from: 'standing-trees', shape: line([-50, plotWidth], [150, plotWidth]) },
      { id: 'south', from: 'standing-trees', shape: line([-50, 0], [150, 0]) },
    ];
    const [centre] = valueOf(burnClearances([{ id: 'windrow', shape: windrow }], trees)).clearances;
    expect(centre!.between.meters / FOOT).toBeCloseTo(109.5, 6);
    expect(centre!.rules.map(({ shortMeters }) => shortMeters)).toEqual([0, 0]);
    const edge = box(0, 2, 100, 24 * FOOT);
    const [short] = valueOf(burnClearances([{ id: 'berm', shape: edge }], trees)).clearances;
    expect(short).toMatchObject({ targetId: 'south' });
    expect(short!.between.meters).toBeCloseTo(2, 12);
    expect(short!.rules.map(({ shortMeters }) => shortMeters)).toEqual([expect.closeTo(28.48, 9), expect.closeTo(23, 9)]); // prettier-ignore
  });

  test('each kind its own figure; what nobody has drawn is unknown, not clear; frame to ground', () => {
    const targets: ClearanceTarget[] = [
      { id: 'house', from: 'neighbour-dwelling', shape: point(0, 150) },
      { id: 'far house', from: 'neighbour-dwelling', shape: point(0, 900) },
      { id: 'barn', from: 'own-building', shape: box(-40, -5, 10, 10) },
      { id: 'wire', from: 'power-line', shape: line([20, -100], [20, 100]) },
      { id: 'edge', from: 'property-line', shape: line([-100, -30], [100, -30]) },
    ];
    const fire = [{ id: 'heap', shape: box(-5, -5, 10, 10) }];
    const { clearances, notDrawn } = valueOf(burnClearances(fire, targets));
    expect(notDrawn).toEqual(['standing-trees', 'road']);
    const found = clearances.map((c) => [c.from, c.targetId, c.between.meters, c.rules[0]?.shortMeters]); // prettier-ignore
    expect(found).toEqual([
      ['neighbour-dwelling', 'house', 145, expect.closeTo(7.4, 9)],
      ['own-building', 'barn', 25, expect.closeTo(5.48, 9)],
      ['power-line', 'wire', 15, expect.closeTo(15.48, 9)],
      ['property-line', 'edge', 25, undefined],
    ]);
    const scaled = valueOf(burnClearances(fire, targets, usualClearances, 1 / 0.9996)).clearances;
    expect(scaled[0]!.between.meters).toBeCloseTo(145 / 0.9996, 9);
  });

  test('inside, crossing or touching is no distance; from and to lie on both', () => {
    const square = box(0, 0, 10, 10);
    for (const other of [box(2, 2, 3, 3), box(-5, -5, 30, 30), line([-5, 5], [15, 6]), point(3, 3), box(10, 0, 5, 5)]) {
      expect(shapeDistance(square, other).meters).toBe(0);
      expect(shapeDistance(other, square).meters).toBe(0);
    } // prettier-ignore
    const holed: PlaneShape = { kind: 'area', paths: [[[0, 0], [30, 0], [30, 30], [0, 30]], [[10, 10], [20, 10], [20, 20], [10, 20]]] }; // prettier-ignore
    expect(shapeDistance(holed, point(15, 14)).meters).toBe(4);
    expect(shapeDistance(square, box(40, 0, 10, 10))).toMatchObject({ meters: 30 });
    expect(() => shapeDistance(square, { kind: 'line', paths: [] })).toThrow(RangeError);
    expect(() => shapeDistance(square, point(NaN, 0))).toThrow(RangeError);
  });

  test('distance of seeded outlines: what a fine walk round both finds; alike both ways; turned alike', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const ring = fc.array(fc.tuple(number(-40, 40), number(-40, 40)), {
      minLength: 3,
      maxLength: 6,
    });
    const walk = (shape: PlaneShape): XY[] =>
      shape.paths[0]!.flatMap(([x, y], i, path) => {
        const [nx, ny] = path[(i + 1) % path.length]!;
        return Array.from({ length: 60 }, (_, k): XY => [x + ((nx - x) * k) / 60, y + ((ny - y) * k) / 60]); // prettier-ignore
      });
    fc.assert(
      fc.property(ring, ring, number(0, 6), (some, others, turn) => {
        const [a, b] = [area(...some), area(...others.map(([x, y]): XY => [x + 70, y]))];
        const found = shapeDistance(a, b);
        expect(shapeDistance(b, a).meters).toBeCloseTo(found.meters, 9);
        let least = Infinity;
        for (const p of walk(a)) for (const q of walk(b)) least = Math.min(least, Math.hypot(p[0] - q[0], p[1] - q[1])); // prettier-ignore
        expect(found.meters).toBeLessThanOrEqual(least + 1e-9);
        // Steps of the walk are at most 114 / 60 m.
        expect(found.meters).toBeGreaterThan(least - 2);
        const turned = (shape: PlaneShape): PlaneShape => {
          const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
          return { ...shape, paths: shape.paths.map((path) => path.map(([x, y]): XY => [x * cos - y * sin, x * sin + y * cos])) }; // prettier-ignore
        };
        expect(shapeDistance(turned(a), turned(b)).meters).toBeCloseTo(found.meters, 8);
        expect(Math.hypot(found.to[0] - found.from[0], found.to[1] - found.from[1])).toBeCloseTo(found.meters, 9); // prettier-ignore
      }),
      { seed: 20_261_133, numRuns: 25 },
    );
  });

  test('a rule that is no number, a shape without place: refused in words', () => {
    const fire = [{ id: 'heap', shape: box(0, 0, 9, 9) }];
    for (const meters of [NaN, -1, Infinity]) {
      expect(problemOf(burnClearances(fire, [], [{ from: 'road', meters, source: 'usual' }]))).toBe('number-out-of-range'); // prettier-ignore
    }
    expect(problemOf(burnClearances([{ id: 'heap', shape: area() }], []))).toBe('shape-empty');
    expect(problemOf(burnClearances(fire, [{ id: 'x', from: 'road', shape: point(NaN, 1) }]))).toBe('shape-empty'); // prettier-ignore
  });
});

test('layout of a burning windrow: 60 m, 8 m, 6 m (handbook §12.1)', () => {
  const value = valueOf(burnLayout([[0, 61], [66, 106]], 7.3)); // prettier-ignore
  expect(value.tooLong).toEqual([{ part: 0, overMeters: expect.closeTo(1, 9) }]);
  expect(value.tooNarrow).toEqual([{ after: 0, shortMeters: expect.closeTo(3, 9) }]);
  expect(value.widerMeters).toBeCloseTo(1.3, 12);
  const good = valueOf(burnLayout([[0, 60], [68, 128]], 6)); // prettier-ignore
  expect(good).toEqual({ tooLong: [], tooNarrow: [], widerMeters: 0 });
  expect(valueOf(burnLayout([], 5)).tooLong).toEqual([]);
  expect(problemOf(burnLayout([[5, 2]], 5))).toBe('number-out-of-range');
  expect(problemOf(burnLayout([[0, NaN]], 5))).toBe('number-out-of-range');
  expect(problemOf(burnLayout([], 0))).toBe('number-out-of-range');
});
