import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canopyTally } from '../../geo/debris/canopy-tally.ts';
import { canopyHeights, canopyTrees, crownWidth } from '../../geo/debris/canopy-trees.ts';
import { diameterOfHeight, heightOfDiameter } from '../../geo/debris/height-diameter.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { finish } from '../../geo/work.ts';
import { frame } from '../construct-rig.ts';
import { problemOf, valueOf } from '../result-value.ts';
import { seeded } from '../seeded.ts';

interface Cone {
  readonly x: number;
  readonly y: number;
  readonly height: number;
}
const SIDE = 60;

function gridOf(cell: number, at: (x: number, y: number) => number) {
  const width = SIDE / cell;
  const place = { width, height: width, west: 500_000, north: 4_000_000 + SIDE, cellWidth: cell, cellHeight: cell }; // prettier-ignore
  const data = Float32Array.from({ length: width * width }, (_, i) =>
    at(((i % width) + 0.5) * cell, SIDE - (Math.floor(i / width) + 0.5) * cell),
  );
  return makeGrid(place, data, frame);
}

/** Cones as wide as crowns of their height are said to be. */
function canopyOf(cones: readonly Cone[], x: number, y: number): number {
  return cones.reduce((most, cone) => {
    const share = Math.hypot(x - cone.x, y - cone.y) / (crownWidth('mixed', cone.height) / 2);
    return share < 1 ? Math.max(most, cone.height * (1 - 0.6 * share)) : most;
  }, 0);
}

/** As many as find room with their crowns apart. */
function planted(seed: number): Cone[] {
  const next = seeded(seed);
  const cones: Cone[] = [];
  for (let tries = 0; tries < 150; tries++) {
    const cone = { x: 5 + 50 * next(), y: 5 + 50 * next(), height: 4 + 24 * next() };
    const isApart = cones.every(
      (other) =>
        Math.hypot(cone.x - other.x, cone.y - other.y) >
        (crownWidth('mixed', cone.height) + crownWidth('mixed', other.height)) / 2 + 0.8,
    );
    if (isApart) cones.push(cone);
  }
  return cones;
}

describe('tree tops', () => {
  test('planted cones with their crowns apart, on a slope: each found once, in place, as high', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e6 }), fc.constantFrom(0.4, 0.5), (seed, cell) => {
        const cones = planted(seed);
        const slope = (x: number, y: number) => 200 + 0.2 * x - 0.1 * y;
        const ground = gridOf(1, slope);
        const surface = gridOf(cell, (x, y) => slope(x, y) + canopyOf(cones, x, y));
        const trees = finish(canopyTrees(surface, finish(canopyHeights(surface, ground))));
        expect(trees).toHaveLength(cones.length);
        for (const cone of cones) {
          const near = trees.filter(({ x, y }) => Math.hypot(x - 500_000 - cone.x, y - 4_000_000 - cone.y) < cell); // prettier-ignore
          expect(near).toHaveLength(1);
          const side = (0.6 * cone.height) / (crownWidth('mixed', cone.height) / 2);
          expect(Math.abs(near[0]!.heightMeters - cone.height)).toBeLessThan(side * cell + 0.01);
        }
      }),
      { seed: 20_261_134, numRuns: 8 },
    );
  });

  test('a lower top within half a crown is not a tree; brush, holes and wires are none; a flat top is one', () => {
    const top = (x: number, y: number, at: Cone) => (Math.hypot(x - at.x, y - at.y) < 0.3 ? at.height : 0); // prettier-ignore
    const count = (at: (x: number, y: number) => number) => {
      const grid = gridOf(0.5, at);
      return finish(canopyTrees(grid, grid.data)).length;
    };
    const tall = { x: 30.25, y: 30.25, height: 20 };
    // Half a crown of 19 m is 2.9 m.
    const beside = (meters: number) => ({ x: 30.25 + meters, y: 30.25, height: 19 });
    expect(count((x, y) => Math.max(top(x, y, tall), top(x, y, beside(2.5))))).toBe(1);
    expect(count((x, y) => Math.max(top(x, y, tall), top(x, y, beside(3.5))))).toBe(2);
    expect(count(() => 1.5)).toBe(0);
    expect(count(() => NaN)).toBe(0);
    expect(count((x, y) => top(x, y, { ...tall, height: 500 }))).toBe(0);
    expect(count((x, y) => (x < 30 ? NaN : top(x, y, tall)))).toBe(1);
    expect(count((x, y) => (Math.hypot(x - 30, y - 30) < 2 ? 15 : 0))).toBe(1);
    const grid = gridOf(1, () => 0);
    expect(() => finish(canopyTrees(grid, new Float32Array(3)))).toThrow(RangeError);
  });

  test('crowns by Popescu & Wynne 2004, at 20 m', () => {
    expect(crownWidth('mixed', 20)).toBeCloseTo(2.51503 + 0.00901 * 400, 12);
    expect(crownWidth('hardwood', 20)).toBeCloseTo(6.676, 3);
    expect(crownWidth('pine', 20)).toBeCloseTo(5.131, 3);
  });
});

