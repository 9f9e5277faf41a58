import { expect, test } from 'vitest';
import { placeAt } from '../../geo/plan/line-geometry.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { cellAt } from '../../geo/raster/sample.ts';
import { screenLength, type ScreenQuestion } from '../../geo/sight/screen-length.ts';
import { viewshed } from '../../geo/sight/viewshed.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

const flat = gridOf({ width: 121, height: 101, west: 0, north: 101 }, () => 8);
const walk: XY[] = Array.from({ length: 21 }, (_, i) => [110.5, 30.5 + 2 * i]);
const question: ScreenQuestion = {
  eyes: [{ x: 10.5, y: 50.5, eyeMeters: 1, radiusMeters: Infinity }],
  stations: walk,
  walkerMeters: 1.7,
  line: [
    [60.5, 100],
    [60.5, 1],
  ],
  wallMeters: 1.5,
};

test('halfway to a walk of 40 m the wall is 20 m long', () => {
  // By similar triangles; the line from 1 m to 1.7 m is 1.35 m up halfway.
  const screen = screenLength(flat, question);
  expect(screen).toMatchObject({ open: 21, cut: 21, over: 0, higherMeters: null });
  expect(screen.to! - screen.from!).toBeCloseTo(20, 9);
  expect(screen.from).toBeCloseTo(39.5, 9);
  expect(screen.hidden.every(Boolean)).toBe(true);
  const low = screenLength(flat, { ...question, wallMeters: 1.3 });
  expect(low).toMatchObject({ open: 21, cut: 0, over: 21, from: null, to: null });
  expect(low.higherMeters).toBeCloseTo(1.35, 6);
  expect(low.hidden.some(Boolean)).toBe(false);
});

test('a line that some sight lines miss hides only what is behind it', () => {
  const short: XY[] = [
    [60.5, 50.5],
    [60.5, 1],
  ];
  const screen = screenLength(flat, { ...question, line: short });
  expect(screen.cut).toBe(11);
  expect(screen.hidden).toEqual(walk.map(([, y]) => y <= 50.5));
  const two = { ...question.eyes[0]!, y: 90.5 };
  const both = screenLength(flat, { ...question, line: short, eyes: [...question.eyes, two] });
  expect(both.open).toBe(42);
  // From further north some lines pass the wall's north end.
  expect(both.hidden.filter(Boolean).length).toBeLessThan(11);
});

test('once the run stands on the ground, no station called hidden is in sight, 150 grounds', () => {
  let hidden = 0;
  let left = 0;
  for (let seed = 1; seed <= 150; seed++) {
    const next = seeded(seed);
    const grid = roughGrid({ width: 70, height: 60, west: 0, north: 60 }, seed, { noise: 0.1 });
    const line: XY[] = [
      [30 + 6 * next(), 2],
      [30 + 6 * next(), 25],
      [30 + 6 * next(), 58],
    ];
    const stations: XY[] = Array.from({ length: 12 }, (_, i) => [60.5, 20.5 + i]);
    const eyes = [1, 2].map(() => ({
      x: 2 + 10 * next(),
      y: 15 + 30 * next(),
      eyeMeters: 1,
      radiusMeters: Infinity,
    }));
    const wallMeters = 3;
    const screen = screenLength(grid, { eyes, stations, walkerMeters: 1.7, line, wallMeters });
    if (screen.from === null) continue;
    // The wall as a screen on every cell within 1.5 m of its run, a shade higher for the slope there.
    const screens = new Float32Array(grid.data.length);
    for (let s = screen.from - 1.5; s <= screen.to! + 1.5; s += 0.2) {
      const { at } = placeAt(line, s);
      for (const [dx, dy] of [
        [0, 0],
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        const cell = cellAt(grid, at[0] + dx, at[1] + dy);
        if (cell >= 0) screens[cell] = wallMeters + 0.3;
      }
    }
    for (const eye of eyes) {
      const seenFrom = finish(viewshed(grid, { ...eye, screens }))!.data;
      stations.forEach(([x, y], i) => {
        const from = seenFrom[cellAt(grid, x, y)]!;
        if (!screen.hidden[i]) left++;
        else if (from > 1.7) hidden++;
        else expect({ seed, i, from }).toBeNull();
      });
    }
  }
  expect(Math.min(hidden, left)).toBeGreaterThan(300);
});

test('nonsense throws', () => {
  expect(() => screenLength(flat, { ...question, line: [[1, 1]] })).toThrow(RangeError);
  expect(() => screenLength(flat, { ...question, wallMeters: 0 })).toThrow(RangeError);
});
