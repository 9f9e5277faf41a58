import { describe, expect, test } from 'vitest';
import * as layout from '../../fixtures/generator/layout.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { isInPolygon } from '../../geo/plan/point-in-polygon.ts';
import { sampleBilinear } from '../../geo/raster/sample.ts';
import { setbackChecks } from '../../geo/sight/setbacks.ts';
import { shotRing, type ShotQuestion } from '../../geo/sight/shot-ring.ts';
import { standsInArc } from '../../geo/sight/stands-in-arc.ts';
import { finish } from '../../geo/work.ts';
import { demoTract } from '../demo-tract.ts';
import { gridOf, roughGrid } from '../terrain-grids.ts';

const YARD = 0.9144;
const FOOT = 0.3048;
const square = (side: number): XY[] => [
  [0, 0],
  [side, 0],
  [side, side],
  [0, side],
];

const question: ShotQuestion = {
  stand: [200, 200],
  muzzleMeters: 4.9,
  targetMeters: 0.9,
  rangeMeters: 100,
  backstopMeters: 300,
  tract: [square(400)],
  targets: null,
  keepClear: [],
  directions: 72,
};
const flat = gridOf({ width: 400, height: 400, west: 0, north: 400 }, () => 60);
const ring = (grid = flat, more: Partial<ShotQuestion> = {}) =>
  finish(shotRing(grid, { ...question, ...more }))!;

describe('directions of fire', () => {
  test('level ground: 4 m down in 100 m, so 0.9 m more in 22.5 m', () => {
    for (const way of ring()) {
      expect(way.state).toBe('allowed');
      expect(way.backstopMeters).toBeCloseTo(122.5, 6);
    }
    // With earth asked for within 120 m the target must be nearer: 4.9 : 4 · d, at most 97.96 m.
    const near = ring(flat, { backstopMeters: 120 })[9]!;
    expect(near).toMatchObject({ state: 'blocked', reason: 'no-earth', blockedFromMeters: 98 });
    expect(near.backstopMeters).toBeCloseTo(97.5 * 1.225, 6);
  });

  test('over a brow no earth; up a slope at once; past the line it leaves the tract', () => {
    // East falls away by 10 % from 230 on, west rises by 10 % from 170 on.
    const brow = gridOf({ width: 400, height: 400, west: 0, north: 400 }, (x) =>
      x > 230 ? 60 - 0.1 * (x - 230) : x < 170 ? 60 + 0.1 * (170 - x) : 60,
    );
    const [north, east, , west] = [0, 18, 36, 54].map((i) => ring(brow)[i]!);
    expect(north!.state).toBe('allowed');
    // At 40 m the target stands 1 m lower: the line falls by 5 m in 40 m and gains on the slope.
    // At 100 m: 11 m in 100, 11 % against 10: earth 0.9 m lower after 90 m.
    expect(east!.backstopMeters).toBeCloseTo(190, 6);
    expect(west!.backstopMeters).toBeLessThan(115);
    const steep = gridOf({ width: 400, height: 400, west: 0, north: 400 }, (x) =>
      x > 230 ? 60 - 0.15 * (x - 230) : 60,
    );
    // 30 m on: (4 + 0.15 (d - 30)) / d against 0.15: the line never gains on the slope.
    expect(ring(steep, { backstopMeters: 190 })[18]).toMatchObject({
      state: 'blocked',
      reason: 'no-earth',
    });
    const small = ring(flat, { tract: [square(300)] });
    expect(small[18]).toMatchObject({ state: 'blocked', reason: 'leaves-tract' });
    // The tract ends at 100 m: the shot at 81.6 m strikes there. Read to half a cell, on the safe side.
    expect(small[18]!.blockedFromMeters).toBe(81.5);
    expect(small[54]!.state).toBe('allowed');
  });

  test('what must be kept clear blocks its directions, and where none can be aimed at there is no target', () => {
    const house = { id: 'house', points: [[300, 200] as XY], marginDegrees: 10, withinMeters: 300 };
    const ways = ring(flat, { keepClear: [house] });
    const blocked = ways.filter((way) => way.state === 'blocked').map((way) => way.bearingDegrees);
    expect(blocked).toEqual([80, 85, 90, 95, 100]);
    expect(ways[18]).toMatchObject({ reason: 'keep-clear', about: 'house' });
    expect(ring(flat, { keepClear: [{ ...house, withinMeters: 99 }] })[18]!.state).toBe('allowed');
    const plot: XY[] = [
      [250, 180],
      [290, 180],
      [290, 220],
      [250, 220],
    ];
    const onPlot = ring(flat, { targets: [plot] });
    expect(onPlot[18]!.state).toBe('allowed');
    expect(onPlot[54]!.state).toBe('no-target');
    // A wall of ground before the plot hides it: nothing to aim at.
    const hidden = gridOf({ width: 400, height: 400, west: 0, north: 400 }, (x) =>
      x > 230 && x < 235 ? 75 : 60,
    );
    expect(ring(hidden, { targets: [plot] })[18]!.state).toBe('no-target');
  });

  test('every shot it allows strikes earth in the tract, followed by small steps, on rough ground', () => {
    let shots = 0;
    for (let seed = 1; seed <= 8; seed++) {
      const grid = roughGrid({ width: 300, height: 300, west: 0, north: 300 }, seed, { noise: 0 });
      const tract = [square(260)];
      const stand: XY = [130, 130];
      const muzzle = sampleBilinear(grid, ...stand) + 4.9;
      for (const way of ring(grid, { stand, tract, rangeMeters: 60, backstopMeters: 110 })) {
        if (way.state !== 'allowed') continue;
        const turn = (way.bearingDegrees * Math.PI) / 180;
        const [east, north] = [Math.sin(turn), Math.cos(turn)];
        const heightAt = (d: number) => sampleBilinear(grid, 130 + d * east, 130 + d * north);
        for (let target = 4; target <= 60; target += 7) {
          const aim = (heightAt(target) + 0.9 - muzzle) / target;
          let d = 0;
          while (d < 112 && heightAt(d) <= muzzle + aim * d) d += 0.05;
          if (d < target) continue;
          shots++;
          expect(d).toBeLessThan(111);
          expect(isInPolygon([130 + d * east, 130 + d * north], tract)).toBe(true);
        }
      }
    }
    expect(shots).toBeGreaterThan(300);
  });

  test('no ground under the stand is null; nonsense throws', () => {
    expect(finish(shotRing(flat, { ...question, stand: [-5, 0] }))).toBeNull();
    expect(() => ring(flat, { rangeMeters: 0 })).toThrow(RangeError);
    expect(() => ring(flat, { directions: 3 })).toThrow(RangeError);
  });
});