describe('heights to diameters (US Forest Service curves)', () => {
  test('by hand: 11 in of oak, 4.5 + 170.13 exp(−3.278 × 11^−0.4874) = 66 ft; and back', () => {
    const feet = 4.5 + 170.1330787 * Math.exp(-3.27815866 * 11 ** -0.48744214);
    expect(feet).toBeCloseTo(65.9, 1);
    const oak = 'hard-maple-oak-hickory-beech';
    expect(heightOfDiameter(oak, 11 * 0.0254)).toBeCloseTo(feet * 0.3048, 9);
    const groups = [oak, 'pine', 'cedar-larch', 'spruce', 'soft-maple-birch', 'mixed-hardwood', 'douglas-fir', 'true-fir-hemlock', 'aspen-alder-cottonwood-willow', 'juniper-oak-mesquite'] as const; // prettier-ignore
    for (const group of groups) {
      for (const diameter of [0.02, 0.05, 0.0762, 0.15, 0.3, 0.6]) {
        const back = valueOf(diameterOfHeight(group, heightOfDiameter(group, diameter)));
        expect(back).toBeCloseTo(diameter, 9);
      }
      expect(valueOf(diameterOfHeight(group, 1))).toBeNull();
    }
    expect(valueOf(diameterOfHeight(oak, 60))).toBeNull();
    for (const value of [NaN, -1, 200]) {
      expect(problemOf(diameterOfHeight(oak, value))).toBe('number-out-of-range');
    }
    for (const value of [NaN, 0]) expect(() => heightOfDiameter(oak, value)).toThrow(RangeError);
  });

  test('a tally to start from: stems a hectare by classes, diameters about what the heights say', () => {
    const trees = Array.from({ length: 50 }, (_, i) => ({ x: i, y: 0, heightMeters: i < 40 ? 20 : 8 })); // prettier-ignore
    const rows = valueOf(canopyTally(trees, 4000, 'hard-maple-oak-hickory-beech'));
    expect(rows.map((row) => [row.fromMeters, row.toMeters, row.stemsPerHectare])).toEqual([[6, 9, 25], [18, 21, 100]]); // prettier-ignore
    const { low, likely, high } = rows[1]!.suggestedDiameterMeters!;
    expect(likely).toBeCloseTo(0.278, 2);
    expect(low).toBeLessThan(likely);
    expect(high).toBeGreaterThan(likely);
    expect(problemOf(canopyTally([], 4000, 'pine'))).toBe('canopy-without-trees');
    expect(problemOf(canopyTally(trees, 0, 'pine'))).toBe('number-out-of-range');
    expect(problemOf(canopyTally([{ x: 0, y: 0, heightMeters: NaN }], 9, 'pine'))).toBe('number-out-of-range'); // prettier-ignore
  });
});
