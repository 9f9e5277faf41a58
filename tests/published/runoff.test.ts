import { describe, expect, test } from 'vitest';
import {
  compositeCurveNumber,
  pavedCurveNumber,
  rainForRunoff,
  retentionMeters,
  runoffMeters,
} from '../../geo/water/runoff.ts';
import { curveNumberOf, curveNumbers } from '../../geo/water/curve-numbers.ts';

// USDA SCS, Technical Release 55 (1986), by way of handbook §1; result figures of table 2-1 and of
// the examples are from memory of the publication (handbook mark M-high).
const inch = 0.0254;
const inches = (rain: number, curveNumber: number) => runoffMeters(rain * inch, curveNumber) / inch;

test('table 2-1: runoff depth for rain and curve number', () => {
  const numbers = [40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 98];
  const table: Record<string, number[]> = {
    1.0: [0, 0, 0, 0, 0, 0, 0, 0.03, 0.08, 0.17, 0.32, 0.56, 0.79],
    1.6: [0, 0, 0, 0, 0.01, 0.05, 0.11, 0.2, 0.34, 0.52, 0.76, 1.11, 1.38],
    2.0: [0, 0, 0, 0.02, 0.06, 0.14, 0.24, 0.38, 0.56, 0.8, 1.09, 1.48, 1.77],
    2.5: [0, 0, 0.02, 0.08, 0.17, 0.3, 0.46, 0.65, 0.89, 1.18, 1.53, 1.96, 2.27],
    3.0: [0, 0.02, 0.09, 0.19, 0.33, 0.51, 0.71, 0.96, 1.25, 1.59, 1.98, 2.45, 2.77],
    4.0: [0.06, 0.18, 0.33, 0.53, 0.76, 1.03, 1.33, 1.67, 2.04, 2.46, 2.92, 3.43, 3.77],
    5.0: [0.24, 0.44, 0.69, 0.98, 1.3, 1.65, 2.04, 2.45, 2.89, 3.37, 3.88, 4.42, 4.76],
    6.0: [0.5, 0.8, 1.14, 1.52, 1.92, 2.35, 2.81, 3.28, 3.78, 4.3, 4.85, 5.41, 5.76],
    8.0: [1.25, 1.74, 2.25, 2.78, 3.33, 3.89, 4.46, 5.04, 5.62, 6.21, 6.81, 7.4, 7.76],
    10.0: [2.23, 2.89, 3.56, 4.23, 4.9, 5.56, 6.22, 6.88, 7.52, 8.16, 8.78, 9.4, 9.76],
  };
  for (const [rain, row] of Object.entries(table)) {
    row.forEach((printed, i) => {
      expect(Math.abs(inches(Number(rain), numbers[i]!) - printed)).toBeLessThanOrEqual(0.00501);
    });
  }
});

test('table 4-1: initial abstraction is 0.2 S', () => {
  for (const [curveNumber, printed] of [
    [40, 3.0],
    [41, 2.878],
    [42, 2.762],
    [43, 2.651],
    [45, 2.444],
    [50, 2.0],
  ]) {
    expect((0.2 * retentionMeters(curveNumber!)) / inch).toBeCloseTo(printed!, 3);
  }
});

describe('examples 2-1 to 2-4 (6.0 in; ±0.01 in: 2-4 is printed from the table)', () => {
  const parts = (...list: [number, number][]) =>
    compositeCurveNumber(
      list.map(([acres, curveNumber]) => ({ areaSquareMeters: acres, curveNumber })),
    );
  test('2-1 pasture, good', () => {
    const composite = parts(
      [75, curveNumberOf('pasture-good', 'B')],
      [175, curveNumberOf('pasture-good', 'C')],
    );
    expect(composite).toBeCloseTo(70.1, 6);
    expect(Math.abs(inches(6, Math.round(composite)) - 2.81)).toBeLessThan(0.01);
  });
  test('2-2 half-acre lots', () => {
    const composite = parts([75, 70], [100, 80], [75, 74]);
    expect(Math.round(composite)).toBe(75);
    expect(Math.abs(inches(6, 75) - 3.28)).toBeLessThan(0.01);
  });
  test('2-3 more paving', () => {
    const b = Math.round(pavedCurveNumber(61, 0.35));
    const c = Math.round(pavedCurveNumber(74, 0.35));
    expect([b, c]).toEqual([74, 82]);
    expect(Math.round(parts([75, b], [100, c], [75, 74]))).toBe(77);
    expect(Math.abs(inches(6, 77) - 3.48)).toBeLessThan(0.01);
  });
  test('2-4 paving half unconnected', () => {
    // Printed 78, read off figure 2-4; lots of half an acre are 25 % paved.
    expect(Math.abs(pavedCurveNumber(74, 0.25, 0.5) - 78)).toBeLessThanOrEqual(0.5);
    expect(Math.round(parts([75, 70], [100, 78], [75, 74]))).toBe(74);
    expect(Math.abs(inches(6, 74) - 3.19)).toBeLessThan(0.01);
  });
});

test('SCS training module 104, p. 21: areas 220, 150, 30 ac give 81', () => {
  const composite = compositeCurveNumber([
    { areaSquareMeters: 220, curveNumber: 75 },
    { areaSquareMeters: 150, curveNumber: 89 },
    { areaSquareMeters: 30, curveNumber: 80 },
  ]);
  expect(composite).toBeCloseTo(80.625, 9);
});

test('the demo’s storms (trade notes §6.6)', () => {
  expect(inches(1.7, 70)).toBeCloseTo(0.139, 3);
  expect(inches(1.7, 73)).toBeCloseTo(0.198, 3);
  expect(inches(1.7, 77)).toBeCloseTo(0.297, 3);
  expect(inches(4.32, 73)).toBeCloseTo(1.76, 2);
});

test('food-plot example (own, handbook §1.6): 3.0 in on B', () => {
  expect(inches(3, curveNumberOf('woods-good', 'B'))).toBeCloseTo(0.195, 3);
  expect(inches(3, curveNumberOf('newly-graded', 'B'))).toBeCloseTo(1.662, 3);
  expect(inches(3, curveNumberOf('small-grain-good', 'B'))).toBeCloseTo(0.961, 3);
  expect(inches(3, curveNumberOf('meadow', 'B'))).toBeCloseTo(0.274, 3);
});

test('the inverse gives the rain back', () => {
  for (const curveNumber of [40, 73, 98]) {
    for (const rain of [0.08, 0.15, 0.3]) {
      const runoff = runoffMeters(rain, curveNumber);
      expect(rainForRunoff(runoff, curveNumber)).toBeCloseTo(rain, 9);
    }
  }
});

test('dual groups count as D unless drained; every row rises from A to D', () => {
  expect(curveNumberOf('woods-fair', 'C/D')).toBe(79);
  expect(curveNumberOf('woods-fair', 'C/D', true)).toBe(73);
  for (const row of Object.values(curveNumbers)) {
    for (let i = 1; i < 4; i++) expect(row[i]!).toBeGreaterThanOrEqual(row[i - 1]!);
  }
});

test('out of range is said with the value', () => {
  expect(() => runoffMeters(-0.01, 70)).toThrow('-0.01');
  expect(() => runoffMeters(Number.NaN, 70)).toThrow(RangeError);
  expect(() => retentionMeters(29)).toThrow('29');
  expect(() => retentionMeters(101)).toThrow('101');
});