describe('the demo’s stands, trade notes §6.3', () => {
  const arcs = Object.entries(layout.stands).map(([id, { at, facingDegrees }]) => ({
    id,
    at: at as XY,
    facingDegrees,
    halfArcDegrees: 45,
    rangeMeters: 300 * YARD,
  }));

  test('A1 and A2 in each other’s arc at 202 yd; B1 looks within 10 degrees of A1', () => {
    const found = standsInArc(arcs, YARD).map(({ from, to, unitsAway }) => [from, to, unitsAway]);
    expect(found).toEqual([
      ['A1', 'A2', 202],
      ['A2', 'A1', 202],
      // 209.4 yd, "210" in the notes: shown as if nearer.
      ['B1', 'A1', 209],
    ]);
    expect(standsInArc(arcs, YARD)[2]!.offDegrees).toBeLessThan(10);
    // Looking the other way, B1 comes into A1's arc and the others out of it.
    const turned = arcs.map((s) => ({ ...s, facingDegrees: (s.facingDegrees + 180) % 360 }));
    expect(standsInArc(turned, YARD).map(({ from, to }) => [from, to])).toEqual([['A1', 'B1']]);
    const round = arcs.map((s) => ({ ...s, facingDegrees: null }));
    expect(standsInArc(round, YARD)).toHaveLength(4);
    expect(() => standsInArc([{ ...arcs[0]!, rangeMeters: 0 }], YARD)).toThrow(RangeError);
  });

  test('B1 is 492 ft from the dwelling and 8 ft short of 500; moved it is 505 ft off', () => {
    const dwelling = { kind: 'point', paths: [[layout.dwelling]] } as const;
    const setback = [{ id: 'dwelling', shape: dwelling, requiredMeters: 500 * FOOT }];
    const check = (at: XY) => setbackChecks(at, setback, FOOT)[0]!;
    expect(check(layout.stands.B1.at as XY)).toMatchObject({ unitsAway: 492, unitsShort: 8 });
    expect(check([522.5, 426.5])).toMatchObject({ unitsAway: 505, unitsShort: 0 });
    // To the hair: 500 ft off is 500 ft off, a hand less is a foot short.
    expect(check([655 - 500 * FOOT, 505])).toMatchObject({ unitsAway: 500, unitsShort: 0 });
    expect(check([655 - 499.9 * FOOT, 505])).toMatchObject({ unitsAway: 499, unitsShort: 1 });
    expect(() => setbackChecks([0, 0], setback, 0)).toThrow(RangeError);
    expect(() => setbackChecks([0, 0], [{ ...setback[0]!, requiredMeters: -1 }], FOOT)).toThrow(
      RangeError,
    );
  });

  test('A1 over plot A: blocked towards A2, allowed on to the plot otherwise', () => {
    const stand = layout.stands.A1.at as XY;
    const ways = finish(
      shotRing(demoTract(), {
        ...question,
        stand,
        rangeMeters: 200,
        backstopMeters: 400,
        tract: [layout.parcel],
        targets: [layout.plots.A],
        keepClear: [
          { id: 'A2', points: [layout.stands.A2.at as XY], marginDegrees: 5, withinMeters: 274 },
        ],
        directions: 360,
      }),
    )!;
    const towardsA2 = ways.filter((way) => way.reason === 'keep-clear');
    // A2 bears 234.2 from A1.
    expect(towardsA2.map((way) => way.bearingDegrees)).toEqual([
      230, 231, 232, 233, 234, 235, 236, 237, 238, 239,
    ]);
    const states = (from: number, to: number) =>
      new Set(
        ways.filter((w) => w.bearingDegrees >= from && w.bearingDegrees <= to).map((w) => w.state),
      );
    expect(states(0, 200)).toEqual(new Set(['no-target']));
    // The bench rises to the north-west behind the plot.
    expect(states(275, 280)).toEqual(new Set(['allowed']));
  });
});
