import { describe, expect, it } from 'vitest';
import { bermToHold } from '../../geo/debris/berm-to-hold.ts';
import { debrisPatches } from '../../geo/debris/debris-patches.ts';
import { edgeStretch } from '../../geo/debris/edge-stretch.ts';
import { heapPlaces } from '../../geo/debris/heap-places.ts';
import { longAxis } from '../../geo/debris/long-axis.ts';
import { roundHeap } from '../../geo/debris/round-heap.ts';
import type { WindrowSection } from '../../geo/debris/windrow-sections.ts';
import { isSeen } from '../../geo/ground/line-of-sight.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { lineLength } from '../../geo/plan/line-geometry.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { isInPolygon } from '../../geo/plan/point-in-polygon.ts';
import { makeGrid } from '../../geo/raster/make-grid.ts';
import { seeded } from '../seeded.ts';

const feet = 0.3048;
const yard3 = 0.9144 ** 3;
const drawn: WindrowSection = {
  shape: 'parabola',
  baseWidthMeters: 24 * feet,
  heightMeters: 9 * feet,
};
const field: XY[] = [
  [0, 0],
  [170, 0],
  [170, 74],
  [0, 74],
];

describe('a berm for a volume', () => {
  const rules = { widthMeters: 16 * feet, spacingMeters: 150 * feet, maxHeightMeters: 12 * feet };
  it('holds it, or says what is left over, for any volume and line', () => {
    const random = seeded(5);
    for (let i = 0; i < 300; i++) {
      const cubicMeters = 80 + random() * 5000;
      const fit = bermToHold(drawn, cubicMeters, {
        ...rules,
        maxLengthMeters: 10 + random() * 300,
      });
      if (!fit) continue;
      const all = fit.holdsCubicMeters + fit.leftOverCubicMeters;
      expect(Math.abs(all / cubicMeters - 1)).toBeLessThan(1e-6);
      expect(fit.section.heightMeters).toBeLessThan(12 * feet + 1e-9);
      for (const gap of fit.gaps) expect(gap.widthMeters).toBeCloseTo(16 * feet, 6);
    }
  });
  it('is as long as the notes’ own sum (trade notes §6.6: A’s 2,660 yd³, about 500 ft) and its gaps', () => {
    const fit = bermToHold(drawn, 2660 * yard3, { ...rules, maxLengthMeters: 1000 })!;
    // By hand: n + 1 parts, 144 ft² of section, ends of π × 9 × 24² / 8 ft³ to each part.
    const parts = fit.gaps.length + 1;
    const ends = (Math.PI * 9 * 576) / 8;
    const length = (2660 * 27 - parts * ends) / 144 + parts * 24 + fit.gaps.length * 16;
    expect(fit.lengthMeters / feet).toBeCloseTo(length, 1);
    expect(fit.leftOverCubicMeters).toBeLessThan(1e-6);
  });
});

describe('round heaps', () => {
  it('of the notes: three of 71 × 12 ft for 2,660 yd³, and 40 ft for a tenth of it (§6.6)', () => {
    const each = roundHeap((2660 / 3) * yard3, 12 * feet);
    expect(each.widthMeters / feet).toBeCloseTo(71, 0);
    expect(each.heightMeters / feet).toBeCloseTo(12, 6);
    expect(roundHeap(266 * yard3, 12 * feet).widthMeters / feet).toBeCloseTo(40, 0);
  });
  it('hold what lies there, each near the middle of its own', () => {
    const cut = debrisPatches([{ rings: [[...field, field[0]!]], cubicMeters: 2034 }], 200);
    if (!cut.ok) throw new Error(cut.problem.what);
    const heaps = heapPlaces(cut.value, 12 * feet);
    expect(heaps).toHaveLength(3);
    const sum = heaps.reduce((all, { cubicMeters }) => all + cubicMeters, 0);
    expect(sum).toBeCloseTo(2034, 6);
    // Thirds of the field, by hand.
    const xs = heaps.map(({ at }) => at[0]).sort((a, b) => a - b);
    [28.3, 85, 141.7].forEach((x, i) => expect(Math.abs(xs[i]! - x)).toBeLessThan(8));
    for (const { at } of heaps) expect(isInPolygon(at, [field])).toBe(true);
  });
});

describe('where lines go', () => {
  it('the long axis of a field is its middle line, whichever way it is turned', () => {
    for (let k = 0; k < 12; k++) {
      const turn = (k * Math.PI) / 12;
      const turned = field.map(([x, y]): XY => [
        x * Math.cos(turn) - y * Math.sin(turn),
        x * Math.sin(turn) + y * Math.cos(turn),
      ]);
      const axis = longAxis([turned])!;
      expect(lineLength(axis)).toBeGreaterThan(168.5);
      expect(lineLength(axis)).toBeLessThan(170.1);
      const middle: XY = [(axis[0][0] + axis[1][0]) / 2, (axis[0][1] + axis[1][1]) / 2];
      const expected: XY = [85 * Math.cos(turn) - 37 * Math.sin(turn), 85 * Math.sin(turn) + 37 * Math.cos(turn)]; // prettier-ignore
      expect(Math.hypot(middle[0] - expected[0], middle[1] - expected[1])).toBeLessThan(1);
    }
    expect(longAxis([[[0, 0], [1, 0]]])).toBeNull(); // prettier-ignore
  });
  it('an edge berm keeps off where water comes', () => {
    // Everything drains across the south edge; a side is 170 m long.
    const line = edgeStretch(field, 150, (_, y) => (y < 1 ? 1000 : 0));
    expect(lineLength(line)).toBeCloseTo(150, 6);
    expect(Math.min(...line.map(([, y]) => y))).toBeGreaterThan(1);
    // Nothing known: along one side, without a corner.
    const straight = edgeStretch(field, 150, () => 0);
    expect(new Set(straight.map(([, y]) => Math.round(y * 1e6))).size).toBe(1);
    expect(edgeStretch(field, 1e6, () => 0).length).toBeGreaterThan(4);
  });
});

it('sees over level ground and not through a wall (by hand)', () => {
  const data = new Float32Array(100 * 5).fill(100);
  for (let row = 0; row < 5; row++) data[row * 100 + 50] = 104;
  data[4 * 100 + 90] = NaN;
  const frame = openFrame({ epsg: 26918, name: 'u', datum: 'NAD83', proj: '+proj=utm +zone=18 +datum=NAD83 +units=m +no_defs' }); // prettier-ignore
  const grid = makeGrid({ width: 100, height: 5, west: 0, north: 5, cellWidth: 1, cellHeight: 1 }, data, frame); // prettier-ignore
  const eye = { x: 10.5, y: 2.5, z: 102 };
  expect(isSeen(grid, eye, 45.5, 2.5, 1)).toBe(true);
  expect(isSeen(grid, eye, 80.5, 2.5, 1)).toBe(false);
  // From 110 m the line to 1 m over 90.5 passes the wall at 105.5.
  expect(isSeen(grid, { ...eye, z: 110 }, 90.5, 2.5, 1)).toBe(true);
  expect(isSeen(grid, eye, 90.5, 0.5, 1)).toBe(false);
});
