import { describe, expect, test } from 'vitest';
import { leastCost, wayTo, type CostSurface } from '../../geo/approach/least-cost.ts';
import { lineCost, wayCost, type CellPoint } from '../../geo/approach/line-cost.ts';
import { stepColumns, stepRows } from '../../geo/approach/steps.ts';
import { straighten } from '../../geo/approach/straighten.ts';
import { finish } from '../../geo/work.ts';
import { heapDijkstra } from '../oracles/heap-dijkstra.ts';
import { seeded } from '../seeded.ts';

interface Job {
  readonly surface: CostSurface;
  readonly root: number;
  readonly end: number;
  readonly isBarred: (cell: number) => boolean;
}

/** A small field of costs: patches, noise of several orders, walls with gaps, slopes by direction. */
function smallJob(seed: number): Job {
  const next = seeded(seed);
  const width = 1 + Math.floor(next() * 34);
  const height = 1 + Math.floor(next() * 34);
  const cells = width * height;
  const spread = seed % 3 === 0 ? 6 : seed % 3 === 1 ? 1.5 : 0;
  const costs = Float32Array.from({ length: cells }, () => Math.exp(spread * next()));
  for (let i = 0; i < 4; i++) {
    const [c, r, radius] = [next() * width, next() * height, next() * 8];
    const worth = next() < 0.4 ? Infinity : 0.2 + 5 * next();
    for (let cell = 0; cell < cells; cell++) {
      const far = Math.hypot((cell % width) - c, Math.floor(cell / width) - r);
      if (far < radius) costs[cell] = worth === Infinity ? Infinity : costs[cell]! * worth;
    }
  }
  if (seed % 4 === 0) costs.forEach((_, i) => next() < 0.25 && (costs[i] = i % 2 ? NaN : Infinity));
  const size = { width, height, cellWidth: seed % 5 === 0 ? 1.7 : 1, cellHeight: 1 };
  const tilt = [next() - 0.5, next() - 0.5] as const;
  const perMeter =
    seed % 6 === 0
      ? stepColumns.map((c, s) => {
          const up = (c * tilt[0] - stepRows[s]! * tilt[1]) / Math.hypot(c, stepRows[s]!);
          return costs.map((cost) => cost * (1.5 + up));
        })
      : costs;
  return {
    surface: { ...size, perMeter },
    root: Math.floor(next() * cells),
    end: Math.floor(next() * cells),
    isBarred: (cell) => !(costs[cell]! < Infinity),
  };
}

function stepOf(across: number, down: number): number {
  return stepColumns.findIndex((c, s) => c === across && stepRows[s] === down);
}

/** Cost of a cell by direction, as the slow search asks it. */
function costOf({ perMeter }: CostSurface) {
  return (cell: number, across: number, down: number): number =>
    perMeter instanceof Float32Array ? perMeter[cell]! : perMeter[stepOf(across, down)]![cell]!;
}

const centres = (cells: Int32Array, width: number): CellPoint[] =>
  Array.from(cells, (cell) => [(cell % width) + 0.5, Math.floor(cell / width) + 0.5]);

/** Cells that a line is inside of, found by small steps along it. */
function cellsUnder(way: readonly CellPoint[], width: number): Set<number> {
  const found = new Set<number>();
  for (let i = 0; i + 1 < way.length; i++) {
    const [a, b] = [way[i]!, way[i + 1]!];
    const parts = Math.ceil(50 * Math.hypot(b[0] - a[0], b[1] - a[1]));
    for (let k = 0; k <= parts; k++) {
      const x = a[0] + ((b[0] - a[0]) * k) / parts;
      const y = a[1] + ((b[1] - a[1]) * k) / parts;
      // A place on a line between cells is in neither.
      const isOnEdge = [x, y].some((v) => Math.abs(v - Math.round(v)) < 1e-6);
      if (!isOnEdge) found.add(Math.floor(y) * width + Math.floor(x));
    }
  }
  return found;
}

