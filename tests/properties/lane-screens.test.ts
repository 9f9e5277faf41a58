import { expect, test } from 'vitest';
import { laneScreens } from '../../geo/answers/lane-screens.ts';
import { windsServed } from '../../geo/approach/winds-served.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { seenShare } from '../../geo/sight/seen-share.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { gridOf } from '../terrain-grids.ts';

const line: XY[] = [
  [60.5, 5.5],
  [60.5, 195.5],
];
const seenAll = [
  { fromMeters: 60, toMeters: 120, why: 'seen', most: 1, mostAtMeters: 90 },
] as const;
const flat = gridOf({ width: 121, height: 201, west: 0, north: 201 }, () => 8);
const eyeAt = (x: number, y: number) => ({ x, y, eyeMeters: 1, radiusMeters: Infinity });

test('eyes on the left call for a berm on the left, as long as similar triangles say', () => {
  // Eye 50 m off the lane, wall 7 m off it: 60 m × 43/50.
  const watched = { ground: flat, eyes: [eyeAt(10.5, 95.5)], walkerMeters: 1.7 };
  const [screen, ...more] = laneScreens(line, seenAll, watched, 2.7432);
  expect(more).toEqual([]);
  expect(screen).toMatchObject({ side: 'left', hiddenShare: 1, fromMeters: 60, toMeters: 120 });
  expect(Math.abs(screen!.bermMeters - 51.6)).toBeLessThan(1);
  const other = { ...watched, eyes: [eyeAt(110.5, 95.5)] };
  expect(laneScreens(line, seenAll, other, 2.7432)[0]).toMatchObject({ side: 'right' });
});

test('no berm for a stretch that is not in sight, or that it would not hide', () => {
  const watched = { ground: flat, eyes: [eyeAt(10.5, 95.5)], walkerMeters: 1.7 };
  expect(laneScreens(line, [{ ...seenAll[0], why: 'scent' }], watched, 2.7432)).toEqual([]);
  expect(laneScreens(line, seenAll, watched, 1)).toEqual([]);
});

test('a wall set where the screen says hides the stretch, on 30 seeded grounds', () => {
  let tried = 0;
  for (let seed = 1; seed <= 30; seed++) {
    const random = seeded(seed);
    const bumps = Array.from({ length: 4 }, () => [random() * 121, random() * 201, random() - 0.5]);
    const ground = gridOf(
      { width: 121, height: 201, west: 0, north: 201 },
      (x, y) =>
      bumps.reduce((z, [bx, by, h]) => z + 2 * h! * Math.exp(-((x - bx!) ** 2 + (y - by!) ** 2) / 800), 8), // prettier-ignore
    );
    const eyes = [eyeAt(8.5 + Math.floor(random() * 20), 70.5 + Math.floor(random() * 50))];
    const watched = { ground, eyes, walkerMeters: 1.7 };
    const [screen] = laneScreens(line, seenAll, watched, 2.7432);
    if (!screen || screen.hiddenShare < 1) continue;
    tried++;
    // A wall three cells thick along the lane, on the side named.
    const column = screen.side === 'left' ? 53 : 67;
    const screens = Float32Array.from(ground.data, (_, i) => Math.abs((i % 121) - column) <= 1 ? 2.7432 : 0); // prettier-ignore
    const seen = finish(seenShare(ground, [eyes.map((eye) => ({ ...eye, screens }))], 1.7));
    for (let y = 70; y < 120; y += 5) expect(seen[(200 - y) * 121 + 60]).toBe(0);
  }
  expect(tried).toBeGreaterThan(10);
});

test('more scent on a wind never makes a lane serve more winds', () => {
  for (let seed = 1; seed <= 50; seed++) {
    const random = seeded(seed);
    const [a, b] = [random(), random()];
    const airs = [a, Math.min(1, a + b)].map((level) => (_x: number, y: number) => level * (y / 200)); // prettier-ignore
    const [less, more] = windsServed(line, airs, 0.1, 40, 8);
    expect(more!.scentedMeters).toBeGreaterThanOrEqual(less!.scentedMeters);
    expect(Number(more!.isServed)).toBeLessThanOrEqual(Number(less!.isServed));
  }
});
