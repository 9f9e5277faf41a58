import { describe, expect, test } from 'vitest';
import { defaultLaneWeights, laneGround } from '../../geo/approach/lane-ground.ts';
import { laneQuality } from '../../geo/approach/lane-quality.ts';
import {
  areOtherPlaces,
  bestSites,
  siteBand,
  type SiteChoice,
  type SitingJob,
} from '../../geo/approach/siting.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { cellAt } from '../../geo/raster/sample.ts';
import { viewshed } from '../../geo/sight/viewshed.ts';
import { finish } from '../../geo/work.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

const plot: XY[] = [
  [80, 80],
  [120, 80],
  [120, 128],
  [80, 128],
];
const flat = gridOf({ width: 200, height: 200, west: 0, north: 200 }, () => 5);
const job: SitingJob = {
  ground: flat,
  plot: [plot],
  nearMeters: 2,
  farMeters: 22,
  stepMeters: 4,
  eyeMeters: 4,
  targetMeters: 0.9,
  rangeMeters: 274,
  isAllowed: () => true,
  hoursShareAt: () => 0.5,
  laneQualityAt: () => 0.8,
};
const isOther = (a: XY, b: XY) => Math.hypot(a[0] - b[0], a[1] - b[1]) >= 40;
const choice: SiteChoice = {
  apartMeters: 40,
  count: 3,
  standing: [],
  isClear: () => true,
  isOther,
};
const site = (more: Partial<SitingJob> = {}, some: Partial<SiteChoice> = {}) => {
  const band = finish(siteBand({ ...job, ...more }));
  return { ...band, best: bestSites(band, { ...choice, ...some }) };
};

/** Distance outside a rectangle, by its sides. */
function outside([x, y]: XY): number {
  return Math.hypot(Math.max(80 - x, 0, x - 120), Math.max(80 - y, 0, y - 128));
}

