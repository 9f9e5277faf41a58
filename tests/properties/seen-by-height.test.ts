import { expect, test } from 'vitest';
import { wholeWindow } from '../../geo/raster/cell-window.ts';
import { polygonCoverage } from '../../geo/raster/polygon-coverage.ts';
import { eyeNeeded } from '../../geo/sight/eye-needed.ts';
import { seenByHeight } from '../../geo/sight/seen-by-height.ts';
import { viewshed } from '../../geo/sight/viewshed.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

const needed = (...args: Parameters<typeof eyeNeeded>) => finish(eyeNeeded(...args))!;

test('an eye sees exactly the cells that need no higher one, on 200 grounds', () => {
  let cells = 0;
  let unseen = 0;
  for (let seed = 1; seed <= 200; seed++) {
    const next = seeded(seed);
    const shape = { width: 24, height: 18, cellWidth: 1 + next(), cellHeight: 1 };
    const grid = roughGrid(shape, seed, { noise: 2, holes: seed % 4 === 0 });
    const cell = Math.floor(next() * grid.data.length);
    if (Number.isNaN(grid.data[cell]!)) continue;
    const place = {
      x: grid.west + ((cell % 24) + 0.5) * grid.cellWidth,
      y: grid.north - Math.floor(cell / 24) - 0.5,
      radiusMeters: Infinity,
      screens: seed % 2 === 0 ? grid.data.map(() => (next() < 0.1 ? 2 : 0)) : null,
      earthCurve: seed % 3 === 0 ? 3000 : 0,
    };
    const heights = needed(grid, place, wholeWindow(grid), 0.9).data;
    for (const eyeMeters of [0.5, 2, 5]) {
      const seenFrom = finish(viewshed(grid, { ...place, eyeMeters }))!.data;
      seenFrom.forEach((from, i) => {
        if (Number.isNaN(from) !== Number.isNaN(heights[i]!)) throw new Error(`${seed}, ${i}`);
        // A line that grazes to a hundredth of a millimetre may fall either way.
        if (Math.abs(heights[i]! - eyeMeters) < 1e-5 || Math.abs(from - 0.9) < 1e-5) return;
        cells++;
        if (from > 0.9) unseen++;
        const isSeen = heights[i]! <= eyeMeters;
        if (isSeen !== from <= 0.9) expect({ seed, i, eyeMeters, isSeen }).toBeNull();
      });
    }
  }
  expect(unseen).toBeGreaterThan(10_000);
  expect(cells - unseen).toBeGreaterThan(10_000);
});

test('a wall halfway to flat ground wants an eye of twice its height', () => {
  const flat = gridOf({ width: 41, height: 3 }, () => 7);
  const screens = new Float32Array(flat.data.length);
  for (let row = 0; row < 3; row++) screens[row * 41 + 10] = 3;
  const place = { x: flat.west + 0.5, y: flat.north - 1.5, radiusMeters: 30, screens };
  const { data } = needed(flat, place, wholeWindow(flat), 0);
  expect(data[41 + 20]).toBeCloseTo(6, 6);
  expect(data[41 + 30]).toBeCloseTo(4.5, 6);
  expect(data[41 + 31]).toBe(Infinity);
  expect(data[41 + 10]).toBe(0);
  // A target of 1 m, 20 m off: (3 · 20 - 1 · 10) / 10.
  expect(needed(flat, place, wholeWindow(flat), 1).data[41 + 20]).toBeCloseTo(5, 6);
});

test('the curve over a wall: cells come in one by one, the knee where the rest gains a twentieth at most', () => {
  // Cells 11 to 40 m off behind a wall of 3 m at 10 m: cell n wants 3 n / (n - 10) metres of eye.
  const flat = gridOf({ width: 41, height: 1 }, () => 0);
  const screens = new Float32Array(41);
  screens[10] = 3;
  const place = { x: flat.west + 0.5, y: flat.north - 0.5, radiusMeters: Infinity, screens };
  const field = needed(flat, place, wholeWindow(flat), 0);
  const strip = polygonCoverage(flat, [
    [
      [flat.west + 11, flat.north],
      [flat.west + 41, flat.north],
      [flat.west + 41, flat.north - 1],
      [flat.west + 11, flat.north - 1],
    ],
  ]);
  const floors = Array.from({ length: 10 }, (_, i) => i + 1);
  const curve = seenByHeight(field, strip, floors, 1.2);
  const byHand = floors.map((floor) => {
    let seen = 0;
    for (let n = 11; n <= 40; n++) if ((3 * n) / (n - 10) <= floor + 1.2) seen++;
    return seen / 30;
  });
  expect([...curve.seenShares]).toEqual(byHand.map((share) => expect.closeTo(share, 9)));
  // A twentieth of 30 cells is one and a half: one cell more is little.
  expect(curve.knee).toBe(byHand.findIndex((share) => byHand[9]! - share < 1.5 / 30));
  expect(curve.knee).toBeGreaterThan(0);
  expect(curve.missingShare).toBe(0);
  expect(seenByHeight(field, strip, [12, 20], 40).knee).toBeNull();
  expect(() => seenByHeight(field, strip, [2, 1], 1)).toThrow(RangeError);
});

test('a curve that bends at 68 % and goes on to 87 % has its knee where little is left to gain', () => {
  // Where it bends most is the second floor, 68 %, and twelve feet more show 19 % more of the plot.
  const shares = [40, 68, 70, 73, 75, 78, 81, 84, 87];
  const knee = (percents: readonly number[]) => {
    const data = Float32Array.from({ length: 100 }, (_, i) => {
      const floor = percents.findIndex((percent) => i < percent);
      return floor < 0 ? 1000 : floor + 1;
    });
    const grid = gridOf({ width: 100, height: 1 }, () => 0);
    const { west, north } = grid;
    const strip = polygonCoverage(grid, [
      [
        [west, north],
        [west + 100, north],
        [west + 100, north - 1],
        [west, north - 1],
      ],
    ]);
    const field = { data, window: wholeWindow(grid) };
    const curve = seenByHeight(
      field,
      strip,
      percents.map((_, i) => i + 1),
      0,
    );
    expect([...curve.seenShares]).toEqual(
      percents.map((percent) => expect.closeTo(percent / 100, 9)),
    );
    return curve.knee;
  };
  expect(knee(shares)).toBe(shares.indexOf(84));
  // What is said of it holds on any rising curve: none past it shows more than a twentieth more, all before it do.
  const next = seeded(5);
  for (let k = 0; k < 200; k++) {
    const rising = Array.from({ length: 9 }, () => Math.floor(next() * 101)).sort((a, b) => a - b);
    const at = knee(rising);
    if (at === null) expect(rising[8]! - rising[0]!).toBeLessThan(2);
    else rising.forEach((one, i) => expect(rising[8]! - one <= 5).toBe(i >= at));
  }
});