describe('least cost', () => {
  test('never above the plain eight-neighbour way and never through barred cells, 500 seeded', () => {
    let reached = 0;
    let cheaper = 0;
    let shut = 0;
    for (let seed = 1; seed <= 500; seed++) {
      const { surface, root, end, isBarred } = smallJob(seed);
      const { width } = surface;
      const tree = finish(leastCost(surface, root));
      const plain = heapDijkstra(surface, costOf(surface), root);
      const eight = finish(leastCost(surface, root, { neighbours: 8 })).cost;
      for (let cell = 0; cell < plain.length; cell++) {
        // Over eight neighbours the same to the rounding of 32 bits.
        const isSame =
          eight[cell] === plain[cell] || Math.abs(eight[cell]! / plain[cell]! - 1) < 1e-5;
        if (!isSame)
          expect({ seed, cell, cost: eight[cell] }).toEqual({ seed, cell, cost: plain[cell] });
        const ours = tree.cost[cell]!;
        // Where eight neighbours find no way, sixteen find none either: a knight needs open cells.
        const isSound =
          plain[cell] === Infinity ? ours === Infinity : ours <= plain[cell]! * 1.00001;
        if (!isSound) expect({ seed, cell, ours }).toEqual({ seed, cell, ours: plain[cell] });
      }
      const cells = wayTo(tree, end, surface);
      if (plain[end] === Infinity) {
        shut++;
        expect(cells).toHaveLength(0);
        continue;
      }
      reached++;
      expect([cells[0], cells[cells.length - 1]]).toEqual([root, end]);
      const steps = centres(cells, width);
      // The tree's cost is what the line over its cells costs.
      expect(wayCost(surface, steps)).toBeCloseTo(
        tree.cost[end]!,
        -Math.log10(1e-4 * (1 + tree.cost[end]!)),
      );
      const way = straighten(surface, steps);
      expect([way[0], way[way.length - 1]]).toEqual([steps[0], steps[steps.length - 1]]);
      const cost = wayCost(surface, way);
      expect(cost).toBeLessThanOrEqual(wayCost(surface, steps) * (1 + 1e-9));
      if (cost < plain[end]! * 0.99) cheaper++;
      for (const cell of cellsUnder(way, width)) {
        if (isBarred(cell)) expect({ seed, cell }).toBeNull();
      }
    }
    expect(Math.min(reached, shut, cheaper)).toBeGreaterThan(50);
  });

  test('towards the root costs what the walk back from it would in the other direction', () => {
    for (let seed = 6; seed <= 180; seed += 6) {
      const { surface, root, end } = smallJob(seed);
      const there = finish(leastCost(surface, root)).cost[end]!;
      const back = finish(leastCost(surface, end, { towardsRoot: true }));
      if (there === Infinity) expect(back.cost[root]).toBe(Infinity);
      else expect(back.cost[root]! / (there || 1)).toBeCloseTo(there > 0 ? 1 : 0, 4);
      const cells = wayTo(back, root, surface, true);
      if (cells.length > 0) expect([cells[0], cells[cells.length - 1]]).toEqual([root, end]);
    }
  });

  test('on uniform cost one straight line, cost times distance', () => {
    // Before it is straightened a way is too long by the cosine of half the angle between two steps:
    // 26.6° on square cells, 45° on cells twice as high as wide.
    const tooLong = { 1: 1 / Math.cos(0.4637 / 2), 2: 1 / Math.cos(Math.PI / 8) } as const;
    for (const cellHeight of [1, 2] as const) {
      const perMeter = new Float32Array(90 * 70).fill(3);
      const surface = { width: 90, height: 70, cellWidth: 1, cellHeight, perMeter };
      const tree = finish(leastCost(surface, 20 * 90 + 5));
      for (const end of [6299, 0, 89, 33 * 90 + 71, 20 * 90 + 60]) {
        const [c, r] = [end % 90, Math.floor(end / 90)];
        const straight = 3 * Math.hypot(c - 5, cellHeight * (r - 20));
        const way = straighten(surface, centres(wayTo(tree, end, surface), 90));
        expect(way).toHaveLength(2);
        expect(wayCost(surface, way)).toBeCloseTo(straight, 6);
        expect(tree.cost[end]! / straight).toBeLessThan(tooLong[cellHeight] + 1e-4);
      }
    }
  });

  test('round a wall it goes by the wall’s end, as a taut string', () => {
    const [width, height] = [60, 40];
    const perMeter = new Float32Array(width * height).fill(1);
    for (let row = 0; row < 30; row++) perMeter[row * width + 30] = Infinity;
    const surface = { width, height, cellWidth: 1, cellHeight: 1, perMeter };
    const [a, b] = [10 * width + 5, 10 * width + 55];
    const tree = finish(leastCost(surface, a));
    const way = straighten(surface, centres(wayTo(tree, b, surface), width));
    // By the two corners of the wall's end: 24.5 across and 19.5 down, 1 across, and back up.
    const taut = 2 * Math.hypot(24.5, 19.5) + 1;
    expect(wayCost(surface, way) / taut).toBeLessThan(1.02);
    expect(wayCost(surface, way)).toBeGreaterThanOrEqual(taut - 1e-6);
    expect(way.length).toBeLessThan(9);
  });

  test('a line between two barred cells at their corner is none; beside one it is', () => {
    const I = Infinity;
    const shut = {
      width: 2,
      height: 2,
      cellWidth: 1,
      cellHeight: 1,
      perMeter: Float32Array.of(1, I, I, 1),
    };
    expect(lineCost(shut, [0.5, 0.5], [1.5, 1.5])).toBe(Infinity);
    const open = { ...shut, perMeter: Float32Array.of(1, I, 1, 1) };
    expect(lineCost(open, [0.5, 0.5], [1.5, 1.5])).toBeCloseTo(Math.SQRT2, 9);
    expect(finish(leastCost(shut, 0)).cost[3]).toBe(Infinity);
    expect(finish(leastCost(open, 0)).cost[3]).toBeCloseTo(Math.SQRT2, 5);
  });

  test('stopped once asked cells are known, their costs are those of the whole search', () => {
    const { surface } = smallJob(7);
    const wide = {
      ...surface,
      width: 400,
      height: 400,
      perMeter: new Float32Array(160_000).fill(1),
    };
    const ends = [3 * 400 + 30, 60];
    const part = finish(leastCost(wide, 0, { until: ends }));
    const whole = finish(leastCost(wide, 0));
    for (const end of ends) expect(part.cost[end]).toBe(whole.cost[end]);
    expect(part.cost[159_999]).toBe(Infinity);
  });

  test('nonsense throws; a barred root reaches nothing', () => {
    const place = { width: 3, height: 1, cellWidth: 1, cellHeight: 1 };
    const run = (costs: number[], root = 0) =>
      finish(leastCost({ ...place, perMeter: Float32Array.from(costs) }, root));
    expect(() => run([1, 0, 1])).toThrow(RangeError);
    expect(() => run([1, 1])).toThrow(RangeError);
    expect(() => run([1, 1, 1], 3)).toThrow(RangeError);
    expect([...run([Infinity, 1, 1]).cost]).toEqual([Infinity, Infinity, Infinity]);
    expect([...run([Infinity, NaN, Infinity]).cost]).toEqual([Infinity, Infinity, Infinity]);
  });
});