describe('siting', () => {
  test('level ground: the band is 2 to 22 m round the plot, all of it seen, scores are the product', () => {
    const { width, height, west, north, cellMeters, parts, score, best } = site();
    for (let i = 0; i < width * height; i++) {
      const x = west + ((i % width) + 0.5) * cellMeters;
      const y = north - (Math.floor(i / width) + 0.5) * cellMeters;
      const far = outside([x, y]);
      const isIn = far >= 2 && far <= 22;
      expect(Number.isNaN(score[i]!)).toBe(!isIn);
      if (!isIn) continue;
      expect([parts.seen[i], parts.hours[i]]).toEqual([1, 0.5]);
      expect(score[i]).toBeCloseTo(0.4, 6);
    }
    expect(best).toHaveLength(3);
    for (const a of best) {
      for (const b of best) {
        if (a !== b)
          expect(Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1])).toBeGreaterThanOrEqual(40);
      }
    }
    // Nothing to choose between: the northernmost, then the westernmost.
    expect(best[0]!.at[1]).toBeGreaterThan(140);
  });

  test('share seen in range is what a viewshed from there sees of the same places', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const ground = roughGrid({ width: 200, height: 200, west: 0, north: 200 }, seed, {
        noise: 1,
      });
      const { width, west, north, cellMeters, parts } = site({ ground, rangeMeters: 60 });
      const places: XY[] = [];
      for (let y = 126; y > 80; y -= 4) for (let x = 82; x < 120; x += 4) places.push([x, y]);
      let partly = 0;
      for (let i = 0; i < parts.seen.length; i += 7) {
        if (Number.isNaN(parts.seen[i]!)) continue;
        const x = west + ((i % width) + 0.5) * cellMeters;
        const y = north - (Math.floor(i / width) + 0.5) * cellMeters;
        const field = finish(viewshed(ground, { x, y, eyeMeters: 4, radiusMeters: 60 }))!;
        const { window: w } = field;
        const seen = places.filter((place) => {
          const cell = cellAt(ground, ...place);
          const [c, r] = [(cell % 200) - w.column, Math.floor(cell / 200) - w.row];
          const isIn = c >= 0 && r >= 0 && c < w.width && r < w.height;
          return isIn && field.data[r * w.width + c]! <= 0.9;
        });
        expect(Math.abs(parts.seen[i]! - seen.length / places.length)).toBeLessThan(0.009);
        if (seen.length > 0 && seen.length < places.length) partly++;
      }
      expect(partly).toBeGreaterThan(3);
    }
  });

  test('the best places: where each part is good, and which part is the weak one', () => {
    // Hours are good in the east, the way in is good in the south.
    const hoursShareAt = (x: number) => (x - 50) / 100;
    const laneQualityAt = (_: number, y: number) => (160 - y) / 110;
    const { best, score } = site({ hoursShareAt, laneQualityAt });
    expect(best[0]!.at[0]).toBeGreaterThan(115);
    expect(best[0]!.at[1]).toBeLessThan(85);
    expect(best[0]!.score).toBe(Math.max(...score.filter((s) => s === s)));
    expect(best.map((pick) => pick.score)).toEqual(best.map((p) => p.score).sort((a, b) => b - a));
    // All see all of the plot, so nobody is worse in that.
    expect([best[0]!.betterThan.seen, best[0]!.worseThan.seen]).toEqual([0, 0]);
    expect(best[0]!.betterThan.hours).toBeGreaterThan(0.7);
  });

  test('weak is what most places are better in; those alike count on neither side', () => {
    // Nothing to choose between: nobody is better in anything.
    expect(site().best.map(({ weakest }) => weakest)).toEqual([null, null, null]);
    const hoursShareAt = (x: number) => (x - 50) / 100;
    const laneQualityAt = (_: number, y: number) => (160 - y) / 110;
    const { best, parts } = site({ hoursShareAt, laneQualityAt }, { count: 12 });
    const weak = new Set<string | null>();
    for (const pick of best) {
      // By counting them one by one.
      const better = (['hours', 'seen', 'lane'] as const).map((part) => {
        const all = parts[part].filter((one) => one === one);
        const own = pick.parts[part];
        const [above, below] = [all.filter((one) => one > own), all.filter((one) => one < own)];
        expect(pick.worseThan[part]).toBeCloseTo(above.length / all.length, 12);
        expect(pick.betterThan[part]).toBeCloseTo(below.length / all.length, 12);
        return { part, above: above.length, isWeak: above.length > below.length };
      });
      const weakest = better.filter((one) => one.isWeak).sort((a, b) => b.above - a.above)[0];
      expect(pick.weakest).toBe(weakest?.part ?? null);
      weak.add(pick.weakest);
    }
    expect(weak.has('hours') || weak.has('lane')).toBe(true);
    expect(weak.has('seen')).toBe(false);
  });

  test('two places are two where they lie far apart, or nearer on other sides of the plot', () => {
    const apart = { meters: 68.58, otherSideMeters: 40, otherSideDegrees: 90 };
    const at = (degrees: number, meters: number): XY => [100 + meters * Math.sin((degrees * Math.PI) / 180), 104 + meters * Math.cos((degrees * Math.PI) / 180)]; // prettier-ignore
    const are = (a: XY, b: XY) => areOtherPlaces(a, b, [100, 104], apart) && areOtherPlaces(b, a, [100, 104], apart); // prettier-ignore
    // Chords of a circle of 34 m: 2 × 34 × sin of half the turn.
    expect(are(at(300, 34), at(32, 34))).toBe(true); // 48.9 m, 92°
    expect(are(at(300, 34), at(20, 34))).toBe(false); // 43.7 m, 80°
    expect(are(at(0, 20), at(120, 20))).toBe(false); // 34.6 m
    expect(are(at(0, 60), at(60, 60))).toBe(false); // 60 m, 60°
    expect(are(at(0, 70), at(60, 70))).toBe(true); // 70 m
  });

  test('places keep off what stands already, and what is not clear comes after all that is', () => {
    // Good in the east; a stand is drawn in the middle of that side.
    const hoursShareAt = (x: number) => (x - 50) / 100;
    const free = site({ hoursShareAt });
    const standing = [free.best[0]!.at];
    const off = site({ hoursShareAt }, { standing });
    expect(off.best).toHaveLength(3);
    for (const { at } of off.best) {
      expect(Math.hypot(at[0] - standing[0]![0], at[1] - standing[0]![1])).toBeGreaterThanOrEqual(40); // prettier-ignore
    }
    expect(off.score).toEqual(free.score);
    // Only the worse half is clear: all of that which is far enough apart comes first.
    const isClear = ([x]: XY) => x < 70;
    const turned = site({ hoursShareAt }, { isClear, count: 6 }).best;
    const clear = turned.map(({ at }) => isClear(at));
    expect(clear.indexOf(false)).toBeGreaterThan(0);
    expect(clear.slice(clear.indexOf(false)).every((one) => !one)).toBe(true);
    expect(turned[0]!.score).toBeLessThan(free.best[0]!.score);
    expect(() => site({}, { count: 0 })).toThrow(RangeError);
    expect(() => site({}, { apartMeters: -1 })).toThrow(RangeError);
  });

  test('what is not allowed is no place; where nothing works there is none', () => {
    const isAllowed = (x: number) => x < 100;
    const { best, score } = site({ isAllowed });
    expect(best.every((pick) => pick.at[0] < 100)).toBe(true);
    expect(score.filter((s) => s === s).length).toBeGreaterThan(50);
    expect(site({ hoursShareAt: () => 0 }).best).toEqual([]);
    expect(site({ laneQualityAt: () => NaN }).best).toEqual([]);
    expect(() => site({ farMeters: 1 })).toThrow(RangeError);
    expect(() =>
      site({
        plot: [
          [
            [1, 1],
            [1.5, 1],
            [1, 1.5],
          ],
        ],
      }),
    ).toThrow(RangeError);
  });
});

test('how little a walk gives away: a half where it costs twice, 0 where no way leads', () => {
  const barred = new Uint8Array(flat.data.length);
  for (let row = 0; row < 200; row++) barred.fill(1, row * 200 + 150, row * 200 + 160);
  const layers = { barred, path: null, seen: null, wet: null };
  const ground = laneGround(flat, layers, { ...defaultLaneWeights, scent: 20 });
  const cells = ground.width * ground.height;
  const none = finish(laneQuality(ground, new Float32Array(cells), [[10, 10]]));
  const half = finish(laneQuality(ground, new Float32Array(cells).fill(0.5), [[10, 10]]));
  const access = Math.floor(190 / 3) * ground.width + 3;
  for (let i = 0; i < cells; i++) {
    const x = ((i % ground.width) + 0.5) * 3;
    // Beyond the barred strip no way leads; at the access point itself there is no walk.
    const [open, exposed] = x > 149 ? [0, 0] : i === access ? [1, 1] : [1, 1 / 11];
    expect(none[i]).toBeCloseTo(open, 4);
    expect(half[i]).toBeCloseTo(exposed, 4);
  }
  // Two access points: the better of the two.
  const both = finish(
    laneQuality(ground, new Float32Array(cells), [
      [10, 10],
      [190, 10],
    ]),
  );
  expect(both[50 * ground.width + 60]).toBeCloseTo(1, 4);
  expect(() => finish(laneQuality(ground, new Float32Array(cells), []))).toThrow(RangeError);
});
